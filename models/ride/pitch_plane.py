"""Bounce and pitch of the body alone: two degrees of freedom, their frequencies and motion centres."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, inf, pi, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from models.assembly import RideModel
from models.ride.rates import AXLES

__all__ = ["ALIKE", "PitchPlane", "bounce_is_first", "pitch_plane"]

Array = NDArray[np.float64]

#: Nodes alike to this part are equally far out: at a dynamic index of 1 both are at an axle but for rounding.
ALIKE = 1e-9

# Coupling of heave and pitch below this share of the stiffness is rounding of a decoupled car.
_NO_COUPLING = 1e-12


@dataclass(frozen=True, slots=True)
class PitchPlane:
    """Undamped modes of the body in the pitch plane, the slower first.

    Attributes:
        frequency: Hz.
        motion_centre: node of each mode, m ahead of the CG; inf for pure heave.
        names: "bounce" has its node farther out than "pitch", measured by the axle on the node's side.
        dynamic_index: k²/(a b).
    """

    frequency: tuple[float, float]
    motion_centre: tuple[float, float]
    names: tuple[str, str]
    dynamic_index: float

    def frequency_of(self, name: str) -> float:
        """Frequency of "bounce" or "pitch", Hz."""
        return self.frequency[self.names.index(name)]

    def motion_centre_of(self, name: str) -> float:
        """Motion centre of "bounce" or "pitch", m ahead of the CG."""
        return self.motion_centre[self.names.index(name)]


def pitch_plane(model: RideModel, tyre_in_series: bool) -> PitchPlane:
    """Two-degree-of-freedom bounce and pitch, with left and right moving together and no unsprung mass.

    Args:
        model: full or half car.
        tyre_in_series: whether the body stands on wheel rates and tyres in series or on wheel rates alone.

    Reference:
        The equations of J. P. den Hartog, *Mechanical Vibrations*, and of every text since; written with
        mass-normalised heave and pitch, the modes are a turn by one angle.
    """
    axles = AXLES.T @ model.wheel_rates @ AXLES
    if tyre_in_series:
        tyres = AXLES.T @ (model.tyre_stiffness[:, None] * AXLES)
        axles = axles @ np.linalg.solve(axles + tyres, tyres)
    ff, fr, rr = float(axles[0, 0]), float(axles[0, 1] + axles[1, 0]) / 2, float(axles[1, 1])
    a, b = float(model.corners[0, 0]), -float(model.corners[2, 0])
    mass, inertia = float(model.body_mass[0, 0]), float(model.body_mass[2, 2])

    heave = (ff + 2 * fr + rr) / mass
    pitch = (ff * a * a - 2 * fr * a * b + rr * b * b) / inertia
    cross = (rr * b - ff * a + fr * (b - a)) / sqrt(mass * inertia)
    fast = max((heave + pitch) / 2 + hypot((heave - pitch) / 2, cross), 0.0)
    # The product of the roots, so that a free mode is free exactly and not to rounding.
    slow = max(ff * rr - fr * fr, 0.0) * (a + b) ** 2 / (mass * inertia) / fast if fast > 0 else 0.0
    centres = _motion_centres(heave, pitch, cross, sqrt(inertia / mass))
    return PitchPlane(
        frequency=(sqrt(slow) / (2 * pi), sqrt(fast) / (2 * pi)),
        motion_centre=centres,
        names=("bounce", "pitch") if bounce_is_first(centres, a, b) else ("pitch", "bounce"),
        dynamic_index=inertia / (mass * a * b) if a * b else inf,
    )


def bounce_is_first(centres: tuple[float, float], a: float, b: float) -> bool:
    """Whether the first of two motion centres (m ahead of the CG) is that of the bounce mode.

    A bounce mode has its node outside the wheelbase and a pitch mode inside.  Both may lie on one side
    of that limit, so the distances, in parts of CG to axle, are compared with each other.  Of two alike the
    slower is bounce.
    """
    first, second = (_over(abs(x), a if x > 0 else b) for x in centres)
    return first >= second * (1 - ALIKE)


def _over(distance: float, to_axle: float) -> float:
    return distance / to_axle if to_axle else inf  # the CG may stand over an axle


def _motion_centres(heave: float, pitch: float, cross: float, gyration: float) -> tuple[float, float]:
    """Nodes x = z/θ of the slow and the fast mode; their product is -k²."""
    if abs(cross) <= _NO_COUPLING * (heave + pitch):
        return (inf, 0.0) if heave <= pitch else (0.0, inf)
    angle = atan2(2 * cross, heave - pitch) / 2  # of the fast mode, (z √m, θ √I) = (cos, sin)
    return -gyration * sin(angle) / cos(angle), gyration * cos(angle) / sin(angle)
