"""The page "Modes": what swings how fast, how well it is damped, and dampers for a wanted damping."""

from __future__ import annotations

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from models.analysis import Analysis
from models.ride.mode_shape import ModeShapes, mode_shapes
from models.units import UnitChoice
from workbench.document import Document
from workbench.pages.modes.damp_row import DampRow
from workbench.pages.modes.shape_view import ShapeView, pose
from workbench.pages.modes.table import ModesTable
from workbench.runner import Runner
from workbench.theme import Theme

__all__ = ["ModesPage"]

_FIRST = "pitch"


class ModesPage(QWidget):
    """Table of the modes, the row that damps them, and a drawing of the selected one.

    Nothing is computed while the page is hidden.
    """

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._results: tuple[Analysis, Analysis | None] | None = None
        self._stale = False
        self._shapes: tuple[ModeShapes, ModeShapes | None] | None = None
        self._chosen = ""
        self.table = ModesTable(self)
        self.damp = DampRow(document, runner, self)
        self.drawing = ShapeView(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for widget in (self.table, self.damp, self.drawing):
            column.addWidget(widget, 1 if widget is self.drawing else 0)
        self.table.picked.connect(self._pick)

    def show_results(
        self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str] = ("", "")
    ) -> None:
        """Show the modes of candidate and baseline; ``names`` of the variants are not needed here."""
        self._results = candidate, baseline
        self._stale = True
        if self.isVisible():
            self._refresh()

    def set_units(self, units: UnitChoice) -> None:
        """Show lengths in other units."""
        self.table.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for part in (self.table, self.damp, self.drawing):
            part.set_theme(theme)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._refresh()

    def _refresh(self) -> None:
        if self._results is None or not self._stale:
            return
        self._stale = False
        candidate, baseline = self._results
        shapes = mode_shapes(candidate.model, candidate.modes)
        other = None if baseline is None else mode_shapes(baseline.model, baseline.modes)
        self._shapes = shapes, other
        self.table.show_modes(candidate.modes, shapes, None if baseline is None else baseline.modes)
        if self._chosen not in shapes.names:
            self._chosen = _FIRST if _FIRST in shapes.names else shapes.names[0]
            self.table.choose(self._chosen)
        self._draw()
        self.damp.show_candidate(candidate)

    def _pick(self, name: str) -> None:
        self._chosen = name
        self._draw()

    def _draw(self) -> None:
        if self._shapes is None:
            return
        shapes, other = self._shapes
        candidate = pose(shapes, shapes.names.index(self._chosen))
        baseline = (
            None
            if other is None or self._chosen not in other.names
            else pose(other, other.names.index(self._chosen), like=candidate)
        )
        self.drawing.show_mode(self._chosen, candidate, baseline)
