"""Shear, torsion and bending of the frame at its section, from the forces of the elements and the inertia."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.constants import g

from models.assembly import Mechanics, RideModel
from models.statics import Statics

__all__ = ["frame_loads", "frame_rows", "static_frame_loads"]

Array = NDArray[np.float64]


def frame_rows(model: RideModel) -> tuple[Array, Array, Array]:
    """(3, n) rows on q, q̇ and q̈ of the changes of shear N, torsion and bending N·m.

    Rows of a load about which a smaller model can say nothing are zero: torsion of the half car in pitch,
    bending of the one in roll, all of the quarter car.
    """
    force, way = model.section.force, model.incidence @ model.deflections
    stiffness = np.array([element.stiffness for element in model.elements])
    damping = np.array([element.damping for element in model.elements])
    return (force * stiffness) @ way, (force * damping) @ way, -model.section.inertia @ model.body


def frame_loads(model: RideModel, element_force: Array, acceleration: Array) -> Array:
    """(3, N) changes of shear, torsion and bending over time.

    Args:
        model: the car.
        element_force: (elements, N) changes of the element forces.
        acceleration: (n, N) of its degrees of freedom.
    """
    section = model.section
    loads: Array = section.force @ element_force - section.inertia @ (model.body @ acceleration)
    return loads


def static_frame_loads(car: Mechanics, stand: Statics) -> Array:
    """(3,) shear N, torsion and bending N·m of the car at rest in its load case."""
    loads: Array = car.section.force @ stand.force - g * car.section.inertia[:, 0]
    return loads
