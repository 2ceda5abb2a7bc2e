"""Cars that are off as built against scipy: forces written wheel by wheel from the wrong sizes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.constants import g
from scipy.optimize import root

from models.assembly import Mechanics, mechanics
from models.fields import replaced
from models.ride.scatter import Scatter, settled
from models.statics import statics
from models.vehicle import Load, LoadCase, ProgressiveSpring, SolidAxle, Stop, TorsionCoupling, Vehicle
from tests.cars import EVERYTHING
from tests.manual import near
from tests.oracle.test_statics_scipy import spring_force, stop_force

Array = NDArray[np.float64]

DRAWS = 8
LOAD = LoadCase(name="boot", loads=(Load(mass=90.0, x=-3.1, y=0.3, z=0.6),))


def car() -> Vehicle:
    """Everything at once, on levers that do not lie level, a progressive spring and stops that are near."""
    made = replaced(EVERYTHING, ("left", "coupling", "front_lever_angle"), math.radians(12.0))
    made = replaced(made, ("left", "coupling", "rear_lever_angle"), math.radians(-8.0))
    made = replaced(made, ("right", "trim", "lever_angle"), math.radians(15.0))
    made = replaced(made, ("front", "spring"), ProgressiveSpring(rate=30e3, growth=2e6, motion_ratio=0.8))
    return replaced(made, ("front", "bump_stop"), Stop(gap=0.003, rate=9e4, growth=1e6))


@dataclass
class Built:
    """One car as built; parts are off by what their names say."""

    vehicle: Vehicle
    static: dict[str, float]
    tyre_load: Array
    force: dict[str, float]
    offset: dict[str, float]
    longer: dict[tuple[str, int], float]
    tyre: Array
    mass: float

    def element(self, name: str, change: float) -> float:
        """Force of a linear element whose change from design trim is told."""
        return (1 + self.force[name]) * (self.static[name] + change)

    def lever(self, name: str, wheel: int, ratio: float, start: float, travel: float) -> tuple[float, float]:
        """Angle from the nominal one and growth per travel: the end is where the wheel holds it."""
        length = 1 / (ratio * math.cos(start))
        sine = (length * math.sin(start) + travel) / (length * (1 + self.longer[name, wheel]))
        angle = math.asin(sine)
        return angle - start, 1 / (length * (1 + self.longer[name, wheel]) * math.cos(angle))

    def corner_forces(self, s: Array) -> Iterator[tuple[int, float]]:
        """Corner and force on the body there; several for each corner."""
        for end, axle, at in (("front", self.vehicle.front, 0), ("rear", self.vehicle.rear, 2)):
            beam = isinstance(axle.wheels, SolidAxle)
            share = axle.wheels.spring_spacing / axle.track if isinstance(axle.wheels, SolidAxle) else 1.0
            assert beam or share == 1.0
            for own, other, side in ((at, at + 1, "left"), (at + 1, at, "right")):
                name, ratio = f"{end} {side} spring", axle.spring.motion_ratio
                near, far = (1 + share) / 2, (1 - share) / 2
                x = ratio * (near * s[own] + far * s[other]) + self.offset[name]
                push = (1 + self.force[name]) * spring_force(axle.spring, x, self.static[name])
                yield own, near * ratio * push
                yield other, far * ratio * push
                yield own, stop_force(axle.bump_stop, s[own]) - stop_force(axle.rebound_stop, -s[own])
            bar, name = axle.stabiliser, f"{end} stabiliser bar"
            twist = bar.lever_ratio * (s[at] - s[at + 1]) + self.offset[name]
            torque = self.element(name, bar.bar_rate * twist)
            yield at, bar.lever_ratio * torque
            yield at + 1, -bar.lever_ratio * torque
        for number, (name, side) in enumerate(zip(("left", "right"), self.vehicle.sides, strict=True)):
            join, bar = side.coupling, f"{name} interconnection bar"
            assert isinstance(join, TorsionCoupling)
            sense = 1 if join.sense == "levelling" else -1
            front, rear = number, number + 2
            ahead = self.lever(bar, front, join.front_lever_ratio, join.front_lever_angle, s[front])
            behind = self.lever(bar, rear, join.rear_lever_ratio, join.rear_lever_angle, s[rear])
            torque = self.element(bar, join.bar_rate * (ahead[0] + sense * behind[0] + self.offset[bar]))
            yield front, ahead[1] * torque
            yield rear, sense * behind[1] * torque
            trim, bar = side.trim, f"{name} trim spring"
            wheel = front if trim.axle == "front" else rear
            turn, growth = self.lever(bar, wheel, trim.lever_ratio, trim.lever_angle, s[wheel])
            yield wheel, growth * self.element(bar, trim.bar_rate * (turn + self.offset[bar]))

    def unbalance(self, q: Array) -> Array:
        """On body (about the CG as designed) and wheels; q: height of that CG, roll, pitch, wheels."""
        vehicle = self.vehicle
        a = vehicle.body.cg_to_front_axle
        x = np.array([a, a, a - vehicle.wheelbase, a - vehicle.wheelbase])
        y = np.array([1, -1, 1, -1]) * np.repeat([vehicle.front.track, vehicle.rear.track], 2) / 2
        up = np.zeros(4)
        for corner, force in self.corner_forces(q[3:] - (q[0] + y * q[1] - x * q[2])):
            up[corner] += force
        body = np.array([up.sum(), up @ y, -up @ x])
        body -= g * (vehicle.body.mass + self.mass) * np.array([1.0, 0.0, 0.0])
        for item in LOAD.loads:
            body -= g * item.mass * np.array([1.0, item.y, -(item.x + a)])
        assert isinstance(vehicle.rear.wheels, SolidAxle)
        unsprung = np.repeat([vehicle.front.wheels.unsprung_mass, vehicle.rear.wheels.mass / 2], 2)
        rates = np.repeat([vehicle.front.tyre.rate, vehicle.rear.tyre.rate], 2)
        # The tyre is pressed in by load / rate at design trim, from a radius that stays.
        ground = (1 + self.tyre) * rates * (self.tyre_load / rates - q[3:])
        return np.concatenate([body, np.maximum(ground, 0.0) - up - g * unsprung])


def drawn(made: Mechanics) -> Scatter:
    random = np.random.default_rng(3)
    scatter = Scatter.none(made, DRAWS)
    for array, size in ((scatter.force, 0.08), (scatter.lever, 0.03), (scatter.tyre, 0.1)):
        array[:] = random.uniform(-size, size, array.shape)
    for number, element in enumerate(made.elements):
        size = 0.03 if element.name.endswith(("bar", "trim spring")) else 0.004  # rad, m
        scatter.offset[:, number] = random.uniform(-size, size, DRAWS)
        if element.name.endswith("stop"):
            scatter.offset[:, number] = scatter.force[:, number] = 0.0
    return scatter


def test_scipy_finds_where_cars_stand_that_are_off() -> None:
    """Within 0.1 µm and 0.1 µrad: a hundred times what scipy's tolerance of 1e-12 leaves on soft springs."""
    vehicle = car()
    made = mechanics(vehicle, LOAD)
    stand = statics(made)
    assert stand.stable
    scatter = drawn(made)
    # Weight at the CG of the body, which is told from that of body and load.
    x = made.corners[0, 0] - vehicle.body.cg_to_front_axle
    y = made.corners[0, 1] - vehicle.front.track / 2
    mass = np.random.default_rng(4).uniform(-60.0, 60.0, DRAWS)
    scatter.load[:, :3] = g * mass[:, None] * np.array([-1.0, -y, x])
    q, balanced = settled(made, scatter, stand.q)
    assert balanced.all()
    assert np.abs(q - stand.q).max() > 0.01
    pressed = (q @ made.deflections.T)[:, :2] > vehicle.front.bump_stop.gap
    assert pressed.any()
    assert not pressed.all()
    levers = [(e.name, lever.wheel) for e in made.elements for lever in e.levers]
    names = [element.name for element in made.elements]
    for draw in range(DRAWS):
        one = Built(
            vehicle=vehicle,
            static={element.name: element.preload for element in made.elements},
            tyre_load=made.tyre_load,
            force=dict(zip(names, scatter.force[draw], strict=True)),
            offset=dict(zip(names, scatter.offset[draw], strict=True)),
            longer=dict(zip(levers, scatter.lever[draw], strict=True)),
            tyre=scatter.tyre[draw],
            mass=float(mass[draw]),
        )
        found = root(one.unbalance, np.zeros(7), tol=1e-12)
        assert found.success
        ours = q[draw].copy()
        ours[0] += y * ours[1] - x * ours[2]  # from the CG of body and load to that of the body
        near("where it stands, m and rad", ours, found.x, within=1e-7)
