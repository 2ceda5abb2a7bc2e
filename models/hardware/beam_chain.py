"""Beams in a row on springs: the direct stiffness method in space.

Euler-Bernoulli bending with Timoshenko's shear, plain torsion and stretch, each exact for a straight piece
loaded at its ends only.  The matrix of a chain is a band, which scipy solves in some tenths of a millisecond;
a library for frames of any shape takes a hundred times as long.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solveh_banded

from models.hardware.round_section import BeamSection

__all__ = ["ChainForces", "Support", "solve_chain"]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Support:
    """Springs from a node to a base that may move.

    Attributes:
        node: its number.
        rate: (6, 6) symmetric, N/m, N·m/rad; displacements first, then rotations.
        moved: (6,) of the base, m and rad.
    """

    node: int
    rate: Array
    moved: Array


@dataclass(frozen=True, slots=True, eq=False)
class ChainForces:
    """How a chain of n nodes and n - 1 pieces stands.

    Attributes:
        displacement: (n, 6) displacements and rotations along x, y, z, m and rad.
        force, moment: (n - 1, 2, 3) what the part beyond a section does to the part before it, at the start
            and the end of each piece; N and N·m along x, y, z.
        support: (supports, 6) force and moment of each support on the chain, N and N·m.
    """

    displacement: Array
    force: Array
    moment: Array
    support: Array


def solve_chain(
    nodes: Array, section: BeamSection, youngs: float, shear: float, supports: Sequence[Support]
) -> ChainForces:
    """Equilibrium of a chain of straight pieces for small displacements.

    Args:
        nodes: (n, 3) m, no two neighbours at one place.
        section: of every piece.
        youngs, shear: moduli E and G, Pa.
        supports: enough of them to hold the chain.

    Raises:
        numpy.linalg.LinAlgError: the supports do not hold the chain.
    """
    stiffness = _pieces(nodes, section, youngs, shear)
    band, load = _band(stiffness), np.zeros((len(nodes), 6))
    for support in supports:
        first = 6 * support.node
        for row, column in zip(*np.tril_indices(6), strict=True):
            band[row - column, first + column] += support.rate[row, column]
        load[support.node] += support.rate @ support.moved
    moved = solveh_banded(band, load.ravel(), lower=True).reshape(-1, 6)
    ends = np.einsum("eij,ej->ei", stiffness, np.concatenate([moved[:-1], moved[1:]], axis=1))
    ends[:, :6] *= -1  # at the start the part beyond is the piece itself
    both = ends.reshape(-1, 2, 2, 3)
    held = [support.rate @ (support.moved - moved[support.node]) for support in supports]
    return ChainForces(moved, both[:, :, 0], both[:, :, 1], np.array(held).reshape(-1, 6))


def _pieces(nodes: Array, section: BeamSection, youngs: float, shear: float) -> Array:
    """(n - 1, 12, 12) stiffness of each piece along x, y, z."""
    along = np.diff(nodes, axis=0)
    length = np.linalg.norm(along, axis=1)
    local = _local(length, section, youngs, shear)
    axes = _axes(along / length[:, None])
    turn = np.zeros((len(length), 12, 12))
    for first in range(0, 12, 3):
        turn[:, first : first + 3, first : first + 3] = axes
    stiffness: Array = turn.transpose(0, 2, 1) @ local @ turn
    return stiffness


def _local(length: Array, section: BeamSection, youngs: float, shear: float) -> Array:
    """(e, 12, 12) stiffness in the axes of the piece; the first one runs along it."""
    bent = youngs * section.bending
    soft = 12 * bent / (shear * section.shear_area * length**2)
    side = 12 * bent / (length**3 * (1 + soft))
    tilt = side * length / 2
    near, far = (4 + soft) * bent / (length * (1 + soft)), (2 - soft) * bent / (length * (1 + soft))
    stretch, twist = youngs * section.area / length, shear * section.torsion / length
    k = np.zeros((len(length), 12, 12))
    for i, rate in ((0, stretch), (3, twist), (1, side), (2, side)):
        k[:, i, i] = k[:, i + 6, i + 6] = rate
        k[:, i, i + 6] = k[:, i + 6, i] = -rate
    for across, about, sign in ((1, 5, 1.0), (2, 4, -1.0)):
        k[:, about, about] = k[:, about + 6, about + 6] = near
        k[:, about, about + 6] = k[:, about + 6, about] = far
        for end, way in ((across, sign), (across + 6, -sign)):
            for turned in (about, about + 6):
                k[:, end, turned] = k[:, turned, end] = way * tilt
    return k


def _axes(along: Array) -> Array:
    """(e, 3, 3) rows: the piece and two directions across it; which ones is no matter to a round section."""
    least = np.eye(3)[np.abs(along).argmin(axis=1)]
    across = np.cross(along, least)
    across /= np.linalg.norm(across, axis=1)[:, None]
    return np.stack([along, across, np.cross(along, across)], axis=1)


def _band(stiffness: Array) -> Array:
    """(12, 6 n) lower band of the whole matrix."""
    pieces = len(stiffness)
    band = np.zeros((12, 6 * (pieces + 1)))
    for row, column in zip(*np.tril_indices(12), strict=True):
        band[row - column, column : column + 6 * pieces : 6] += stiffness[:, row, column]
    return band
