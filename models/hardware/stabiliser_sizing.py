"""From a wanted rate of a stabiliser bar to the standard sections that give it on the same centre line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import nan

from models.hardware.sizing import Size, Sizes, drawn, ranked, too_much
from models.hardware.stabiliser_bar import StabiliserBar
from models.hardware.stabiliser_beam import StabiliserBeam, stabiliser_beam
from models.hardware.standard_sizes import HOLLOW_RATIOS, ROUND_BARS

__all__ = ["StabiliserWish", "stabiliser_sizes"]

# The rate of a section is foreseen to some per cent before its beams are solved.
_FORESEEN = 0.1


@dataclass(frozen=True, slots=True)
class StabiliserWish:
    """What a stabiliser bar has to do.

    Attributes:
        rate: bar rate, N·m/rad; it cannot be met exactly by a section alone.
        tolerance: by which it may be missed, relative.
        travel: of each wheel, one up, the other down, at which stress is looked at, m.
        stress_limit: von Mises, Pa; None takes the limit of the material.
    """

    rate: float
    tolerance: float
    travel: float
    stress_limit: float | None = None


def stabiliser_sizes(
    like: StabiliserBar,
    wish: StabiliserWish,
    life: Callable[[StabiliserBar], float] | None = None,
    diameters: Sequence[float] = ROUND_BARS,
    bores: Sequence[float] = HOLLOW_RATIOS,
) -> Sizes[StabiliserBar]:
    """Standard sections.

    Args:
        like: bar whose centre line, material, bushes and links the sizes take.
        wish: what is wanted.
        life: life of a bar, for the table.
        diameters: those tried, m.
        bores: bore per diameter of those tried.
    """
    limit = like.material.bending_limit if wish.stress_limit is None else wish.stress_limit
    near = _FORESEEN + wish.tolerance
    here = stabiliser_beam(like)
    beams = [
        stabiliser_beam(like.model_copy(update={"diameter": diameter, "bore": bore}))
        for share in bores
        for diameter in diameters
        if abs(_foreseen(here, diameter, bore := drawn(share * diameter)) / wish.rate - 1) <= near
    ]
    right = [beam for beam in beams if abs(beam.bar_rate / wish.rate - 1) <= wish.tolerance]
    if not right:
        return Sizes(
            (),
            f"no standard section on this centre line comes within {100 * wish.tolerance:.3g} % of the rate; "
            "a longer or shorter lever, or bushes further apart, shift it",
        )
    sizes = [_size(beam, wish, life) for beam in right]
    fit = [size for size in sizes if size.stress <= limit]
    if not fit:
        return Sizes((), too_much(min(size.stress for size in sizes), limit))
    return Sizes(ranked(fit))


def _foreseen(here: StabiliserBeam, diameter: float, bore: float) -> float:
    """Bar rate of another section: bushes and links give as before, the bar by its second moment of area."""
    give = here.bush_share + here.link_share
    stiffer = (diameter**4 - bore**4) / (here.bar.diameter**4 - here.bar.bore**4)
    return here.bar_rate / (give + (1 - give) / stiffer)


def _size(
    beam: StabiliserBeam, wish: StabiliserWish, life: Callable[[StabiliserBar], float] | None
) -> Size[StabiliserBar]:
    return Size(
        part=beam.bar,
        rate=beam.bar_rate,
        stress=float(beam.stress.von_mises.max()) * wish.travel,
        mass=beam.mass,
        length=beam.length,
        life=life(beam.bar) if life else nan,
    )
