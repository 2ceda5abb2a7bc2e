"""Holds a batch against the same cars judged one by one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import isfinite

import numpy as np
from numpy.typing import ArrayLike
from pydantic import BaseModel

from models.errors import InputError
from models.fields import Path, Quantity, described, follow
from models.judge.figure import ROUNDING
from models.run import Run
from models.studies.batch import Batch
from models.studies.batch_alone import judged_alone
from models.studies.batch_vehicle import is_plain, quantity, varied
from models.vehicle import LoadCase, Vehicle

__all__ = ["around", "assert_same", "plain_paths"]

#: What the batch promises, as a share of a figure.
PROMISED = 1e-9
#: What is less, in SI, is the difference of larger numbers (a roll of almost none, of equilibria found to
#: 1e-11 of the weight): for it, it is a share of this.
SMALL = 1e-3


def plain_paths(part: BaseModel, above: Path = ()) -> Iterator[Path]:
    """Paths of all numbers of a part that a batch takes in its stride."""
    for name, note, _ in described(type(part)):
        path, value = (*above, name), getattr(part, name)
        if isinstance(note, Quantity):
            yield path
        elif isinstance(value, BaseModel) and is_plain(path):
            yield from plain_paths(value, path)


def around(vehicle: Vehicle, path: Path, factor: ArrayLike) -> np.ndarray:
    """Values at a path about the present one, within the allowed range; of a zero, a part of its range."""
    field, value = quantity(vehicle, path), float(follow(vehicle, path))
    typical = max(abs(field.typical[0]), abs(field.typical[1])) / 4
    return np.clip(np.asarray(factor) * (value or typical), field.low, field.high)


def assert_same(
    batch: Batch, vehicle: Vehicle, run: Run, load: LoadCase, paths: Sequence[Path], values: np.ndarray
) -> None:
    """Each row equals the car judged alone, or is refused for the same reason."""
    for row, chosen in enumerate(values):
        alone, reason = _alone(vehicle, run, load, paths, chosen)
        assert batch.refused.get(row, "") == reason
        if reason:
            assert np.isnan(batch.values[row]).all()
            continue
        for key, value in zip(batch.keys, batch.values[row].tolist(), strict=True):
            promised = PROMISED * _slowness(key, alone)
            assert _alike(key, value, alone[key], promised), f"{key}: {value!r} and alone {alone[key]!r}"


def _alone(
    vehicle: Vehicle, run: Run, load: LoadCase, paths: Sequence[Path], chosen: np.ndarray
) -> tuple[dict[str, float], str]:
    """Figures of a car judged alone, or why it is none."""
    try:
        return judged_alone(varied(vehicle, paths, chosen), run, load), ""
    except InputError as error:
        return {}, str(error)


def _slowness(key: str, figures: Mapping[str, float]) -> float:
    """How much less well than others a figure of a mode is known.

    A solver finds the ω² of all modes to the same number of digits of the largest one, that of the wheels; so
    a body that hardly swings is known less well, by either way.
    """
    name, _, what = key.rpartition("_")
    if what not in ("frequency", "damping") or f"{name}_damping" not in figures or name == "wheel_mode":
        return 1.0
    return max(1.0, (0.5 / max(figures[f"{name}_frequency"], 1e-3)) ** 2)


def _alike(key: str, one: float, other: float, promised: float) -> bool:
    if not (isfinite(one) and isfinite(other)):
        return one == other or (one != one and other != other)
    # A figure below ROUNDING is given as 0, and rounding decides on which side of it one falls.
    if 0.0 in (one, other) and abs(one + other) < 1.01 * ROUNDING:
        return True
    if key.endswith("motion_centre") and min(abs(one), abs(other)) > 1.0:
        # The nearer to pure heave, the farther: the angle under which the node is seen is what is well known.
        one, other = 1 / one, 1 / other
        return abs(one - other) <= promised
    return abs(one - other) <= promised * max(abs(one), abs(other), SMALL)
