"""From the car as described to mechanics: element table, M, C, K.  Nowhere else.

Axes, order and signs follow ISO 8855: x forward, y left, z up; wheel travel s = z_u - z_b, positive
in jounce; corners FL, FR, RL, RR.  Every spring, damper, bar and coupling is one element with an
incidence b over the four wheel travels: deflection b·s, force k b·s + c b·ṡ, so that the wheel-rate
matrix is Σ k bᵀb and the forces of an element are in balance by construction.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from models.vehicle import Axle, SolidAxle, Vehicle, moment_of_inertia

__all__ = ["CORNERS", "Element", "RideModel", "assemble", "half_car"]

Array = NDArray[np.float64]

CORNERS = ("FL", "FR", "RL", "RR")


@dataclass(frozen=True, slots=True)
class Element:
    """One elastic or damping part.

    Attributes:
        name: place and part in words ("front left spring").
        incidence: deflection per wheel travel FL, FR, RL, RR; m/m or rad/m.
        stiffness: N/m, or N·m/rad for a torsional element.
        damping: N·s/m, or N·m·s/rad.
    """

    name: str
    incidence: tuple[float, float, float, float]
    stiffness: float = 0.0
    damping: float = 0.0


@dataclass(frozen=True, eq=False)
class RideModel:
    """Linear mechanics of a car: M q̈ + C q̇ + K q = K_t w + C_t ẇ, in SI.

    With n degrees of freedom q and m road inputs w:

    Attributes:
        dof: names of q; (z, roll, pitch, then unsprung heights FL, FR, RL, RR) for the full car.
        inputs: names of w (one per corner, or front and rear for the half car).
        mass, damping, stiffness: (n, n); kg and kg·m², N·s/m .., N/m ...
        road_stiffness, road_damping: (n, m); K_t and C_t.
        body: (3, n) picks heave z (m), roll (rad, left side up) and pitch (rad, nose down) from q.
        wheels: (4, n) unsprung heights at the corners from q.
        road: (4, m) road heights under the corners from w.
        corners: (4, 2) x, y of the corners from the CG, m.
        elements: suspension elements, all four corners.
        tyre_stiffness, tyre_damping: (4,) N/m, N·s/m.
        body_inertia: (3,) sprung mass kg, roll and pitch inertia kg·m².
        wheel_mass: (4, 4) mass matrix of the unsprung heights, kg.
        seat: x, y of the driver's seat from the CG, m.
    """

    dof: tuple[str, ...]
    inputs: tuple[str, ...]
    mass: Array
    damping: Array
    stiffness: Array
    road_stiffness: Array
    road_damping: Array
    body: Array
    wheels: Array
    road: Array
    corners: Array
    elements: tuple[Element, ...]
    tyre_stiffness: Array
    tyre_damping: Array
    body_inertia: Array
    wheel_mass: Array
    seat: tuple[float, float]

    @cached_property
    def corner_map(self) -> Array:
        """(4, 3) body height at the corners from (z, roll, pitch): z + y φ - x θ."""
        return _heights(self.corners)

    @cached_property
    def travel(self) -> Array:
        """(4, n) wheel travel, positive in jounce, from q."""
        return self.wheels - self.corner_map @ self.body

    @property
    def wheelbase(self) -> float:
        """Distance between the axles, m."""
        return float(self.corners[0, 0] - self.corners[2, 0])

    @property
    def track(self) -> tuple[float, float]:
        """Front and rear track, m."""
        y = self.corners[:, 1]
        return float(y[0] - y[1]), float(y[2] - y[3])

    @cached_property
    def incidence(self) -> Array:
        """(elements, 4) incidence of all elements."""
        return np.array([element.incidence for element in self.elements])

    @cached_property
    def wheel_rates(self) -> Array:
        """(4, 4) wheel-rate matrix K_s = Σ k bᵀb, N/m."""
        b = self.incidence
        return b.T @ (np.array([element.stiffness for element in self.elements])[:, None] * b)

    @cached_property
    def wheel_damping(self) -> Array:
        """(4, 4) damping matrix over wheel travels Σ c bᵀb, N·s/m."""
        b = self.incidence
        return b.T @ (np.array([element.damping for element in self.elements])[:, None] * b)


def assemble(vehicle: Vehicle) -> RideModel:
    """Full car of seven degrees of freedom about design trim."""
    a = vehicle.body.cg_to_front_axle
    b = vehicle.wheelbase - a
    yf, yr = vehicle.front.track / 2, vehicle.rear.track / 2
    corners = np.array([[a, yf], [a, -yf], [-b, yr], [-b, -yr]])
    mass = vehicle.body.mass
    body_inertia = np.array(
        [
            mass,
            moment_of_inertia(vehicle.body.roll_inertia, mass, a, b),
            moment_of_inertia(vehicle.body.pitch_inertia, mass, a, b),
        ]
    )
    wheel_mass = np.zeros((4, 4))
    wheel_mass[:2, :2] = _wheel_mass(vehicle.front)
    wheel_mass[2:, 2:] = _wheel_mass(vehicle.rear)
    axles = (vehicle.front, vehicle.front, vehicle.rear, vehicle.rear)
    model = RideModel(
        dof=("z", "roll", "pitch", *(f"z_u {corner}" for corner in CORNERS)),
        inputs=CORNERS,
        mass=np.zeros((7, 7)),
        damping=np.zeros((7, 7)),
        stiffness=np.zeros((7, 7)),
        road_stiffness=np.zeros((7, 4)),
        road_damping=np.zeros((7, 4)),
        body=np.eye(3, 7),
        wheels=np.eye(4, 7, 3),
        road=np.eye(4),
        corners=corners,
        elements=_elements(vehicle),
        tyre_stiffness=np.array([axle.tyre.rate for axle in axles]),
        tyre_damping=np.array([axle.tyre.damping for axle in axles]),
        body_inertia=body_inertia,
        wheel_mass=wheel_mass,
        seat=(vehicle.seat.x, vehicle.seat.y),
    )
    return _with_matrices(model)


def half_car(full: RideModel) -> RideModel:
    """Half car in pitch (z, pitch, front and rear wheel) as the full car with left = right.

    It carries the mass and the springs of both sides, so its rates are those of whole axles.
    """
    both = np.array([[1.0, 0.0], [1.0, 0.0], [0.0, 1.0], [0.0, 1.0]])
    body = np.zeros((3, 4))
    body[0, 0] = body[2, 1] = 1.0
    return _with_matrices(
        replace(
            full,
            dof=("z", "pitch", "z_u front", "z_u rear"),
            inputs=("front", "rear"),
            body=body,
            wheels=np.hstack([np.zeros((4, 2)), both]),
            road=both,
        )
    )


def _with_matrices(model: RideModel) -> RideModel:
    """Fill M, C, K from the parts; constraints are already in body, wheels and road."""
    travel, wheels, road = model.travel, model.wheels, model.road
    tyre_k, tyre_c = model.tyre_stiffness[:, None], model.tyre_damping[:, None]
    return replace(
        model,
        mass=model.body.T @ (model.body_inertia[:, None] * model.body) + wheels.T @ model.wheel_mass @ wheels,
        damping=travel.T @ model.wheel_damping @ travel + wheels.T @ (tyre_c * wheels),
        stiffness=travel.T @ model.wheel_rates @ travel + wheels.T @ (tyre_k * wheels),
        road_stiffness=wheels.T @ (tyre_k * road),
        road_damping=wheels.T @ (tyre_c * road),
    )


def _heights(points: Array) -> Array:
    x, y = points[:, 0], points[:, 1]
    return np.column_stack([np.ones_like(x), y, -x])


def _wheel_mass(axle: Axle) -> Array:
    """(2, 2) mass matrix of the left and right unsprung heights, kg."""
    if isinstance(axle.wheels, SolidAxle):
        mean, tilt = axle.wheels.mass / 4, axle.wheels.roll_inertia / axle.track**2
        return np.array([[mean + tilt, mean - tilt], [mean - tilt, mean + tilt]])
    return axle.wheels.unsprung_mass * np.eye(2)


def _elements(vehicle: Vehicle) -> tuple[Element, ...]:
    elements: list[Element] = []
    for name, axle, first in (("front", vehicle.front, 0), ("rear", vehicle.rear, 2)):
        elements += _corner_elements(name, axle, first)
        ratio = axle.stabiliser.lever_ratio
        elements.append(
            Element(
                f"{name} stabiliser bar",
                _incidence({first: ratio, first + 1: -ratio}),
                stiffness=axle.stabiliser.bar_rate,
            )
        )
    for name, side, first in zip(("left", "right"), vehicle.sides, (0, 1), strict=True):
        bar, trim = side.coupling, side.trim
        sign = 1.0 if bar.sense == "levelling" else -1.0
        elements.append(
            Element(
                f"{name} interconnection bar",
                _incidence({first: bar.front_lever_ratio, first + 2: sign * bar.rear_lever_ratio}),
                stiffness=bar.bar_rate,
            )
        )
        wheel = first if trim.axle == "front" else first + 2
        elements.append(
            Element(f"{name} trim spring", _incidence({wheel: trim.lever_ratio}), stiffness=trim.bar_rate)
        )
    return tuple(elements)


def _corner_elements(name: str, axle: Axle, first: int) -> list[Element]:
    """Springs and dampers of an axle.

    On a solid axle the ends move the springs through the beam: a spring at half-spacing y_s deflects by
    (1/2 + y_s/t) of the travel at its own end and (1/2 - y_s/t) of that at the other.
    """
    spacing = axle.wheels.spring_spacing if isinstance(axle.wheels, SolidAxle) else axle.track
    near = 0.5 + spacing / (2 * axle.track)
    elements = []
    for side, own, other in (("left", first, first + 1), ("right", first + 1, first)):
        share = {own: near, other: 1.0 - near}
        spring, damper = axle.spring, axle.damper
        elements += [
            Element(
                f"{name} {side} spring",
                _incidence({corner: spring.motion_ratio * part for corner, part in share.items()}),
                stiffness=spring.rate,
            ),
            Element(
                f"{name} {side} damper",
                _incidence({corner: damper.motion_ratio * part for corner, part in share.items()}),
                damping=(damper.jounce + damper.rebound) / 2,
            ),
        ]
    return elements


def _incidence(parts: dict[int, float]) -> tuple[float, float, float, float]:
    fl, fr, rl, rr = (parts.get(corner, 0.0) for corner in range(4))
    return fl, fr, rl, rr
