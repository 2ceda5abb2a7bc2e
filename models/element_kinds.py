"""A spring or damper told as another kind of itself: as much of the same law as the other kind can tell."""

from __future__ import annotations

from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray
from pydantic import ValidationError
from scipy.constants import atm

from models.errors import input_error
from models.fields import Part, Quantity, described
from models.force_elements import damper_law, spring_law
from models.laws import Law
from models.vehicle import (
    CornerDamper,
    CornerSpring,
    Damper,
    DamperPoint,
    DigressiveDamper,
    GasSpring,
    ProgressiveSpring,
    Spring,
    SpringPoint,
    TabulatedDamper,
    TabulatedSpring,
)

__all__ = ["converted_damper", "converted_spring", "point_after"]

Array = NDArray[np.float64]
AnyPart = TypeVar("AnyPart", bound=Part)
Point = TypeVar("Point", SpringPoint, DamperPoint)

# Both ends of the tables that are made, and where a cubic is fitted: what a wheel travels, and how fast a
# damper moves on a rough road.
_TRAVEL, _FITTED_TRAVEL, _SPEED = 0.1, 0.08, 1.0

_LEAST_KNEE = 0.001  # m/s, as DigressiveDamper allows


def converted_spring(spring: CornerSpring, kind: type[CornerSpring], static: float = 0.0) -> CornerSpring:
    """Spring of another kind with the same motion ratio and the same rate at design trim.

    A table takes points of the present law, a progressive spring the cubic that comes nearest to it within
    80 mm, a gas spring the volume that gives the rate.

    Args:
        spring: the present spring.
        kind: type wanted.
        static: force of the spring at design trim, N.

    Raises:
        InputError: the new kind cannot have these values.
    """
    if type(spring) is kind:
        return spring
    law = spring_law(spring, static)
    rate, ratio = float(law.slope(0.0)), spring.motion_ratio
    if kind is Spring:
        return _made(Spring, rate=rate, motion_ratio=ratio)
    if kind is ProgressiveSpring:
        return _made(ProgressiveSpring, rate=rate, growth=_cubic_growth(law, rate), motion_ratio=ratio)
    if kind is TabulatedSpring:
        places = np.linspace(-_TRAVEL, _TRAVEL, 5 if isinstance(spring, Spring) else 9)
        points = [_made(SpringPoint, deflection=x, force=f) for x, f in _points(law, places)]
        return _made(TabulatedSpring, points=points, motion_ratio=ratio)
    return _made(GasSpring, **_gas(rate, static), motion_ratio=ratio)


def converted_damper(damper: CornerDamper, kind: type[CornerDamper]) -> CornerDamper:
    """Damper of another kind with the same motion ratio and the same slopes at rest.

    A digressive damper has the same law as a bilinear one until its slope past the knee is changed; from a
    table it takes the knee and the slope that come nearest to the points.  A table takes points of the
    present law, its knees among them.

    Raises:
        InputError: the new kind cannot have these values.
    """
    if type(damper) is kind:
        return damper
    law, ratio = damper_law(damper), damper.motion_ratio
    jounce, rebound = _slopes_at_rest(damper, law)
    if kind is Damper:
        return _made(Damper, jounce=jounce, rebound=rebound, motion_ratio=ratio)
    if kind is DigressiveDamper:
        knee, share = _knee(damper, jounce, rebound)
        return _made(
            DigressiveDamper, jounce=jounce, rebound=rebound, knee=knee, slope_share=share, motion_ratio=ratio
        )
    knee = damper.knee if isinstance(damper, DigressiveDamper) else _SPEED / 2
    ends = max(_SPEED, 2 * knee)
    places = np.array([-ends, -knee, 0.0, knee, ends])
    points = [_made(DamperPoint, speed=v, force=f) for v, f in _points(law, places)]
    return _made(TabulatedDamper, points=points, motion_ratio=ratio)


def point_after(points: tuple[Point, ...], place: int) -> Point:
    """New point behind the one at ``place``: halfway to the next one, on the curve; behind the last one,
    straight on as far as from the one before, within the allowed range.

    Raises:
        InputError: there is no room behind the last point.
    """
    part_type = type(points[0])
    x_name, f_name = part_type.model_fields
    x = [float(getattr(point, x_name)) for point in points]
    f = [float(getattr(point, f_name)) for point in points]
    if place < len(points) - 1:
        new_x = (x[place] + x[place + 1]) / 2
        return part_type(**{x_name: _round(new_x), f_name: _round(_on_curve(points, new_x, x, f))})
    limits = {name: note for name, note, _ in described(part_type)}
    step_x, step_f = (x[-1] - x[-2], f[-1] - f[-2]) if len(x) > 1 else (0.01, 0.0)
    return part_type(
        **{
            x_name: _within(x[-1] + step_x, limits[x_name]),
            f_name: _within(f[-1] + step_f, limits[f_name]),
        }
    )


def _on_curve(points: tuple[Point, ...], place: float, x: list[float], f: list[float]) -> float:
    if isinstance(points[0], DamperPoint) and x[0] < 0 < x[-1]:
        return float(damper_law(TabulatedDamper(points=points)).force(place))
    return float(np.interp(place, x, f))


def _within(value: float, note: Any) -> float:
    assert isinstance(note, Quantity)
    return _round(min(max(value, note.low), note.high))


def _cubic_growth(law: Law, rate: float) -> float:
    """c of the least-squares cubic rate · δ + c · δ³ to a law, not below 0."""
    x = np.linspace(-_FITTED_TRAVEL, _FITTED_TRAVEL, 33)
    rest = np.asarray(law.force(x)) - rate * x
    return max(_round(float(x**3 @ rest / (x**3 @ x**3))), 0.0)


def _gas(rate: float, static: float) -> dict[str, float]:
    """Area of the usual gas spring and the volume that gives it a rate: k = n A² p0 / V."""
    usual = GasSpring()
    pressure = max(static, 0.0) / usual.area + float(atm)
    note = next(note for name, note, _ in described(GasSpring) if name == "volume")
    volume = usual.exponent * usual.area**2 * pressure / rate if rate > 0 else usual.volume
    return {"area": usual.area, "exponent": usual.exponent, "volume": _within(volume, note)}


def _slopes_at_rest(damper: CornerDamper, law: Law) -> tuple[float, float]:
    """Slopes in jounce and rebound."""
    if not isinstance(damper, TabulatedDamper):
        return damper.jounce, damper.rebound
    near = min(abs(point.speed) for point in damper.points if point.speed) / 2
    return _round(float(law.slope(near))), _round(float(law.slope(-near)))


def _knee(damper: CornerDamper, jounce: float, rebound: float) -> tuple[float, float]:
    """Knee speed and share of the slope past it that come nearest to the points of a damper curve."""
    usual = DigressiveDamper()
    if not isinstance(damper, TabulatedDamper):
        return usual.knee, 1.0
    speed = np.array([point.speed for point in damper.points if point.speed])
    size = np.abs([point.force for point in damper.points if point.speed])
    slope, speed = np.where(speed > 0, jounce, rebound), np.abs(speed)
    best = (np.inf, usual.knee, 1.0)
    for knee in np.unique(speed[speed >= _LEAST_KNEE])[:-1]:
        over = slope * np.maximum(speed - knee, 0.0)
        missing = size - slope * np.minimum(speed, knee)
        share = float(np.clip(over @ missing / max(float(over @ over), 1e-30), 0.0, 1.0))
        error = float(np.sum((missing - share * over) ** 2))
        best = min(best, (error, float(knee), share))
    return best[1], _round(best[2])


def _points(law: Law, places: Array) -> list[tuple[float, float]]:
    return [(_round(float(x)), _round(float(f))) for x, f in zip(places, law.force(places), strict=True)]


def _round(number: float) -> float:
    """Without the dust of binary fractions."""
    return float(f"{number:.10g}") + 0.0


def _made(part_type: type[AnyPart], **values: Any) -> AnyPart:
    try:
        return part_type(**values)
    except ValidationError as error:
        raise input_error(error) from error
