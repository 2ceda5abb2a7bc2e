"""Life of a part over the road mix, in distance driven."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError
from models.hardware.cycles import Cycles, together
from models.hardware.fatigue import damage, in_stress_of, life_factor, stress_margin
from models.hardware.life_target import LifeTarget
from models.hardware.sn_curve import SNCurve, StressType
from models.judge.figure import Figure
from models.judge.road_loads import RoadLoads

__all__ = ["Life", "RoadDamage", "StressedPart", "fatigue_figures", "life"]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class StressedPart:
    """A part whose stress follows the force of an element of the car.

    Attributes:
        name: for a reader.
        element: name of the element, as in :func:`models.judge.road_loads.loaded_elements`.
        stress_per_force: greatest nominal stress per force of the element: Pa per N, N·m or Pa.
        stress: whether it is shear (bars, coils) or normal stress (leaves; von Mises of a stabiliser bar).
    """

    name: str
    element: str
    stress_per_force: float
    stress: StressType = "shear"


@dataclass(frozen=True, slots=True, eq=False)
class RoadDamage:
    """One road in the life of a part.

    Attributes:
        name: of the road.
        share: of the distance, 0 to 1.
        damage: Miner's sum per metre of the whole mix, 1/m.
        cycles: of stress, per metre of the whole mix.
    """

    name: str
    share: float
    damage: float
    cycles: Cycles


@dataclass(frozen=True, slots=True, eq=False)
class Life:
    """What a part bears of the mix.

    Attributes:
        part, line, target: what was asked.
        roads: one by one.
        cycles: of stress on all roads, per metre.
        damage: Miner's sum per metre, 1/m, on the S–N line as it is given.
        spread: standard error of the damage for the random roads driven no longer than they were, relative.
        median, distance: life of half of the parts, and of as many as the target says, m.
        margin: factor on all stress until ``distance`` is the target.
        peak, most_range: greatest stress and greatest range on any road, Pa.
    """

    part: StressedPart
    line: SNCurve
    target: LifeTarget
    roads: tuple[RoadDamage, ...]
    cycles: Cycles
    damage: float
    spread: float
    median: float
    distance: float
    margin: float
    peak: float
    most_range: float

    @property
    def shares(self) -> Array:
        """(roads,) of the damage, adding up to 1; 0 each without damage."""
        each = np.array([road.damage for road in self.roads])
        return each / self.damage if self.damage > 0 else np.zeros(len(each))

    @property
    def life_on_the_line(self) -> float:
        """Life of as many parts as the S–N line says, m."""
        return 1 / self.damage if self.damage > 0 else inf


def life(
    loads: Sequence[RoadLoads], part: StressedPart, line: SNCurve, target: LifeTarget | None = None
) -> Life:
    """Life of a part.

    Args:
        loads: of the mix, from :func:`models.judge.road_loads.road_loads`.
        part: where its stress comes from.
        line: S–N line and rules.
        target: distance and reliability asked for.

    Raises:
        InputError: the loads have no such element.
    """
    target = target or LifeTarget()
    for road in loads:
        if part.element not in road.passes[0]:
            raise InputError.of("element", part.element, f"no '{part.element}' carries load in this car")
    scale = part.stress_per_force * in_stress_of(line, part.stress)
    roads, variance = [], 0.0
    for road in loads:
        per_metre = road.share / (road.distance * len(road.passes))
        passes = [one[part.element].scaled(scale).weighed(per_metre) for one in road.passes]
        each = np.array([damage(line, one) for one in passes])
        roads.append(RoadDamage(road.name, road.share, float(each.sum()), together(passes)))
        variance += len(each) * float(each.var(ddof=1)) if len(each) > 1 else 0.0
    cycles = together([road.cycles for road in roads])
    total = sum(road.damage for road in roads)
    wanted, half = (life_factor(line, share) for share in (target.reliability, 0.5))
    on_line = 1 / total if total > 0 else inf
    return Life(
        part=part,
        line=line,
        target=target,
        roads=tuple(roads),
        cycles=cycles,
        damage=total,
        spread=sqrt(variance) / total if 0 < total < inf else 0.0,
        median=on_line * half,
        distance=on_line * wanted,
        margin=stress_margin(line, cycles, target.distance / wanted),
        peak=float((np.abs(cycles.mean) + cycles.range / 2).max(initial=0.0)),
        most_range=float(cycles.range.max(initial=0.0)),
    )


def fatigue_figures(found: Life) -> tuple[Figure, ...]:
    """Life of a part in numbers."""
    line, target = found.line, found.target
    sure, on_line = (f"{100 * share:.4g} %" for share in (target.reliability, line.survival))
    share = found.shares
    worst = found.roads[int(share.argmax())].name if len(share) else ""
    return (
        Figure(
            "fatigue_life",
            f"Life, {sure} reliability",
            found.distance,
            "distance driven",
            f"Distance that {sure} of the parts survive: D_f/Σ(n/N) per distance, times 10^(s (z of "
            f"{on_line} - z of {sure})), z the normal quantile and s = {line.scatter:.3g} the "
            "scatter of log10 life.",
            "higher",
        ),
        Figure(
            "fatigue_life_median",
            "Life, median",
            found.median,
            "distance driven",
            f"Distance that half of the parts survive, by the same rule; damage at failure D_f = "
            f"{line.damage_sum:.3g}.",
            "higher",
        ),
        Figure(
            "fatigue_margin",
            "Stress margin",
            found.margin,
            "ratio",
            f"Factor by which all stress may grow, mean stress with it, until the life with {sure} "
            f"reliability is {target.distance / 1e3:.6g} km; solved. Ends at 0.001 and 1000.",
            "higher",
        ),
        Figure(
            "fatigue_worst_share",
            "Share of the worst road",
            float(share.max(initial=0.0)),
            "share",
            f"Damage per distance of the mix on '{worst}' over that on all roads, Σ n/N each.",
        ),
        Figure(
            "fatigue_spread",
            "Spread of the damage",
            found.spread,
            "share",
            "Standard error of the damage, from the spread between passes over each random road: how far a "
            "longer drive may still move it.",
            "lower",
        ),
        Figure(
            "fatigue_peak",
            "Peak stress",
            found.peak,
            "stress",
            f"Greatest nominal {line.stress} stress on any road, static share included: force of the element "
            f"times {found.part.stress_per_force:.4g} Pa per unit"
            f"{'' if found.part.stress == line.stress else ', by von Mises'}.",
            "lower",
        ),
        Figure(
            "fatigue_range",
            "Greatest stress range",
            found.most_range,
            "stress",
            "Greatest cycle of the rainflow count (ASTM E1049-85) on any road, greatest minus least stress.",
            "lower",
        ),
    )
