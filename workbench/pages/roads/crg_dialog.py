"""Import of a road from OpenCRG: where on the surface the wheels run."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QLineEdit, QWidget

from models.roads import MeasuredRoad
from models.roads.opencrg import CurvedGrid, read_opencrg, tracks
from models.roads.prepare import prepared
from models.units import UnitChoice
from workbench.pages.roads.import_dialog import ImportDialog, Read
from workbench.runner import Runner
from workbench.theme import Theme

__all__ = ["CrgDialog"]


class CrgDialog(ImportDialog):
    """Track and place of the car across the surface."""

    def __init__(
        self,
        path: Path,
        track: float,
        runner: Runner,
        units: UnitChoice,
        theme: Theme,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(path, runner, units, theme, parent)
        self._grid: list[CurvedGrid] = []  # read once; filled in the worker thread
        self._usual_track = track
        self.track = QLineEdit(f"{track:.4g} m", self)
        self.centre = QLineEdit("0 m", self)
        self.track.setToolTip("Distance of the left and the right wheel")
        self.centre.setToolTip("Middle of the car left (+) or right (−) of the reference line of the road")
        for label, edit in (("Track", self.track), ("Left of centre", self.centre)):
            edit.textEdited.connect(self.change)
            self.add_choice(label, edit)
        self.add_common()

    def reader(self) -> Read:
        track = self.length(self.track, "track")
        centre = self.length(self.centre, "left of centre") or 0.0
        step, detrend, path, kept = self.length(self.step, "step"), self.chosen_detrend, self.path, self._grid
        across = self._usual_track if track is None else track

        def read() -> MeasuredRoad:
            if not kept:
                kept.append(read_opencrg(path))
            return prepared(tracks(kept[0], across, path.name, centre), detrend, step)

        return read
