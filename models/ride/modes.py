"""Natural modes: undamped frequencies and shapes, damping of each, and its name."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, isfinite, pi

import numpy as np
import scipy.linalg
from numpy.typing import NDArray
from scipy.optimize import linear_sum_assignment

from models.assembly import RideModel
from models.ride.pitch_plane import pitch_plane

__all__ = ["Modes", "damping_of_modes", "modes"]

Array = NDArray[np.float64]

# An eigenvalue below this share of the largest is zero: rounding of the solver is n times 1e-16.
_ZERO = 1e-14
_HOP = ("front wheel hop", "front axle tramp", "rear wheel hop", "rear axle tramp")
# Front hop, front tramp, rear hop, rear tramp from the unsprung heights.
_HOP_SHAPES: Array = np.array([[1.0, 1, 0, 0], [1, -1, 0, 0], [0, 0, 1, 1], [0, 0, 1, -1]])


@dataclass(frozen=True, eq=False)
class Modes:
    """The n modes, in ascending undamped frequency.

    Attributes:
        names: "bounce", "pitch", "roll", "front wheel hop" (left and right together), "front axle tramp"
            (against each other) ...
        frequency: (n,) undamped natural frequency, Hz.
        shapes: (n, n) undamped shapes in columns, mass-normalised: ΦᵀMΦ = 1.
        damping_ratio: (n,) of the damped mode most like the undamped one; 1 or more when overdamped,
            inf for a damped mode without stiffness.
        damped_frequency: (n,) Hz; 0 when overdamped.
    """

    names: tuple[str, ...]
    frequency: Array
    shapes: Array
    damping_ratio: Array
    damped_frequency: Array

    def index(self, name: str) -> int:
        """Place of the mode with that name.

        Raises:
            ValueError: the model has no such mode (a half car has no roll).
        """
        return self.names.index(name)


def modes(model: RideModel) -> Modes:
    """Modes of a model; copes with modes that have no stiffness and with overdamped ones."""
    squares, shapes = scipy.linalg.eigh(model.stiffness, model.mass, check_finite=False)
    squares = np.where(squares < _ZERO * len(squares) * squares[-1], 0.0, squares)
    omega = np.sqrt(squares)
    ratio, damped = damping_of_modes(shapes.T @ model.damping @ shapes, squares)
    return Modes(_names(model, shapes), omega / (2 * pi), shapes, ratio, damped)


def damping_of_modes(damping: Array, squares: Array) -> tuple[Array, Array]:
    """Damping ratio and damped frequency (Hz) of each mode, as in :class:`Modes`.

    Args:
        damping: (n, n) modal damping matrix ΦᵀCΦ, 1/s.
        squares: (n,) ω² of the undamped modes, (rad/s)².
    """
    n = len(squares)
    state = np.zeros((2 * n, 2 * n))
    state[:n, n:] = np.eye(n)
    state[n:, :n] = -np.diag(squares)
    state[n:, n:] = -damping
    roots, vectors = np.linalg.eig(state)
    share = np.abs(vectors[:n]) ** 2 + np.abs(vectors[n:]) ** 2  # how much of each mode a root moves
    share /= share.sum(axis=0)
    slow, fast = _matched(roots, share)

    ratio, damped = np.zeros(n), np.abs(slow.imag) / (2 * pi)
    natural = np.sqrt(np.abs(slow * fast))
    decay = -(slow + fast).real / 2
    moving = squares > 0
    np.divide(decay, natural, out=ratio, where=moving & (natural > 0))
    # Without stiffness there is no critical damping to compare with.
    ratio[~moving] = np.where(np.diag(damping)[~moving] > 0, inf, 0.0)
    damped[~moving] = 0.0
    return ratio, damped


def _matched(roots: NDArray[np.complex128], share: Array) -> tuple[NDArray[np.complex128], ...]:
    """The two roots of each mode: a conjugate pair, or two real ones when overdamped."""
    n = len(share)
    first = np.zeros(n, dtype=np.complex128)
    second = np.zeros(n, dtype=np.complex128)
    swinging = np.flatnonzero(roots.imag > 0)
    rows, columns = linear_sum_assignment(-share[:, swinging])
    first[rows] = roots[swinging[columns]]
    second[rows] = first[rows].conj()
    creeping = np.flatnonzero(roots.imag == 0)
    if creeping.size:
        left = np.setdiff1d(np.arange(n), rows)
        double = np.repeat(left, 2)
        places, columns = linear_sum_assignment(-share[np.ix_(double, creeping)])
        found = roots[creeping[columns[np.argsort(places)]]]
        first[left], second[left] = found[0::2], found[1::2]
    return first, second


def _names(model: RideModel, shapes: Array) -> tuple[str, ...]:
    """Name of each mode from where its energy is."""
    names = [""] * shapes.shape[1]
    left = np.arange(shapes.shape[1])
    if len(model.occupant):
        # The cushion's share of the strain energy; the modes all have M-norm 1 and strain energy ω²/2.
        cushion = (model.deflections[4] @ shapes) ** 2 / np.maximum(
            np.einsum("im,ij,jm->m", shapes, model.stiffness, shapes), np.finfo(float).tiny
        )
        seat = int(np.argmax(cushion))
        names[seat] = "occupant on cushion"
        left = left[left != seat]
    body = model.body @ shapes
    energy = body * (model.body_mass @ body)
    bodies = int(np.count_nonzero(model.body.any(axis=1)))
    of_body = np.sort(left[np.argsort(-energy[:, left].sum(axis=0), kind="stable")[:bodies]])
    of_wheels = np.setdiff1d(left, of_body)
    for mode, name in zip(of_body, _body_names(model, body, energy, of_body), strict=True):
        names[mode] = name
    moved = _unit(np.abs(_HOP_SHAPES @ model.wheels @ shapes[:, of_wheels]))
    for shape, column in zip(*linear_sum_assignment(-(moved**2)), strict=True):
        names[of_wheels[column]] = _HOP[shape]
    if not model.body[2].any():  # without pitch nothing tells the front from the rear
        names = [name.removeprefix("front ") for name in names]
    return tuple(names)


def _body_names(model: RideModel, body: Array, energy: Array, modes: NDArray[np.intp]) -> list[str]:
    """Names of the body modes of a full car, of a half car in pitch or in roll, of a quarter car."""
    heave, roll, pitch = (bool(row.any()) for row in model.body)
    names = {int(mode): "bounce" for mode in modes}
    if roll:
        names[int(modes[np.argmax(energy[1, modes])])] = "roll"
    if heave and pitch:
        plane = np.array([mode for mode in modes if names[int(mode)] != "roll"])
        names |= dict(zip(plane.tolist(), _pitch_plane_names(model, body[:, plane]), strict=True))
    return [names[int(mode)] for mode in modes]


def _pitch_plane_names(model: RideModel, body: Array) -> tuple[str, str]:
    """Which of two body modes, (3, 2) in heave, roll and pitch, is bounce.

    Each has the name of the mode of the body alone on springs and tyres to which it is more alike in
    kinetic energy, so that names mean the same in both.
    """
    plane = pitch_plane(model, tyre_in_series=True)
    weight = np.sqrt(np.diag(model.body_mass)[[0, 2]])
    alone = weight[:, None] * np.column_stack([_about(centre) for centre in plane.motion_centre])
    whole = weight[:, None] * body[[0, 2]]
    alike = (_unit(alone).T @ _unit(whole)) ** 2
    same_order = np.trace(alike) >= np.trace(alike[::-1])
    return plane.names if same_order else (plane.names[1], plane.names[0])


def _about(centre: float) -> tuple[float, float]:
    """Heave and pitch of a turn about a point that far ahead of the CG."""
    return (centre, 1.0) if isfinite(centre) else (1.0, 0.0)


def _unit(columns: Array) -> Array:
    """Columns of length one; a column of zeros stays."""
    unit: Array = columns / np.maximum(np.linalg.norm(columns, axis=0), np.finfo(float).tiny)
    return unit
