"""What the parts of the suspension press between body and wheels, corner by corner."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.assembly import Mechanics, RideModel
from models.force_elements import ForceElement
from models.laws import Linear
from models.ride.channels import channel_index
from models.ride.nonlinear import NonlinearResponse
from models.ride.transient import TimeResponse
from models.statics import Statics

__all__ = ["PARTS", "CornerForces", "corner_forces", "fitted_parts"]

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
    its incidence there times its force, so that the parts of a corner add up to what it bears.

    Attributes:
        force: (parts, 4, n) on the body up and on the wheel down, N, static force included.
        rest: (parts, 4) the same before the run.
    """

    force: Array
    rest: Array

    @property
    def change(self) -> Array:
        """(parts, 4, n) from rest, N."""
        change: Array = self.force - self.rest[:, :, None]
        return change


def corner_forces(
    car: Mechanics,
    model: RideModel,
    stand: Statics,
    time: TimeResponse,
    response: NonlinearResponse | None,
    samples: slice = slice(None),
) -> CornerForces:
    """Corner forces of a run.

    Args:
        car: its elements and static forces.
        model: the linear model of the run.
        stand: where the car stands before the run.
        time: channels of the run.
        response: the nonlinear run; None where ``time`` is linear, whose forces are then rate times travel
            and damping times its difference quotient on top of the static ones.
        samples: which of the N samples, at steps of one.
    """
    if response is not None:
        elements, rest = response.element_force[:, samples], response.element_force[:, 0]
        travel, standing = response.coordinate[:4, samples], response.coordinate[:4, 0]
        incidence = _incidence(car, standing)
    else:
        incidence, rest = stand.incidence[:, :4], stand.force
        elements = rest[:, None] + _linear_change(model, incidence, time, samples)
        first = channel_index("travel_FL")
        travel = time.y[first : first + 4, samples]
    parts = [_part(element.name) for element in car.elements]
    counted = np.array([[part == name for part in parts] for name in PARTS], dtype=np.float64)
    pick: Array = (counted[:, None, :] * incidence.T[None]).reshape(4 * len(PARTS), -1)
    force = (pick @ elements).reshape(len(PARTS), 4, -1)
    for row, element in enumerate(car.elements):
        for lever in element.levers:
            wheel = lever.wheel
            if response is not None:
                ratio = lever.turn(travel[wheel]).ratio
                turning = (ratio - incidence[row, wheel]) * elements[row]
            else:
                turning = model.elements[row].turning[wheel] * travel[wheel]
            force[PARTS.index(parts[row]), wheel] += turning
    return CornerForces(force, (pick @ rest).reshape(len(PARTS), 4))


def _incidence(car: Mechanics, travel: Array) -> Array:
    """(elements, 4) incidence at wheel travels (4,)."""
    x = np.zeros(len(car.deflections))
    x[:4] = travel
    return car.moved(x).incidence[:, :4]


def fitted_parts(car: Mechanics) -> tuple[str, ...]:
    """Those of :data:`PARTS` of which a car has any that can press."""
    found = {_part(element.name) for element in car.elements if _acts(element)}
    return tuple(part for part in PARTS if part in found)


def _acts(element: ForceElement) -> bool:
    """Whether an element is more than a place for a part that is not fitted."""
    springs = element.spring is not None and element.spring != Linear(0.0)
    return springs or (element.damper is not None and element.damping != 0) or element.friction is not None


def _part(name: str) -> str:
    """Part that an element counts for; empty for the cushion, which no corner carries."""
    return next((part for ending, part in _ENDINGS.items() if name.endswith(ending)), "")


def _linear_change(model: RideModel, incidence: Array, time: TimeResponse, samples: slice) -> Array:
    """(elements, n) change of the element forces of a linear run."""
    first = channel_index("travel_FL")
    begin, end, _ = samples.indices(len(time.t))
    wide = slice(max(begin - 1, 0), min(end + 1, len(time.t)))  # with the neighbours of the quotient
    deflection = incidence @ time.y[first : first + 4, wide]
    rate = np.gradient(deflection, time.t[wide], axis=1)
    stiffness, damping = (
        np.array([getattr(element, name) for element in model.elements])[:, None]
        for name in ("stiffness", "damping")
    )
    change: Array = stiffness * deflection + damping * rate
    return change[:, begin - wide.start : end - wide.start]
