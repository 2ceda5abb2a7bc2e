"""A nonlinear car as MuJoCo sees it: bodies on slides, tendons across the suspension, forces on both.

MuJoCo keeps the masses, weight, kinematics and integration; only the laws of force are handed to it.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from xml.etree import ElementTree

import mujoco
import numpy as np
from numpy.typing import NDArray

from models.ride.nonlinear_model import NonlinearModel
from models.verification.engines.independent_car import IndependentCar
from models.verification.engines.nonlinear_cars import GRAVITY

__all__ = ["compiled_car", "driven", "slides", "stepped"]

Array = NDArray[np.float64]

#: Turning degrees of freedom, whose mass on a slide is an inertia and has no weight.
TURNING = ("roll", "pitch")


def slides(model: NonlinearModel, step: float) -> tuple[ElementTree.Element, ElementTree.Element]:
    """Document with a body on a vertical slide for each degree of freedom, and its tendons' section."""
    root = ElementTree.Element("mujoco")
    option = {"gravity": f"0 0 {-GRAVITY}", "integrator": "RK4", "timestep": repr(step)}
    flags = ElementTree.SubElement(ElementTree.SubElement(root, "option", option), "flag")
    flags.set("contact", "disable")
    world, tendons = ElementTree.SubElement(root, "worldbody"), ElementTree.SubElement(root, "tendon")
    for name, mass in zip(model.dof, np.diag(model.mass), strict=True):
        body = ElementTree.SubElement(world, "body", gravcomp="1" if name in TURNING else "0")
        ElementTree.SubElement(body, "joint", name=name, type="slide", axis="0 0 1")
        ElementTree.SubElement(body, "inertial", pos="0 0 0", mass=repr(float(mass)), diaginertia="1 1 1")
    return root, tendons


def compiled_car(model: NonlinearModel, step: float) -> mujoco.MjModel:
    """Car with a tendon and a motor for each deflection coordinate, and a motor at each wheel.

    To be compiled before :func:`driven`, as compiling steps the model too.
    """
    root, tendons = slides(model, step)
    motors = ElementTree.SubElement(root, "actuator")
    for number, row in enumerate(model.coordinates):
        line = ElementTree.SubElement(tendons, "fixed", name=f"x{number}")
        for name, part in zip(model.dof, row, strict=True):
            if part:
                ElementTree.SubElement(line, "joint", joint=name, coef=repr(float(part)))
        ElementTree.SubElement(motors, "motor", tendon=f"x{number}")
    for row in model.wheels:
        ElementTree.SubElement(motors, "motor", joint=model.dof[int(np.flatnonzero(row)[0])])
    return mujoco.MjModel.from_xml_string(ElementTree.tostring(root, encoding="unicode"))


@contextmanager
def driven(car: IndependentCar) -> Iterator[None]:
    """While it lasts, MuJoCo asks the laws of this car for forces at each stage of its steps."""
    count = len(car.coordinates)
    wheels = car.wheels.argmax(axis=1)

    def forces(model: mujoco.MjModel, data: mujoco.MjData) -> None:
        data.ctrl[:count] = -car.pull(data.ten_length, data.ten_velocity)
        data.ctrl[count:] = car.tyre_force(data.time, data.qpos[wheels], data.qvel[wheels])

    mujoco.set_mjcb_control(forces)
    try:
        yield
    finally:
        mujoco.set_mjcb_control(None)


def stepped(model: mujoco.MjModel, count: int) -> Array:
    """(count + 1, n) positions over steps from rest."""
    data = mujoco.MjData(model)
    q = np.zeros((count + 1, model.nv))
    for number in range(count):
        mujoco.mj_step(model, data)
        q[number + 1] = data.qpos
    return q
