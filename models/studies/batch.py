"""Many variants of a car judged at once, on all cores: the same key figures as one at a time.

Variants go in lots through array formulas and compiled code (:mod:`models.studies.batch_figures`).  Those
that do not fit in, because a value is not allowed, a point of a curve or of a linkage is varied, or the car
lands on its stops or falls, are judged one by one in the ordinary way, which also finds the reason.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.errors import InputError
from models.fields import Path
from models.run import Run
from models.studies.batch_alone import judged_alone, metric_keys
from models.studies.batch_figures import lot_figures
from models.studies.batch_vehicle import allowed, is_plain, quantity, same_parts, varied
from models.vehicle import LoadCase, Vehicle

__all__ = ["Batch", "judge_batch", "metric_keys"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Rows = NDArray[np.intp]

# Cars in a lot: enough to hide the calls between the array formulas, few enough for the processor's cache.
_LOT = 512


@dataclass(frozen=True, eq=False)
class Batch:
    """Figures of many variants.

    Attributes:
        keys: of the figures, as of :func:`models.judge.key_figures`.
        values: (N, keys) SI; NaN in the rows of refused variants.
        refused: row of each variant that is no car or does not stand -> the reason.
    """

    keys: tuple[str, ...]
    values: Array
    refused: dict[int, str]


def judge_batch(
    vehicle: Vehicle,
    run: Run,
    load: LoadCase,
    paths: Sequence[Path],
    values: ArrayLike,
    metrics: Sequence[str] | None = None,
    threads: int | None = None,
) -> Batch:
    """Key figures of variants of a car.

    A row does not depend on the others, nor on the number of threads: judged in parts, all stays the same.

    Args:
        vehicle: the car.
        run: its speed, surface, model and manoeuvre; the event is not driven.
        load: what the car carries.
        paths: P numbers of the vehicle, by field names and places in tuples.
        values: (N, P) their values in each variant, SI.
        metrics: keys of :func:`metric_keys`; by default all.
        threads: how many work at once; by default one per core.

    Raises:
        InputError: the vehicle has no number at a path, or there is no such metric.
        ValueError: ``values`` has another shape.
    """
    keys = _known(run, metrics)
    table = np.asarray(values, dtype=np.float64)
    if table.ndim != 2 or table.shape[1] != len(paths):
        raise ValueError(f"values has the shape {table.shape}, not (N, {len(paths)})")
    for path in paths:
        quantity(vehicle, path)
    job = _Job(vehicle, run, load, tuple(paths), keys)
    result = np.full((len(table), len(keys)), np.nan)
    refused: dict[int, str] = {}

    def judged(rows: Rows) -> None:
        good = job.fill(table[rows], result, rows)
        for row in rows[~good].tolist():
            reason = job.fill_alone(table[row], result[row])
            if reason:
                refused[row] = reason

    _each(judged, list(job.lots(table)), threads or os.cpu_count() or 1)
    return Batch(keys, result, dict(sorted(refused.items())))


def _known(run: Run, metrics: Sequence[str] | None) -> tuple[str, ...]:
    known = metric_keys(run)
    for key in metrics or ():
        if key not in known:
            raise InputError.of("metrics", key, f"'{key}' is not known for the {run.model} in a batch")
    return known if metrics is None else tuple(metrics)


def _each(work: Callable[[Rows], None], lots: Sequence[Rows], threads: int) -> None:
    """Do the work on each lot; array formulas and compiled code let the threads run beside each other."""
    if min(threads, len(lots)) <= 1:
        for lot in lots:
            work(lot)
        return
    with ThreadPoolExecutor(threads) as pool:
        for done in [pool.submit(work, lot) for lot in lots]:
            done.result()


@dataclass(frozen=True, eq=False)
class _Job:
    """What is the same for all lots of a batch."""

    vehicle: Vehicle
    run: Run
    load: LoadCase
    paths: tuple[Path, ...]
    keys: tuple[str, ...]

    def lots(self, table: Array) -> Iterator[Rows]:
        """Rows of cars with the same parts."""
        for rows in same_parts(table):
            yield from np.array_split(rows, -(-len(rows) // _LOT))

    def fill(self, values: Array, result: Array, rows: Rows) -> Flags:
        """Fill the rows of a lot; False for those left to be judged alone."""
        good = np.zeros(len(rows), dtype=np.bool_)
        if not all(is_plain(path) for path in self.paths):
            return good
        good |= allowed(self.vehicle, self.paths, values)
        if good.any():
            found, plain = lot_figures(self.vehicle, self.run, self.load, self.paths, values[good], self.keys)
            good[good] = plain
            for place, key in enumerate(self.keys):
                result[rows[good], place] = found[key]
        return good

    def fill_alone(self, values: Array, result: Array) -> str:
        """Fill one row; the reason where there is no car that stands."""
        try:
            found = judged_alone(varied(self.vehicle, self.paths, values), self.run, self.load)
        except InputError as error:
            return str(error)
        result[:] = [found[key] for key in self.keys]
        return ""
