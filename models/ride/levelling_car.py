"""The car as the levelling sees it: which axle it trims, and what a wind-up does to the springs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from models.assembly import Mechanics
from models.errors import InputError
from models.laws import Linear
from models.levers import AnyLever
from models.ride.laws import linear_law
from models.ride.nonlinear_model import NonlinearModel
from models.statics import statics
from models.vehicle import Vehicle

__all__ = ["TrimBars", "height_per_wind_up", "trim_bars", "why_not_fitted", "wound"]

Array = NDArray[np.float64]
_TRIM = " trim spring"


@dataclass(frozen=True, eq=False)
class TrimBars:
    """The trim springs of both sides, which one motor winds by the same angle.

    Attributes:
        axle: whose wheels they hold.
        wheels: rows of the wheel travels of that axle.
        rows: (2,) rows of the elements, left and right.
        levers: (2,) their levers.
        rate: (2,) N·m/rad.
        preload: (2,) torque at design trim, N·m.
    """

    axle: Literal["front", "rear"]
    wheels: slice
    rows: tuple[int, ...]
    levers: tuple[AnyLever, ...]
    rate: Array
    preload: Array

    def pull(self, coordinates: Array, x: Array) -> Array:
        """(n,) generalised force per wind-up, N/rad.

        Args:
            coordinates: (D, n) deflections from q.
            x: (D,) those at which the car is.
        """
        force = np.zeros(coordinates.shape[1])
        for lever, rate in zip(self.levers, self.rate, strict=True):
            ratio = lever.turn(x[lever.wheel]).ratio
            force -= coordinates[lever.wheel] * ratio * rate
        return force

    def wound(self, model: NonlinearModel, wind_up: float) -> NonlinearModel:
        """The car with both bars wound up."""
        elements = list(model.elements)
        for row, rate, preload in zip(self.rows, self.rate, self.preload, strict=True):
            law = linear_law(float(rate), float(preload + rate * wind_up))
            elements[row] = replace(elements[row], spring=law)
        return replace(model, elements=tuple(elements))

    def torque(self, deflection: Array, wind_up: Array) -> Array:
        """(N,) torque of both bars together on the gear, N·m, positive where it resists winding up.

        The whole torque, with the share of the static load that the bars have at design trim.

        Args:
            deflection: (2, N) twist by the wheels, rad.
            wind_up: (N,) rad.
        """
        both: Array = self.preload.sum() + self.rate @ (deflection + wind_up)
        return both


def why_not_fitted(vehicle: Vehicle) -> str:
    """In words what a car lacks for a levelling; empty where it has one."""
    left, right = (side.trim for side in vehicle.sides)
    if vehicle.levelling.speed == 0:
        return "Levelling: the winding speed is 0 deg/s; set it above 0."
    if left.bar_rate == 0 or right.bar_rate == 0:
        return "Trim spring: the trim spring rate of a side is 0 N·m/rad; the motor has nothing to wind."
    if left.axle != right.axle:
        return (
            f"Trim spring: the left one is at the {left.axle} and the right one at the {right.axle} axle; "
            "one motor needs both at the same axle."
        )
    return ""


def trim_bars(vehicle: Vehicle, car: Mechanics) -> TrimBars:
    """The bars of a car.

    Raises:
        InputError: no levelling is fitted, or it cannot work; says which field to set.
    """
    reason = why_not_fitted(vehicle)
    if reason:
        field, text = reason.split(": ", 1)
        raise InputError.of(field, vehicle.levelling.speed, text)
    axle = vehicle.left.trim.axle
    rows = [number for number, element in enumerate(car.elements) if element.name.endswith(_TRIM)]
    elements = [car.elements[row] for row in rows]
    return TrimBars(
        axle=axle,
        wheels=slice(0, 2) if axle == "front" else slice(2, 4),
        rows=tuple(rows),
        levers=tuple(lever for element in elements for lever in element.levers),
        rate=np.array([element.stiffness(0.0) for element in elements]),
        preload=np.array([element.preload for element in elements]),
    )


def wound(car: Mechanics, wind_up: float) -> Mechanics:
    """The car with its trim springs wound up; above 0 lifts the trimmed axle.

    A linear spring wound by δ0 has the torque k (g(s) + δ0), as if its static torque were k δ0 more.
    """
    return replace(
        car,
        elements=tuple(
            replace(element, preload=element.preload + element.spring.k * wind_up)
            if element.name.endswith(_TRIM) and isinstance(element.spring, Linear)
            else element
            for element in car.elements
        ),
    )


def height_per_wind_up(car: Mechanics, bars: TrimBars, step: float = 1e-3) -> float:
    """How far the trimmed axle rises per wind-up about the equilibrium of the car, m/rad.

    Args:
        car, bars: the car.
        step: half the difference over which the slope is taken, rad.
    """
    low, high = (statics(wound(car, angle)).travel[bars.wheels].mean() for angle in (-step, step))
    return float(low - high) / (2 * step)
