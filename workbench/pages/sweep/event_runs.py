"""The time runs behind the figures of the event over speed, one by one in the worker thread."""

from __future__ import annotations

from collections import OrderedDict
from functools import cached_property
from itertools import pairwise

from PySide6.QtCore import QObject, QTimer, Signal

from models.analysis import Analysis
from models.errors import InputError
from models.judge.event_sweep import event_speeds, event_values, sweep_of
from models.judge.speed_sweep import Sweep
from models.run import Run
from models.vehicle import LoadCase, Vehicle
from workbench.runner import Job, Runner

__all__ = ["EventRuns", "refining"]

_LANE = "event speeds"
_TITLE = "Computing the event over the speeds"
# Edits of a drag come faster than all speeds are driven, ms.
_PAUSE = 120
_KEPT = 12

_Points = dict[float, dict[str, float]]


class _Key:
    """What the values at all speeds depend on; the hash, a walk through the car, is taken once."""

    def __init__(self, car: Analysis) -> None:
        self._all: tuple[Vehicle, Run, LoadCase, bool] = (
            car.vehicle,
            car.run,
            car.load,
            car.nonlinear is not None,
        )

    @cached_property
    def _hash(self) -> int:
        return hash(self._all)

    def __hash__(self) -> int:
        return self._hash

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Key) and self._all == other._all


class EventRuns(QObject):
    """Drives the cars at one speed after another, coarse at first, and keeps what it has.

    Each speed is a job of its own, so that other work gets its turn in between.  Newer cars make what runs
    stale.

    Attributes:
        cars: what is driven.

    Signals:
        came: there is more to show.
        failed(str): a run broke down.
    """

    came = Signal()
    failed = Signal(str)

    def __init__(self, runner: Runner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._runner = runner
        self.cars: tuple[Analysis, ...] = ()
        self._keys: tuple[_Key, ...] = ()
        self._order: tuple[float, ...] = ()
        self._kept: OrderedDict[_Key, _Points] = OrderedDict()
        self._job: Job | None = None
        self._due = QTimer(self, singleShot=True, interval=_PAUSE)
        self._due.timeout.connect(self._next)

    @property
    def progress(self) -> tuple[int, int]:
        """Speeds at which all cars have been driven, and of how many."""
        return len(self._done()), len(self._order)

    @property
    def running(self) -> bool:
        """Whether runs are going on or about to."""
        return self._due.isActive() or (self._job is not None and not self._job.cancelled)

    def want(self, cars: tuple[Analysis, ...]) -> None:
        """Drive these cars, all in the same run; what is known of them is shown at once."""
        keys = tuple(map(_Key, cars))
        self.cars = cars
        if keys == self._keys and (self.running or not self._missing()):
            return
        self.stop()
        self._keys = keys
        self._order = refining(event_speeds(cars[0].run.speed).tolist(), cars[0].run.speed)
        for key in keys:
            self._kept.setdefault(key, {})
            self._kept.move_to_end(key)
        while len(self._kept) > _KEPT:
            self._kept.popitem(last=False)
        if self._missing():
            self._due.start()

    def stop(self) -> None:
        """Nobody looks any more."""
        self._due.stop()
        self._job = None
        self._runner.cancel(_LANE)

    def sweeps(self) -> list[Sweep]:
        """A sweep of each car over the speeds that all have; empty before there is one."""
        speeds = self._done()
        if not speeds:
            return []
        return [sweep_of({speed: self._kept[key][speed] for speed in speeds}) for key in self._keys]

    def _done(self) -> list[float]:
        return [speed for speed in self._order if all(speed in self._kept[key] for key in self._keys)]

    def _missing(self) -> list[float]:
        done = set(self._done())
        return [speed for speed in self._order if speed not in done]

    def _next(self) -> None:
        missing = self._missing()
        if not missing:
            self._job = None
            return
        speed = missing[0]
        share = 1 - len(missing) / len(self._order)
        wanted = {
            key: car for key, car in zip(self._keys, self.cars, strict=True) if speed not in self._kept[key]
        }

        def work(job: Job) -> dict[_Key, dict[str, float]]:
            job.report(share)
            return {key: _values(car, speed) for key, car in wanted.items()}

        def done(found: dict[_Key, dict[str, float]]) -> None:
            for key, values in found.items():
                self._kept[key][speed] = values
            self._next()
            self.came.emit()

        self._job = self._runner.start(_LANE, _TITLE, work, done, self._broken)

    def _broken(self, error: Exception) -> None:
        self._job = None
        self.failed.emit(f"The event over the speeds could not be computed. {error}")


def refining(speeds: list[float], own: float) -> tuple[float, ...]:
    """The speeds in an order in which any first part of them shows all of the curve.

    First the speed of the run and the two ends, then the middle of the widest gap that is left.

    Args:
        speeds: m/s, rising.
        own: of the run, one of them.
    """
    taken = sorted({0, speeds.index(own), len(speeds) - 1})
    order = sorted(taken, key=lambda place: speeds[place] != own)
    while len(taken) < len(speeds):
        gaps = [(after - before, -before) for before, after in pairwise(taken)]
        width, start = max(gaps)
        order.append(width // 2 - start)
        taken = sorted((*taken, order[-1]))
    return tuple(speeds[place] for place in order)


def _values(car: Analysis, speed: float) -> dict[str, float]:
    """Nothing where the run grew beyond all bounds: a gap in the curve."""
    try:
        return event_values(car, speed)
    except InputError:
        return {}
