"""Drives of the cars over the road mix, road by road in the worker thread."""

from __future__ import annotations

from dataclasses import dataclass, replace

from PySide6.QtCore import QObject, Signal

from models.judge.road_loads import RoadLoads, road_loads
from models.roads import RoadShare
from models.roads.mix import mix_shares
from models.run import Run
from models.vehicle import LoadCase, Vehicle
from workbench.runner import Job, Runner

__all__ = ["Drive", "MixRuns"]

_LANE = "road loads"
_TITLE = "Driving the road mix"


@dataclass(frozen=True, slots=True)
class Drive:
    """What is driven.

    Attributes:
        cars: one after the other.
        run: as :func:`models.judge.mix.run_of_mix` gives it.
        load: load case.
        mix: roads.
    """

    cars: tuple[Vehicle, ...]
    run: Run
    load: LoadCase
    mix: tuple[RoadShare, ...]


class MixRuns(QObject):
    """Keeps the loads of one drive.

    Each road is a job of its own, so that other work gets its turn in between.

    Signals:
        came: the loads of one more road are there.
        failed(str): a road could not be driven; the rest is not.
    """

    came = Signal()
    failed = Signal(str)

    def __init__(self, runner: Runner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._runner = runner
        self._job: Job | None = None
        self._roads: list[tuple[RoadShare, float]] = []
        self._found: list[list[RoadLoads]] = []
        self.drive: Drive | None = None

    @property
    def running(self) -> bool:
        """Whether a road is being driven."""
        return self._job is not None and not self._job.cancelled

    @property
    def progress(self) -> tuple[int, int]:
        """Roads that have been driven by all cars together, and of how many."""
        return sum(map(len, self._found)), len(self._roads) * len(self._found)

    def want(self, drive: Drive) -> None:
        """Drive this, or go on with it."""
        if drive != self.drive:
            self.drive = drive
            self._found = [[] for _ in drive.cars]
            shares = zip(drive.mix, mix_shares(drive.mix).tolist(), strict=True)
            self._roads = [(road, share) for road, share in shares if share > 0]
        elif self.running:
            return
        self._next()

    def stop(self) -> None:
        """Nobody looks any more; what has been driven stays."""
        if self._job is not None:
            self._job = None
            self._runner.cancel(_LANE)

    def loads(self, number: int) -> tuple[RoadLoads, ...] | None:
        """Loads of all roads by a car; None before they are there."""
        whole = number < len(self._found) and len(self._found[number]) == len(self._roads)
        return tuple(self._found[number]) if whole else None

    def _next(self) -> None:
        number = next((n for n, found in enumerate(self._found) if len(found) < len(self._roads)), None)
        if number is None or self.drive is None:
            self._job = None
            return
        found, drive = self._found[number], self.drive
        road, share = self._roads[len(found)]
        done, total = self.progress

        def work(job: Job) -> RoadLoads:
            (loads,) = road_loads(
                drive.cars[number],
                drive.run,
                drive.load,
                (road,),
                lambda part: job.report((done + part) / total),
            )
            return replace(loads, share=share)

        def add(loads: RoadLoads) -> None:
            found.append(loads)
            self._next()
            self.came.emit()

        self._job = self._runner.start(_LANE, _TITLE, work, add, self._broken)

    def _broken(self, error: Exception) -> None:
        self._job = None
        self.failed.emit(str(error))
