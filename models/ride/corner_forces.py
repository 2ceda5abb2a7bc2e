"""What the parts of the suspension press between body and wheels, corner by corner."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.assembly import Mechanics, RideModel
from models.ride.channels import channel_index
from models.ride.nonlinear import NonlinearResponse
from models.ride.transient import TimeResponse
from models.statics import Statics

__all__ = ["PARTS", "CornerForces", "corner_forces"]

Array = NDArray[np.float64]

#: End of an element's name -> the part that it counts for; the first that fits.
_ENDINGS = {
    "trim spring": "trim spring",
    "spring": "spring",
    "stop": "stop",
    "damper": "damper",
    "friction": "damper",
    "stabiliser bar": "stabiliser",
    "interconnection bar": "interconnection",
    "fluid interconnection": "interconnection",
    "diagonal coupling": "diagonal coupling",
}
#: The parts in the order of :attr:`CornerForces.force`.
PARTS = tuple(dict.fromkeys(_ENDINGS.values()))


@dataclass(frozen=True, eq=False)
class CornerForces:
    """Forces of the parts as the wheels feel them.

    A part of another motion ratio or of torque is given as the force at the wheel that does the same work,
    its incidence times its force, so that the parts of a corner add up to what it bears.

    Attributes:
        force: (parts, 4, N) on the body up and on the wheel down, N, static force included.
        rest: (parts, 4) the same before the run.
        fitted: (parts,) whether any element counts for the part.
    """

    force: Array
    rest: Array
    fitted: tuple[bool, ...]

    @property
    def change(self) -> Array:
        """(parts, 4, N) from rest, N."""
        change: Array = self.force - self.rest[:, :, None]
        return change


def corner_forces(
    car: Mechanics,
    model: RideModel,
    stand: Statics,
    time: TimeResponse,
    response: NonlinearResponse | None,
) -> CornerForces:
    """Corner forces of a run.

    Args:
        car: its elements and static forces.
        model: the linear model of the run.
        stand: where the car stands before the run.
        time: channels of the run.
        response: the nonlinear run; None where ``time`` is linear, whose forces are then rate times travel
            and damping times its difference quotient on top of the static ones.
    """
    incidence = car.incidence[:, :4]
    if response is not None:
        elements, rest = response.element_force, response.element_force[:, 0]
    else:
        rest = stand.force
        elements = rest[:, None] + _linear_change(model, incidence, time)
    force, at_rest = np.zeros((len(PARTS), 4, len(time.t))), np.zeros((len(PARTS), 4))
    fitted = [False] * len(PARTS)
    for number, element in enumerate(car.elements):
        part = _part(element.name)
        if part is None:
            continue
        row = PARTS.index(part)
        force[row] += incidence[number][:, None] * elements[number]
        at_rest[row] += incidence[number] * rest[number]
        fitted[row] = True
    return CornerForces(force, at_rest, tuple(fitted))


def _part(name: str) -> str | None:
    """Part that an element counts for; None for the cushion, which no corner carries."""
    return next((part for ending, part in _ENDINGS.items() if name.endswith(ending)), None)


def _linear_change(model: RideModel, incidence: Array, time: TimeResponse) -> Array:
    """(elements, N) change of the element forces of a linear run."""
    first = channel_index("travel_FL")
    deflection = incidence @ time.y[first : first + 4]
    rate = np.gradient(deflection, time.t, axis=1)
    stiffness, damping = (
        np.array([getattr(element, name) for element in model.elements])[:, None]
        for name in ("stiffness", "damping")
    )
    change: Array = stiffness * deflection + damping * rate
    return change
