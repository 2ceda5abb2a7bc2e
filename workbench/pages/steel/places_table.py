"""The places of a car that may hold a part in steel: rate, stress and safety at a glance."""

from __future__ import annotations

import math
from collections.abc import Mapping

from PySide6.QtCore import QItemSelection, QItemSelectionModel, QSize, Qt, Signal
from PySide6.QtGui import QColor, QResizeEvent, QStandardItemModel
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QSizePolicy, QWidget

from models.hardware import PLACES, Place
from models.judge.part_report import PLACE_NAMES, TOLERANCE, PartReport
from workbench.pages.steel.words import off_text, part_text, value_with_unit
from workbench.table_dress import LEFT, RIGHT, FilledTable, dress_table, make_rows

__all__ = ["PlacesTable"]

_COLUMNS = ("Place", "Part", "Steel", "Car", "Off by", "Stress", "Safety")
_NAME, _PART, _STEEL, _CAR, _OFF, _STRESS, _SAFETY = range(len(_COLUMNS))
_TIPS = (
    "Where the part is; left and right are alike",
    "What it is made as",
    "What the part in steel gives: rate of a spring or bar",
    "What the car has in its place",
    "Steel against car, per cent of the car; above 1 % it is marked",
    "Greatest stress in all load cases and at the stops",
    "Allowed stress / greatest stress; of gas, of pressures. Below 1 it is marked",
)
_WIDEST = {_STEEL: "00000 lbf·in/deg", _CAR: "00000 lbf·in/deg", _OFF: "+1000 %", _STRESS: "0000 MPa"}
_WIDEST |= {_SAFETY: "Safety"}
_ACROSS = Qt.Orientation.Horizontal
_MARGIN = 10
# Width from which all columns have room, px.
_ROOMY = 760


class PlacesTable(FilledTable):
    """One row per place.

    Signals:
        picked(str): another place was chosen.
    """

    picked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._reports: Mapping[Place, PartReport] = {}
        self.cells = QStandardItemModel(len(PLACES), len(_COLUMNS), self)
        self.cells.setHorizontalHeaderLabels(_COLUMNS)
        self.setModel(self.cells)
        self._dress()
        self._fill()
        self.selectionModel().selectionChanged.connect(self._selected)
        self.choose(PLACES[0])

    def _dress(self) -> None:
        metrics = dress_table(self, "Places of the parts in steel")
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        header = self.horizontalHeader()
        header.setDefaultAlignment(RIGHT)
        for column, widest in _WIDEST.items():
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            self.setColumnWidth(column, metrics.horizontalAdvance(widest) + _MARGIN)
        self._name_width = max(map(metrics.horizontalAdvance, PLACE_NAMES.values())) + 2 * _MARGIN
        self._lay_out()
        for column, tip in enumerate(_TIPS):
            self.cells.setHeaderData(column, _ACROSS, tip, Qt.ItemDataRole.ToolTipRole)
        for column in (_NAME, _PART):
            self.cells.setHeaderData(column, _ACROSS, LEFT, Qt.ItemDataRole.TextAlignmentRole)
        make_rows(self.cells, len(PLACES), (_NAME, _PART))
        for row, place in enumerate(PLACES):
            for column, tip in enumerate(_TIPS):
                self.cells.item(row, column).setToolTip(tip)
            self.cells.item(row, _NAME).setText(PLACE_NAMES[place])

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    def _lay_out(self) -> None:
        """What a part is made as is told where there is room for it."""
        roomy = self.width() >= _ROOMY
        self.setColumnHidden(_PART, not roomy)
        header = self.horizontalHeader()
        for column, widens in ((_NAME, not roomy), (_PART, roomy)):
            mode = QHeaderView.ResizeMode.Stretch if widens else QHeaderView.ResizeMode.Fixed
            header.setSectionResizeMode(column, mode)
        if roomy:
            self.setColumnWidth(_NAME, self._name_width)

    def sizeHint(self) -> QSize:
        rows = len(PLACES) * self.verticalHeader().defaultSectionSize()
        return QSize(500, self.horizontalHeader().sizeHint().height() + rows + 2 * self.frameWidth())

    def minimumSizeHint(self) -> QSize:
        return QSize(0, self.sizeHint().height() // 2)

    @property
    def chosen(self) -> Place:
        """The place that is chosen."""
        return PLACES[max(self.currentIndex().row(), 0)]

    def choose(self, place: Place) -> None:
        """Choose a place."""
        flags = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
        self.selectionModel().setCurrentIndex(self.cells.index(PLACES.index(place), 0), flags)

    def show_reports(self, reports: Mapping[Place, PartReport]) -> None:
        """Show what the parts give and bear."""
        self._reports = reports
        self._fill()

    def _fill(self) -> None:
        theme = self._theme
        for row, place in enumerate(PLACES):
            report = self._reports.get(place)
            if report is None or report.part is None:
                texts = {
                    _PART: "",
                    _STEEL: "not described" if report else "",
                    _CAR: "",
                    _OFF: "",
                    _STRESS: "",
                    _SAFETY: "",
                }
                colours = dict.fromkeys(range(len(_COLUMNS)), theme.faint)
            else:
                texts, colours = self._texts(report), self._colours(report)
            for column, text in texts.items():
                if self.cells.item(row, column).text() != text:
                    self.cells.item(row, column).setText(text)
            for column, colour in colours.items():
                self.cells.item(row, column).setForeground(QColor(colour))

    def _texts(self, report: PartReport) -> dict[int, str]:
        first = report.changes[0]
        safety, stress = report.safety, report.highest_stress
        if not math.isfinite(safety):  # a part that carries nothing
            stress = math.nan
        return {
            _PART: part_text(report.part, self._units),
            _STEEL: value_with_unit(first.steel, first.kind, self._units),
            _CAR: value_with_unit(first.car, first.kind, self._units),
            _OFF: off_text(first),
            _STRESS: value_with_unit(stress, "stress", self._units),
            _SAFETY: f"{safety:.2f}" if math.isfinite(safety) else "–",
        }

    def _colours(self, report: PartReport) -> dict[int, str]:
        theme = self._theme
        off = not abs(report.changes[0].difference) <= TOLERANCE
        return {
            _NAME: theme.ink,
            _PART: theme.faint,
            _STEEL: theme.candidate,
            _CAR: theme.ink,
            _OFF: theme.mark if off else theme.faint,
            _STRESS: theme.ink,
            _SAFETY: theme.mark if report.safety < 1 else theme.ink,
        }

    def _selected(self, _chosen: QItemSelection, _left: QItemSelection) -> None:
        if self.selectionModel().selectedRows():
            self.picked.emit(self.chosen)
