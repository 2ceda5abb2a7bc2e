"""Gravity on a body that leans in a turn.

The body turns about the roll axis, so that its CG, at the height d above the axis, moves over by d φ and its
weight has the moment m g d φ about the axis: a spring of the rate -m g d on the roll angle.  The lateral
acceleration of the manoeuvre is that of the CG, so that the inertia in roll stays the one about the CG.

It belongs to the lateral forces that hold the car on its track, and acts in runs with a lateral manoeuvre.
Straight on, no lateral force holds the wheels against the body, and the car of the ride models rolls about
its CG; so do its modes, its statics and its spectra.  Roll is counted from the equilibrium of the load case.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.constants import g

from models.assembly import Mechanics, RideModel
from models.ride.laws import linear_law
from models.ride.manoeuvres import roll_arm
from models.ride.nonlinear import NonlinearResponse
from models.ride.nonlinear_model import ForceElement, NonlinearModel
from models.vehicle import Vehicle

__all__ = ["leaning", "leaning_nonlinear", "roll_gravity", "without_lean"]

Array = NDArray[np.float64]


def roll_gravity(vehicle: Vehicle, car: Mechanics) -> float:
    """Moment of the weight per roll angle, m g d, N·m/rad; below zero if the roll axis is above the CG."""
    return float(g) * roll_arm(vehicle, car)


def leaning(model: RideModel, gravity: float) -> RideModel:
    """Linear model with the roll gravity, N·m/rad."""
    roll = model.body[1]
    return replace(model, stiffness=model.stiffness - gravity * np.outer(roll, roll))


def leaning_nonlinear(model: NonlinearModel, roll: Array, start: Array, gravity: float) -> NonlinearModel:
    """Nonlinear model with the roll gravity as one more element, the last, on the roll angle.

    Args:
        model: the car; its coordinates leave room for one more.
        roll: (n,) picks the roll angle.
        start: (n,) state from which the roll is counted.
        gravity: N·m/rad.
    """
    width = len(model.coordinates)
    lean = ForceElement(
        "gravity on the leaning body",
        np.eye(width + 1)[width],
        spring=linear_law(-gravity, preload=gravity * float(roll @ start)),
    )
    kept = tuple(replace(element, incidence=np.append(element.incidence, 0.0)) for element in model.elements)
    return replace(model, coordinates=np.vstack([model.coordinates, roll]), elements=(*kept, lean))


def without_lean(response: NonlinearResponse) -> NonlinearResponse:
    """Response with the rows of the car's own elements only; the stored energy stays the whole."""
    return replace(
        response,
        model=replace(response.model, elements=response.model.elements[:-1]),
        deflection=response.deflection[:-1],
        deflection_rate=response.deflection_rate[:-1],
        element_force=response.element_force[:-1],
    )
