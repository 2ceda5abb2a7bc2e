"""Frequency and damping of the body modes and of the wheels of many cars, as models.ride.modes gives them."""

from __future__ import annotations

from math import pi

import numpy as np
from numpy.typing import NDArray

from models.studies.batch_car import times
from models.studies.batch_matching import pair_roots
from models.studies.batch_model import CarModels
from models.studies.batch_rates import PitchPlanes

__all__ = ["mode_values"]

Array = NDArray[np.float64]
Places = NDArray[np.intp]

# As of models.ride.modes: an eigenvalue below this share of the largest is zero.
_ZERO = 1e-14


def mode_values(models: CarModels, on_tyres: PitchPlanes) -> dict[str, Array]:
    """Frequency and damping of the body modes, and the least damping of the wheels, by key of the figure.

    Args:
        models: N cars.
        on_tyres: bounce and pitch of their bodies with the tyres in series, which give the modes their names.
    """
    squares, shapes = _undamped(models)
    frequency, ratio = np.sqrt(squares) / (2 * pi), _damping(models, squares, shapes)
    named, wheels = _names(models, shapes, on_tyres)
    values = {}
    for name, modes in named.items():
        values[f"{name}_frequency"] = _taken(frequency, modes)
        values[f"{name}_damping"] = _taken(ratio, modes)
    values["wheel_mode_damping"] = np.where(wheels, ratio, np.inf).min(axis=1)
    return values


def _undamped(models: CarModels) -> tuple[Array, Array]:
    """(N, n) ω² and (N, n, n) mass-normalised shapes."""
    root = np.linalg.inv(np.linalg.cholesky(models.mass))
    squares, turned = np.linalg.eigh(root @ models.stiffness @ root.transpose(0, 2, 1))
    squares = np.where(squares < _ZERO * squares.shape[1] * squares[:, -1:], 0.0, squares)
    return squares, root.transpose(0, 2, 1) @ turned


def _damping(models: CarModels, squares: Array, shapes: Array) -> Array:
    """(N, n) damping ratio of the damped mode most like each undamped one."""
    count, n = squares.shape
    damping = shapes.transpose(0, 2, 1) @ models.damping @ shapes
    state = np.zeros((count, 2 * n, 2 * n))
    state[:, range(n), range(n, 2 * n)] = 1.0
    state[:, range(n, 2 * n), range(n)] = -squares
    state[:, n:, n:] = -damping
    roots, vectors = np.linalg.eig(state)
    share = np.abs(vectors[:, :n]) ** 2 + np.abs(vectors[:, n:]) ** 2
    share /= share.sum(axis=1, keepdims=True)
    total, product = np.empty((count, n)), np.empty((count, n))
    pair_roots(np.ascontiguousarray(roots.real), np.ascontiguousarray(roots.imag), share, total, product)
    natural, moving = np.sqrt(np.abs(product)), squares > 0
    ratio = np.zeros((count, n))
    np.divide(-total / 2, natural, out=ratio, where=moving & (natural > 0))
    resisted = np.diagonal(damping, axis1=1, axis2=2) > 0
    return np.where(moving, ratio, np.where(resisted, np.inf, 0.0))


def _names(
    models: CarModels, shapes: Array, on_tyres: PitchPlanes
) -> tuple[dict[str, Places], NDArray[np.bool_]]:
    """Place (N,) of each body mode by its name, and (N, n) which modes are those of the wheels."""
    held = models.holding
    count, n = shapes.shape[0], shapes.shape[2]
    body = held.motion[:3] @ shapes
    energy = body * (models.body_mass @ body)
    moved, wheels = energy.sum(axis=1), np.ones((count, n), dtype=np.bool_)
    every = np.arange(count)
    if held.has_occupant:
        seat = _cushion_mode(models, shapes)
        wheels[every, seat] = False
        moved[every, seat] = -np.inf
    heave, roll, pitch = held.body
    of_body = np.sort(np.argsort(-moved, axis=1, kind="stable")[:, : heave + roll + pitch], axis=1)
    wheels[every[:, None], of_body] = False
    named: dict[str, Places] = {}
    if roll:
        place = np.argmax(np.take_along_axis(energy[:, 1], of_body, axis=1), axis=1)
        rolling = of_body[every, place]
        of_body = of_body[of_body != rolling[:, None]].reshape(count, -1)
    if pitch:
        swapped = _bounce_is_second(models, np.take_along_axis(body, of_body[:, None], axis=2), on_tyres)
        named["bounce"] = np.where(swapped, of_body[:, 1], of_body[:, 0])
        named["pitch"] = np.where(swapped, of_body[:, 0], of_body[:, 1])
    else:
        named["bounce"] = of_body[:, 0]
    if roll:
        named["roll"] = rolling
    return named, wheels


def _cushion_mode(models: CarModels, shapes: Array) -> Places:
    """(N,) mode of which the cushion has the largest share of the strain energy."""
    cushion = models.cars.deflections[:, 4] @ models.holding.motion
    stretched = times(shapes.transpose(0, 2, 1), cushion) ** 2
    strain = (shapes * (models.stiffness @ shapes)).sum(axis=1)
    share = stretched / np.maximum(strain, np.finfo(float).tiny)
    return np.asarray(np.argmax(share, axis=1))


def _bounce_is_second(models: CarModels, body: Array, on_tyres: PitchPlanes) -> NDArray[np.bool_]:
    """(N,) which of two body modes, (N, 3, 2) in heave, roll and pitch, is bounce."""
    weight = np.sqrt(models.body_mass[:, [0, 2], [0, 2]])[..., None]
    centre = on_tyres.motion_centre
    turning = np.isfinite(centre)
    alone = weight * np.stack([np.where(turning, centre, 1.0), turning * 1.0], axis=1)
    alike = (_unit(alone).transpose(0, 2, 1) @ _unit(weight * body[:, [0, 2]])) ** 2
    same_order = alike[:, 0, 0] + alike[:, 1, 1] >= alike[:, 1, 0] + alike[:, 0, 1]
    swapped: NDArray[np.bool_] = same_order != on_tyres.bounce_first
    return swapped


def _unit(columns: Array) -> Array:
    """Columns (N, 2, 2) of length one."""
    length = np.linalg.norm(columns, axis=1, keepdims=True)
    unit: Array = columns / np.maximum(length, np.finfo(float).tiny)
    return unit


def _taken(values: Array, modes: Places) -> Array:
    return np.take_along_axis(values, modes[:, None], axis=1)[:, 0]
