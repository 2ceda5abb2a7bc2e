"""One car on the stage, with what is made once per result."""

from __future__ import annotations

from functools import cached_property

from models.analysis import Analysis
from models.judge.clearance import ClearanceInRun, clearance_in_run
from workbench.stage.car_painter import CarPaths
from workbench.stage.scene import sides_differ
from workbench.stage.seat_path import SeatPath, seat_path
from workbench.stage.silhouette import silhouette

__all__ = ["Actor"]


class Actor:
    """A result with its lines; path and clearance are made when they are first shown."""

    def __init__(self, analysis: Analysis) -> None:
        self.analysis = analysis
        self.paths = CarPaths(silhouette(analysis.vehicle))
        self.far_side = sides_differ(analysis)

    @cached_property
    def seat_path(self) -> SeatPath:
        """Path of the seat point."""
        return seat_path(self.analysis, self.paths.body)

    @cached_property
    def clearance(self) -> ClearanceInRun | None:
        """Clearance of the points under the body over the run."""
        return clearance_in_run(self.analysis)
