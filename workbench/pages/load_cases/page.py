"""The page of the load cases."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from models.analysis import Analysis
from models.judge.statics import LoadCaseRow, load_case_table
from models.units import UnitChoice
from models.vehicle import AS_DESIGNED, LoadCase, Vehicle
from workbench.document import Document
from workbench.pages.load_cases.table import LoadCaseTable
from workbench.pages.load_cases.texts import remarks
from workbench.runner import Runner
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["LoadCasesPage"]

_LANE = "load cases"
# Rows of which all are computed within a frame; more of them go to the worker thread.
_DIRECT = 3

_Key = tuple[Vehicle, LoadCase]


@dataclass(frozen=True, slots=True)
class _Shown:
    candidate: Vehicle
    baseline: Vehicle | None
    names: tuple[str, str]


class LoadCasesPage(QWidget):
    """Table of all load cases; a click on one makes it the one that the car carries.

    While the page is out of sight nothing is computed for it.
    """

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._runner = document, runner
        self._shown: _Shown | None = None
        self._known: dict[_Key, LoadCaseRow] = {}
        self._theme = LIGHT
        self.table = LoadCaseTable(self)
        self.caption = QLabel(self)
        self.remarks = QLabel(self)
        for label in (self.caption, self.remarks):
            label.setFont(small_font(self.font()))
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            label.setContentsMargins(9, 2, 9, 2)
        self.remarks.setAccessibleName("Remarks on the load case")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 4, 0, 0)
        self._column.setSpacing(2)
        for widget in (self.caption, self.table, self.remarks):
            self._column.addWidget(widget)
        self._column.addStretch(1)
        self.table.picked.connect(self._choose)
        document.changed.connect(self._update)
        document.opened.connect(self._update)

    def add_editor(self, editor: QWidget) -> None:
        """Put the editor of the load cases below the table."""
        self._column.takeAt(self._column.count() - 1)
        self._column.addWidget(editor, 1)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self.table.set_theme(theme)
        self.caption.setStyleSheet(f"color: {theme.faint}")
        self._show()

    def set_units(self, units: UnitChoice) -> None:
        """Show the figures in other units."""
        self.table.set_units(units)

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Show these cars in all load cases of the project; names of candidate and baseline."""
        self._shown = _Shown(candidate.vehicle, baseline.vehicle if baseline else None, names)
        self._update()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._update()

    def _choose(self, name: str) -> None:
        self._document.edit(("load_case",), name)

    def _update(self) -> None:
        if self._shown is None or not self.isVisible():
            return
        missing = [key for key in self._wanted() if key not in self._known]
        if len(missing) > _DIRECT:
            self._runner.start(
                _LANE,
                "Computing the load cases",
                lambda _job: _rows(missing),
                self._keep,
                lambda _error: None,
            )
            return
        self._runner.cancel(_LANE)
        self._keep(_rows(missing))

    def _wanted(self) -> list[_Key]:
        assert self._shown is not None
        cases = (AS_DESIGNED, *self._document.project.load_cases)
        cars = (self._shown.candidate, self._shown.baseline)
        return [(car, case) for car in cars if car is not None for case in cases]

    def _keep(self, rows: dict[_Key, LoadCaseRow]) -> None:
        known = {**self._known, **rows}
        wanted = self._wanted()
        if all(key in known for key in wanted):
            self._known = {key: known[key] for key in wanted}
            self._show()

    def _show(self) -> None:
        if self._shown is None or not self._known:
            return
        rows = list(self._known.values())
        count = 1 + len(self._document.project.load_cases)
        candidate, baseline = tuple(rows[:count]), tuple(rows[count:])
        chosen = self._document.project.load_case
        self.table.show_rows(candidate, baseline, chosen)
        name, other = self._shown.names
        self.caption.setText(f"{name}; faint: {other}" if baseline else name)
        row = next((row for row in candidate if row.name == chosen), candidate[0])
        self.remarks.setText(remarks(row))
        self.remarks.setVisible(bool(remarks(row)))
        self.remarks.setStyleSheet(f"color: {self._theme.mark}")


def _rows(keys: list[_Key]) -> dict[_Key, LoadCaseRow]:
    return {(vehicle, load): load_case_table(vehicle, (load,))[0] for vehicle, load in keys}
