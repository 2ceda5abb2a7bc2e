"""Dampers for a wanted damping ratio of one or two modes, as a starting value for tuning.

The dampers of an axle are scaled by one factor, left and right alike, so that their kind and the split
between jounce and rebound stay.  Mass and stiffness do not change, and the damping matrix is linear in the
two factors; damping ratios count, as everywhere, with the mean of the jounce and rebound slopes at rest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from math import exp, isfinite, log

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq, least_squares, minimize_scalar

from models.assembly import MODELS, RideModel, linearised, mechanics
from models.errors import InputError
from models.fields import Part, Quantity, described, follow, replaced
from models.force_elements import damper_law
from models.ride.modes import Modes, damping_of_modes, modes
from models.statics import statics
from models.vehicle import CornerDamper, DamperPoint, LoadCase, TabulatedDamper, Vehicle

__all__ = ["LEAST_DAMPING", "RATIO", "DamperProposal", "dampers_for"]

Array = NDArray[np.float64]
Factors = tuple[float, float]

#: Damping ratio that can be asked for.
RATIO = Quantity(
    "ratio",
    "Damping ratio",
    "Damping over critical damping, ζ = -Re λ / |λ|.",
    low=1e-4,
    high=100.0,
    typical=(0.0, 1.0),
)

#: Weakest damper considered, N·s/m at rest: a damper of 0 would have lost its split.
LEAST_DAMPING = 1.0

#: How near the ratios found come to those wanted.
ACCURACY = 1e-6

_AXLES = ("front", "rear")
# Places of a scan along one factor, and of the coarse grid over both: damping ratios are straight lines
# for weak dampers and bend within about a decade.
_SCAN, _GRID = 60, 15


@dataclass(frozen=True, eq=False)
class DamperProposal:
    """Dampers that reach what was wanted.

    Attributes:
        vehicle: the car with them.
        factors: what the front and the rear dampers are multiplied by; 1 for an axle that stays.
        modes: modes of the car with them.
    """

    vehicle: Vehicle
    factors: Factors
    modes: Modes


def dampers_for(
    vehicle: Vehicle, load: LoadCase, targets: Mapping[str, float], model: str = "full car"
) -> DamperProposal:
    """Scale the dampers so that modes reach damping ratios.

    One mode: a wheel hop or axle tramp "front ..." or "rear ..." takes the dampers of its own axle; any other
    mode scales those of both axles by one factor, so that the balance between them stays.  Two modes: a
    factor for each axle.  Only dampers count of which more would damp each of the modes more, and the
    lightest of them: very strong ones lock the suspension, and the body then swings on its tyres, hardly
    damped.

    Args:
        vehicle, load: car and what it carries.
        targets: damping ratio wanted, by name of the mode; one or two.
        model: key of :data:`models.assembly.MODELS`.

    Raises:
        InputError: no such mode, a ratio outside the range of :data:`RATIO`, or one that no dampers from
            :data:`LEAST_DAMPING` to the end of the range of their fields reach; it says what is reachable.
    """
    car = mechanics(vehicle, load)
    stand = statics(car)

    def linear(other: Vehicle) -> RideModel:
        return MODELS[model](linearised(mechanics(other, load), stand.q))

    plant = _plant(MODELS[model](linearised(car, stand.q)), vehicle, _checked(targets))
    factors = _one_mode(plant) if len(targets) == 1 else _two_modes(plant)
    scaled = _scaled(vehicle, factors)
    found = modes(linear(scaled))
    reached = np.array([found.damping_ratio[found.index(name)] for name in targets])
    if not np.abs(reached - plant.wanted).max() <= ACCURACY:  # two modes change places within rounding
        given = " and ".join(f"{ratio:.3g}" for ratio in reached)
        raise _refusal(plant, f"the dampers found give {given} instead")
    return DamperProposal(scaled, factors, found)


@dataclass(frozen=True, eq=False)
class _Plant:
    """Damping ratios as functions of the factors of the front and the rear dampers.

    Attributes:
        names: modes wanted.
        wanted: their damping ratios.
        places: where they stand among all modes.
        squares: (n,) ω² of all modes.
        fixed: (n, n) modal damping of all that is no corner damper.
        scaled: (2, n, n) modal damping of the front and of the rear dampers.
        bounds: least and greatest factor of each axle; None for an axle that has no damping to scale.
    """

    names: tuple[str, ...]
    wanted: Array
    places: tuple[int, ...]
    squares: Array
    fixed: Array
    scaled: Array
    bounds: tuple[Factors | None, Factors | None]

    def ratios(self, front: float, rear: float) -> Array:
        """Damping ratios of the modes wanted."""
        damping = self.fixed + front * self.scaled[0] + rear * self.scaled[1]
        return damping_of_modes(damping, self.squares)[0][list(self.places)]

    def rises(self, front: float, rear: float) -> bool:
        """Whether stronger dampers on both axles would damp each of the modes wanted more."""
        more = 1 + 1e-4
        return bool((self.ratios(more * front, more * rear) > self.ratios(front, rear)).all())

    def rows(self) -> Array:
        """(modes, 3) of the modes wanted for light damping: ratio = row · (1, front, rear)."""
        parts = [self.fixed, *self.scaled]
        return np.array(
            [[part[i, i] / (2 * np.sqrt(self.squares[i])) for part in parts] for i in self.places]
        )


def _checked(targets: Mapping[str, float]) -> dict[str, float]:
    if not 1 <= len(targets) <= 2:
        raise InputError.of("modes", len(targets), "choose one or two modes; there are two pairs of dampers")
    for name, ratio in targets.items():
        if not (isfinite(ratio) and RATIO.low <= ratio <= RATIO.high):
            raise InputError.of(
                f"damping of {name}",
                ratio,
                f"{RATIO.label}: {ratio:.6g} is outside the allowed range ({RATIO.range_text()})",
            )
    return dict(targets)


def _plant(model: RideModel, vehicle: Vehicle, targets: dict[str, float]) -> _Plant:
    found = modes(model)
    for name in targets:
        if name not in found.names:
            known = ", ".join(found.names)
            raise InputError.of("mode", name, f"'{name}' is no mode of the model (its modes: {known})")
    places = tuple(found.index(name) for name in targets)
    squares = (2 * np.pi * found.frequency) ** 2
    for name, place in zip(targets, places, strict=True):
        if squares[place] == 0:
            raise InputError.of(
                f"damping of {name}",
                targets[name],
                f"{name} has no stiffness, so that no damping is critical and it has no damping ratio",
            )
    moved = model.incidence @ model.deflections @ found.shapes
    whole = found.shapes.T @ model.damping @ found.shapes
    scaled = np.array([_of_dampers(model, moved, axle) for axle in _AXLES])
    bounds = [
        _bounds(damper) if acts.any() else None
        for damper, acts in zip((vehicle.front.damper, vehicle.rear.damper), scaled, strict=True)
    ]
    return _Plant(
        names=tuple(targets),
        wanted=np.array(list(targets.values())),
        places=places,
        squares=squares,
        fixed=whole - scaled.sum(axis=0),
        scaled=scaled,
        bounds=(bounds[0], bounds[1]),
    )


def _of_dampers(model: RideModel, moved: Array, axle: str) -> Array:
    """Modal damping of the corner dampers of an axle; ``moved`` are deflections of elements in the modes."""
    names = (f"{axle} left damper", f"{axle} right damper")
    c = np.array([element.damping if element.name in names else 0.0 for element in model.elements])
    result: Array = moved.T @ (c[:, None] * moved)
    return result


# -- one mode ------------------------------------------------------------------------------------------


def _one_mode(plant: _Plant) -> Factors:
    axles = _axles_of(plant)
    low, high = _joint_bounds(plant, axles)

    def factors(place: float) -> Factors:
        scale = exp(place)
        return (scale if 0 in axles else 1.0, scale if 1 in axles else 1.0)

    def ratio(place: float) -> float:
        return float(plant.ratios(*factors(place))[0])

    places, ratios = _scan(ratio, log(low), log(high))
    wanted = float(plant.wanted[0])
    for place in _crossings(ratio, places, ratios, wanted):
        return factors(place)
    which = " and ".join(_AXLES[axle] for axle in axles)
    reached = (
        f"{which} dampers of {LEAST_DAMPING:g} N·s/m and more, as far as their fields allow, give "
        f"{ratios.min():.3g} to {ratios.max():.3g}"
    )
    if ratios.min() < wanted < ratios.max():
        below, above = ratios[ratios < wanted].max(), ratios[ratios > wanted].min()
        reached += f", with a jump from {below:.3g} to {above:.3g} where two modes change places"
    raise _refusal(plant, reached)


def _scan(ratio: Callable[[float], float], low: float, high: float) -> tuple[Array, Array]:
    """Places in ascending order and the ratios there, up to the greatest one."""
    places = np.linspace(low, high, _SCAN)
    ratios = np.array([ratio(place) for place in places])
    best = int(np.argmax(ratios))
    ends = places[max(best - 1, 0)], places[min(best + 1, _SCAN - 1)]
    peak = minimize_scalar(lambda x: -ratio(float(x)), bounds=ends, method="bounded")
    at = int(np.searchsorted(places, peak.x))
    places, ratios = np.insert(places, at, peak.x), np.insert(ratios, at, -peak.fun)
    last = int(np.argmax(ratios)) + 1
    return places[:last], ratios[:last]


def _axles_of(plant: _Plant) -> tuple[int, ...]:
    """Axles whose dampers are scaled for one mode."""
    own = [axle for axle, name in enumerate(_AXLES) if plant.names[0].startswith(f"{name} ")]
    axles = tuple(axle for axle in own or (0, 1) if plant.bounds[axle] is not None)
    if not axles:
        which = _AXLES[own[0]] if own else "front and rear"
        raise _refusal(plant, f"the {which} dampers have no damping at rest that could be scaled")
    return axles


def _joint_bounds(plant: _Plant, axles: tuple[int, ...]) -> Factors:
    bounds = [bound for axle in axles if (bound := plant.bounds[axle]) is not None]
    return max(low for low, _ in bounds), min(high for _, high in bounds)


def _crossings(
    ratio: Callable[[float], float], places: Array, ratios: Array, wanted: float
) -> Iterator[float]:
    """Places in ascending order where a ratio rises through what is wanted; a jump past it is none."""
    above = ratios >= wanted
    for i in np.flatnonzero(above[1:] & ~above[:-1]):
        place = float(brentq(lambda x: ratio(x) - wanted, places[i], places[i + 1], xtol=1e-14, rtol=1e-14))
        if abs(ratio(place) - wanted) <= ACCURACY / 10:
            yield place


# -- two modes -----------------------------------------------------------------------------------------


def _two_modes(plant: _Plant) -> Factors:
    for axle, bound in zip(_AXLES, plant.bounds, strict=True):
        if bound is None:
            raise _refusal(plant, f"the {axle} dampers have no damping at rest that could be scaled")
    low, high = np.log([bound for bound in plant.bounds if bound is not None]).T

    def miss(logarithms: Array) -> Array:
        return plant.ratios(*np.exp(logarithms)) - plant.wanted

    for start in _starts(plant, low, high, miss):
        found = least_squares(
            miss,
            np.clip(start, low + 1e-9, high - 1e-9),
            bounds=(low, high),
            xtol=1e-15,
            ftol=None,
            gtol=None,
        )
        front, rear = (float(factor) for factor in np.exp(found.x))
        if np.abs(found.fun).max() <= ACCURACY / 10 and plant.rises(front, rear):
            return front, rear
    raise _refusal(plant, _reachable_together(plant, low, high))


def _starts(plant: _Plant, low: Array, high: Array, miss: Callable[[Array], Array]) -> Iterator[Array]:
    """Places (2,) to begin at: the light-damping solution, then cells of a grid, light dampers first."""
    rows = plant.rows()
    if np.linalg.matrix_rank(rows[:, 1:], tol=1e-9 * np.abs(rows).max()) == 2:
        light = np.linalg.solve(rows[:, 1:], plant.wanted - rows[:, 0])
        if (light > 0).all():
            yield np.log(light)
    front, rear = (np.linspace(low[axle], high[axle], _GRID) for axle in (0, 1))
    misses = np.array([[miss(np.array([x, y])) for y in rear] for x in front])
    corners = np.array([misses[i : _GRID - 1 + i, j : _GRID - 1 + j] for i in (0, 1) for j in (0, 1)])
    crossed = ((corners.min(axis=0) <= 0) & (corners.max(axis=0) >= 0)).all(axis=-1)
    cells = np.argwhere(crossed)
    strength = [exp(front[i]) + exp(rear[j]) for i, j in cells]
    for i, j in cells[np.argsort(strength, kind="stable")]:
        yield np.array([front[i] + front[i + 1], rear[j] + rear[j + 1]]) / 2


def _reachable_together(plant: _Plant, low: Array, high: Array) -> str:
    """What the second mode reaches while the first has what is wanted, in words."""
    beside: list[float] = []
    alone: list[float] = []
    spans = [np.linspace(low[axle], high[axle], _SCAN // 3) for axle in (0, 1)]
    for held in (0, 1):
        for fixed in np.exp(spans[held]):
            factors = partial(_beside, held, float(fixed))

            def first(place: float, factors: Callable[[float], Factors] = factors) -> float:
                return float(plant.ratios(*factors(place))[0])

            ratios = np.array([first(place) for place in spans[1 - held]])
            alone += [float(ratios.min()), float(ratios.max())]
            found = map(factors, _crossings(first, spans[1 - held], ratios, float(plant.wanted[0])))
            beside += [float(plant.ratios(*pair)[1]) for pair in found if plant.rises(*pair)]
    if not beside:
        return f"{plant.names[0]} alone reaches {min(alone):.3g} to {max(alone):.3g}"
    return (
        f"with {plant.names[0]} at {plant.wanted[0]:.3g}, {plant.names[1]} can be about "
        f"{min(beside):.3g} to {max(beside):.3g}"
    )


def _beside(held: int, fixed: float, place: float) -> Factors:
    """Factors with one held fixed, over the logarithm of the other."""
    return (fixed, exp(place)) if held == 0 else (exp(place), fixed)


def _refusal(plant: _Plant, reason: str) -> InputError:
    asked = " with ".join(
        f"{name} {ratio:.3g}" for name, ratio in zip(plant.names, plant.wanted, strict=True)
    )
    return InputError.of(
        f"damping of {' and '.join(plant.names)}", asked, f"{asked} is out of reach: {reason}"
    )


# -- dampers -------------------------------------------------------------------------------------------


def _bounds(damper: CornerDamper) -> Factors | None:
    """Least and greatest factor that a damper takes; None without damping at rest."""
    at_rest = float(damper_law(damper).slope(0.0))
    if not at_rest > 0:
        return None
    if isinstance(damper, TabulatedDamper):
        room = [_limit(DamperPoint, "force") / abs(point.force) for point in damper.points if point.force]
    else:
        coefficients = {"jounce": damper.jounce, "rebound": damper.rebound}
        room = [_limit(type(damper), name) / c for name, c in coefficients.items() if c]
    high = min(room)
    # A hair inside, so that rounding does not carry the product past the limit.
    return min(LEAST_DAMPING / at_rest, 1.0), max(high * (1 - 1e-12), 1.0)


def _limit(part: type[Part], field: str) -> float:
    return next(
        note.high for name, note, _ in described(part) if name == field and isinstance(note, Quantity)
    )


def _scaled(vehicle: Vehicle, factors: Factors) -> Vehicle:
    for axle, factor in zip(_AXLES, factors, strict=True):
        path = (axle, "damper")
        vehicle = replaced(vehicle, path, _scaled_damper(follow(vehicle, path), factor))
    return vehicle


def _scaled_damper(damper: CornerDamper, factor: float) -> CornerDamper:
    if isinstance(damper, TabulatedDamper):
        points = tuple(DamperPoint(speed=point.speed, force=factor * point.force) for point in damper.points)
        return TabulatedDamper(points=points, motion_ratio=damper.motion_ratio)
    changed = {"jounce": factor * damper.jounce, "rebound": factor * damper.rebound}
    return type(damper).model_validate({**dict(damper), **changed})
