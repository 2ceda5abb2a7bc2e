"""The full car against MuJoCo, a general engine that is told of bodies, joints and tendons only.

The car is written as MJCF from the vehicle's numbers, without models.assembly.  Each degree of freedom
is a body on a vertical slide; for roll, pitch and the tilt of a solid axle its mass is the inertia.
A fixed tendon has the length Σ coefficient · joint, so that springs, dampers and bars are tendons.
"""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree import ElementTree

import mujoco
import numpy as np
import pytest
from numpy.typing import NDArray

from models.assembly import assemble
from models.ride.channels import channel_index
from models.ride.modes import modes
from models.ride.transient import time_response
from models.roads import HalfSine, OneMinusCosine, RoughSurface, wheel_heights
from models.vehicle import Axle, SolidAxle, Vehicle, moment_of_inertia
from tests.cars import EVERYTHING

Array = NDArray[np.float64]
Combination = dict[str, float]

CARS = {"plain": Vehicle(), "every part": EVERYTHING}
SPEED = 12.0


def _plus(*terms: tuple[float, Combination]) -> Combination:
    total: Combination = {}
    for scale, combination in terms:
        for joint, part in combination.items():
            total[joint] = total.get(joint, 0.0) + scale * part
    return total


def _below(axle: Axle, end: str, y: float) -> Combination:
    """Height of the unsprung mass at the lateral place y."""
    if isinstance(axle.wheels, SolidAxle):
        return {f"{end}_middle": 1.0, f"{end}_tilt": y}
    return {f"{end}_left" if y > 0 else f"{end}_right": 1.0}


def _masses(vehicle: Vehicle) -> Iterator[tuple[str, float]]:
    body = vehicle.body
    a, b = body.cg_to_front_axle, vehicle.wheelbase - body.cg_to_front_axle
    yield "z", body.mass
    yield "roll", moment_of_inertia(body.roll_inertia, body.mass, a, b)
    yield "pitch", moment_of_inertia(body.pitch_inertia, body.mass, a, b)
    for end, axle in (("front", vehicle.front), ("rear", vehicle.rear)):
        if isinstance(axle.wheels, SolidAxle):
            yield f"{end}_middle", axle.wheels.mass
            yield f"{end}_tilt", axle.wheels.roll_inertia
        else:
            yield f"{end}_left", axle.wheels.unsprung_mass
            yield f"{end}_right", axle.wheels.unsprung_mass


def _wheels(vehicle: Vehicle) -> list[tuple[Axle, Combination]]:
    """Axle and height of each wheel FL, FR, RL, RR."""
    return [
        (axle, _below(axle, end, sign * axle.track / 2))
        for end, axle in (("front", vehicle.front), ("rear", vehicle.rear))
        for sign in (1, -1)
    ]


def _tendons(vehicle: Vehicle) -> Iterator[tuple[Combination, float, float]]:
    """Joint coefficients, stiffness and damping of each part."""
    a = vehicle.body.cg_to_front_axle
    travels = []
    for end, axle, x in (("front", vehicle.front, a), ("rear", vehicle.rear, a - vehicle.wheelbase)):
        solid = isinstance(axle.wheels, SolidAxle)
        spacing = axle.wheels.spring_spacing if isinstance(axle.wheels, SolidAxle) else axle.track
        for sign in (1, -1):
            at_spring, at_wheel = sign * spacing / 2, sign * axle.track / 2
            closing = _plus(
                (1, _below(axle, end, at_spring if solid else at_wheel)),
                (-1, {"z": 1.0, "roll": at_spring, "pitch": -x}),
            )
            spring, damper = axle.spring, axle.damper
            yield _plus((spring.motion_ratio, closing)), spring.rate, 0.0
            yield _plus((damper.motion_ratio, closing)), 0.0, (damper.jounce + damper.rebound) / 2
            wheel = _below(axle, end, at_wheel)
            yield wheel, axle.tyre.rate, axle.tyre.damping
            travels.append(_plus((1, wheel), (-1, {"z": 1.0, "roll": at_wheel, "pitch": -x})))
        ratio = axle.stabiliser.lever_ratio
        yield _plus((ratio, travels[-2]), (-ratio, travels[-1])), axle.stabiliser.bar_rate, 0.0
    for number, side in enumerate(vehicle.sides):
        bar, trim = side.coupling, side.trim
        rear = bar.rear_lever_ratio if bar.sense == "levelling" else -bar.rear_lever_ratio
        twist = _plus((bar.front_lever_ratio, travels[number]), (rear, travels[number + 2]))
        yield twist, bar.bar_rate, 0.0
        held = travels[number if trim.axle == "front" else number + 2]
        yield _plus((trim.lever_ratio, held)), trim.bar_rate, 0.0


def _compiled(vehicle: Vehicle, step: float) -> mujoco.MjModel:
    root = ElementTree.Element("mujoco")
    option = {"gravity": "0 0 0", "integrator": "RK4", "timestep": repr(step)}
    flags = ElementTree.SubElement(ElementTree.SubElement(root, "option", option), "flag")
    flags.set("contact", "disable")
    world, tendon = ElementTree.SubElement(root, "worldbody"), ElementTree.SubElement(root, "tendon")
    for name, mass in _masses(vehicle):
        body = ElementTree.SubElement(world, "body")
        ElementTree.SubElement(body, "joint", name=name, type="slide", axis="0 0 1")
        ElementTree.SubElement(body, "inertial", pos="0 0 0", mass=repr(mass), diaginertia="1 1 1")
    for combination, stiffness, damping in _tendons(vehicle):
        line = ElementTree.SubElement(
            tendon, "fixed", stiffness=repr(stiffness), damping=repr(damping), springlength="0 0"
        )
        for joint, part in combination.items():
            ElementTree.SubElement(line, "joint", joint=joint, coef=repr(part))
    return mujoco.MjModel.from_xml_string(ElementTree.tostring(root, encoding="unicode"))


def _row(model: mujoco.MjModel, combination: Combination) -> Array:
    row = np.zeros(model.nv)
    for joint, part in combination.items():
        row[model.joint(joint).dofadr[0]] = part
    return row


@pytest.mark.parametrize("name", CARS)
def test_natural_frequencies(name: str) -> None:
    """M⁻¹K column by column from the accelerations that MuJoCo answers to unit displacements."""
    model = _compiled(CARS[name], step=1e-3)
    data = mujoco.MjData(model)
    answers = np.empty((model.nv, model.nv))
    for joint in range(model.nv):
        data.qpos[:] = np.eye(model.nv)[joint]
        mujoco.mj_forward(model, data)
        answers[:, joint] = -data.qacc
    theirs = np.sqrt(np.sort(np.linalg.eigvals(answers).real)) / (2 * np.pi)
    # The engine is linear here: what is left is rounding, of which the eigenvalues, four decades
    # apart at most, keep nine digits.
    np.testing.assert_allclose(modes(assemble(CARS[name])).frequency, theirs, rtol=1e-9)


@pytest.mark.parametrize("name", CARS)
@pytest.mark.parametrize(
    "event",
    [
        OneMinusCosine(height=0.08, length=5.0, start=1.0),
        HalfSine(height=0.05, length=1.5, start=1.0, side="left"),
    ],
    ids=["both sides", "left side"],
)
def test_time_response_to_a_bump(name: str, event: OneMinusCosine | HalfSine) -> None:
    """Body and wheels over a bump within 1e-4 of the largest motion.

    MuJoCo holds the road over a step; taken at the middle of the step, the error is of second order:
    (ω Δt)²/24 = 5e-5 at the wheel hop of 11 Hz.
    """
    vehicle, step, count = CARS[name], 0.5e-3, 3000
    model = _compiled(vehicle, step)
    data = mujoco.MjData(model)
    t = step * np.arange(count + 1)
    track = (vehicle.front.track + vehicle.rear.track) / 2

    def heights(times: Array) -> Array:
        return wheel_heights(event, RoughSurface(), SPEED, vehicle.wheelbase, track, times)

    ends = heights(t)
    middle, rate = (ends[:, 1:] + ends[:, :-1]) / 2, np.diff(ends) / step
    wheels = _wheels(vehicle)
    rows = np.array([_row(model, combination) for _, combination in wheels])
    force = np.array(
        [axle.tyre.rate * middle[i] + axle.tyre.damping * rate[i] for i, (axle, _) in enumerate(wheels)]
    )
    pushes = force.T @ rows
    states = np.zeros((count + 1, model.nv))
    for number, push in enumerate(pushes):
        data.qfrc_applied[:] = push
        mujoco.mj_step(model, data)
        states[number + 1] = data.qpos

    ours = time_response(assemble(vehicle), t, ends).y
    for key, joint in (("heave", "z"), ("roll", "roll"), ("pitch", "pitch")):
        theirs = states @ _row(model, {joint: 1.0})
        np.testing.assert_allclose(
            ours[channel_index(key)], theirs, rtol=0, atol=1e-4 * np.abs(theirs).max() + 1e-12, err_msg=key
        )
    for number, corner in enumerate(("FL", "FR", "RL", "RR")):
        theirs = states @ rows[number]
        np.testing.assert_allclose(
            ours[channel_index(f"wheel_{corner}")],
            theirs,
            rtol=0,
            atol=1e-4 * np.abs(states @ rows.T).max(),
            err_msg=corner,
        )
