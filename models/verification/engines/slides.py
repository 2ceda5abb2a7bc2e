"""The car beside MuJoCo, a general engine that is told of bodies, joints and tendons only.

The car is written as MJCF from the vehicle's numbers, without models.assembly.  Each degree of freedom
is a body on a vertical slide; for roll, pitch and the tilt of a solid axle its mass is the inertia.
A fixed tendon has the length Σ coefficient · joint, so that springs, dampers and bars are tendons.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray

from models.assembly import assemble
from models.ride.channels import channel_index
from models.ride.modes import modes
from models.ride.nonlinear import simulate
from models.ride.transient import time_response
from models.roads import Event, HalfSine, OneMinusCosine, RoughSurface, wheel_heights
from models.vehicle import Axle, SolidAxle, Vehicle, moment_of_inertia
from models.verification.cars import EVERYTHING, linear_parts, torsion_bar
from models.verification.check import Chapter, Numbers, beside
from models.verification.engines.independent_car import IndependentCar
from models.verification.engines.nonlinear_cars import EVERY_LAW, hard_bump

__all__ = ["CHAPTER"]

CHAPTER = Chapter("mujoco", "MuJoCo", group="engine", needs=("mujoco",))

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
            spring, damper = linear_parts(axle)
            yield _plus((spring.motion_ratio, closing)), spring.rate, 0.0
            yield _plus((damper.motion_ratio, closing)), 0.0, (damper.jounce + damper.rebound) / 2
            wheel = _below(axle, end, at_wheel)
            yield wheel, axle.tyre.rate, axle.tyre.damping
            travels.append(_plus((1, wheel), (-1, {"z": 1.0, "roll": at_wheel, "pitch": -x})))
        ratio = axle.stabiliser.lever_ratio
        yield _plus((ratio, travels[-2]), (-ratio, travels[-1])), axle.stabiliser.bar_rate, 0.0
    for number, side in enumerate(vehicle.sides):
        bar, trim = torsion_bar(side), side.trim
        rear = bar.rear_lever_ratio if bar.sense == "levelling" else -bar.rear_lever_ratio
        twist = _plus((bar.front_lever_ratio, travels[number]), (rear, travels[number + 2]))
        yield twist, bar.bar_rate, 0.0
        held = travels[number if trim.axle == "front" else number + 2]
        yield _plus((trim.lever_ratio, held)), trim.bar_rate, 0.0


def _compiled(vehicle: Vehicle, step: float) -> Any:
    import mujoco

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


def _row(model: Any, combination: Combination) -> Array:
    row = np.zeros(model.nv)
    for joint, part in combination.items():
        row[model.joint(joint).dofadr[0]] = part
    return row


@CHAPTER.check(
    "Natural frequencies of the car",
    source="MuJoCo, accelerations that it answers to unit displacements",
    status="computed apart",
    reason="the engine is linear here: what is left is rounding, of which the eigenvalues, four decades "
    "apart at most, keep nine digits",
    cases=list(CARS),
)
def natural_frequencies(name: str) -> Numbers:
    """M⁻¹K column by column; all seven, Hz."""
    import mujoco

    model = _compiled(CARS[name], step=1e-3)
    data = mujoco.MjData(model)
    answers = np.empty((model.nv, model.nv))
    for joint in range(model.nv):
        data.qpos[:] = np.eye(model.nv)[joint]
        mujoco.mj_forward(model, data)
        answers[:, joint] = -data.qacc
    theirs = np.sqrt(np.sort(np.linalg.eigvals(answers).real)) / (2 * np.pi)
    yield beside(f"{name}, Hz", modes(assemble(CARS[name])).frequency, theirs, relative=1e-9)


BUMPS: dict[str, Event] = {
    "both sides": OneMinusCosine(height=0.08, length=5.0, start=1.0),
    "left side": HalfSine(height=0.05, length=1.5, start=1.0, side="left"),
}


@CHAPTER.check(
    "Time response to a bump",
    source="MuJoCo, RK4 of 0.5 ms",
    status="computed apart",
    reason="1e-4 of the largest motion: MuJoCo holds the road over a step; taken at the middle of the step, "
    "the error is of second order, (ω Δt)²/24 = 5e-5 at the wheel hop of 11 Hz",
    cases=[(name, side) for name in CARS for side in BUMPS],
)
def bump(case: tuple[str, str]) -> Numbers:
    """Body and wheels over 1.5 s: a bump under both sides at once, and a sharper one on the left; SI."""
    import mujoco

    name, side = case
    vehicle, event, step, count = CARS[name], BUMPS[side], 0.5e-3, 3000
    model = _compiled(vehicle, step)
    data = mujoco.MjData(model)
    t = step * np.arange(count + 1, dtype=float)
    track = (vehicle.front.track + vehicle.rear.track) / 2
    ends = wheel_heights(event, RoughSurface(), SPEED, vehicle.wheelbase, track, t)
    middle, rate = (ends[:, 1:] + ends[:, :-1]) / 2, np.diff(ends) / step
    wheels = _wheels(vehicle)
    rows = np.array([_row(model, combination) for _, combination in wheels])
    force = np.array(
        [axle.tyre.rate * middle[i] + axle.tyre.damping * rate[i] for i, (axle, _) in enumerate(wheels)]
    )
    states = np.zeros((count + 1, model.nv))
    for number, push in enumerate(force.T @ rows):
        data.qfrc_applied[:] = push
        mujoco.mj_step(model, data)
        states[number + 1] = data.qpos

    ours = time_response(assemble(vehicle), t, ends).y
    for key in ("heave", "roll", "pitch"):
        theirs = states @ _row(model, {"z" if key == "heave" else key: 1.0})
        allowed = 1e-4 * np.abs(theirs).max() + 1e-12
        yield beside(f"{name}, {side}: {key}", ours[channel_index(key)], theirs, within=allowed)
    largest = np.abs(states @ rows.T).max()
    for number, corner in enumerate(("FL", "FR", "RL", "RR")):
        found = ours[channel_index(f"wheel_{corner}")]
        yield beside(f"{name}, {side}: wheel {corner}", found, states @ rows[number], within=1e-4 * largest)


@CHAPTER.check(
    "Nonlinear run over a hard bump",
    source="MuJoCo, RK4 of 0.5 ms, with the laws of force written a second time",
    status="computed apart",
    reason="1e-3 of the peak of each: at the end of a step MuJoCo is already given the rate of the road "
    "that follows, ours takes the one of the step, which leaves some 2e-4 through the damping of the tyres",
)
def nonlinear_run() -> Numbers:
    """A car of 25 elements, linkages, friction and stops that are touched, wheels that leave the road; SI."""
    from models.verification.engines.mujoco_car import compiled_car, driven, stepped

    step, count = 0.5e-3, 2000
    t = step * np.arange(count + 1, dtype=float)
    w = hard_bump(t)
    ours = simulate(EVERY_LAW, t, w)
    yield beside("a stop is touched (1: yes)", float(ours.stop_contact.any()), 1.0)
    yield beside("a wheel leaves the road (1: yes)", float(ours.lift_off.any()), 1.0)
    engine = compiled_car(EVERY_LAW, step)
    with driven(IndependentCar(EVERY_LAW, t, w)):
        theirs = stepped(engine, count)
    for row, name in enumerate(EVERY_LAW.dof):
        within = 1e-3 * np.abs(theirs[:, row]).max()
        yield beside(name, ours.q[:, row], theirs[:, row], within=within)
