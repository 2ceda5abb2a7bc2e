"""The road mix road by road: what the candidate does on each, and on all together."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QColor, QShowEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QHeaderView, QLabel, QTableView, QVBoxLayout, QWidget

from models.judge.figure import Figure
from models.judge.mix import MIX_PREFIX, Mix, road_mix, run_of_mix
from models.roads import RoadShare
from models.run import Run
from models.units import KINDS, METRIC, UnitChoice, format_value
from models.vehicle import LoadCase, Vehicle
from workbench.document import Document
from workbench.runner import Job, Runner
from workbench.table_dress import dress_table
from workbench.theme import LIGHT, Theme

__all__ = ["MixShares"]

_LANE = "road mix"
# Edits of a drag come faster than all roads are driven, ms.
_PAUSE = 80
_ROAD, _TIME, _FIRST = range(3)
_COLUMNS = (
    ("rms_pitch", "RMS pitch"),
    ("rms_weighted_seat_acceleration", "Seat a_w"),
    ("event_vibration_dose", "VDV, 1 h"),
    ("road_holding", "Holding"),
    ("peak_pitch", "Peak pitch"),
)
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter

_Subject = tuple[Vehicle, Run, LoadCase, tuple[RoadShare, ...]]


class MixShares(QWidget):
    """Table of a few figures by road, computed in the worker thread while it is in sight.

    Signals:
        shown: the mix as it is now is on the screen.
    """

    shown = Signal()

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._runner = document, runner
        self._units: UnitChoice = METRIC
        self._theme = LIGHT
        self._subject: _Subject | None = None
        self._job: Job | None = None
        self.mix: Mix | None = None
        self.rows = QStandardItemModel(0, _FIRST + len(_COLUMNS), self)
        self.table, self.words = QTableView(self), QLabel(self)
        self._due = QTimer(self, singleShot=True, interval=_PAUSE)
        self._due.timeout.connect(self._compute)
        self._build()
        for changed in (document.changed, document.opened):
            changed.connect(self._follow)

    def _build(self) -> None:
        self.table.setModel(self.rows)
        metrics = dress_table(self.table, "Road mix, road by road")
        self.table.setSelectionMode(QTableView.SelectionMode.NoSelection)
        self.table.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        head = self.table.horizontalHeader()
        head.setSectionResizeMode(_ROAD, QHeaderView.ResizeMode.Stretch)
        for place, text in enumerate(["Time", *(title for _, title in _COLUMNS)], _TIME):
            head.setSectionResizeMode(place, QHeaderView.ResizeMode.Fixed)
            self.table.setColumnWidth(place, metrics.horizontalAdvance(max(text, "0.0000", key=len)) + 14)
        self.table.setMinimumHeight(4 * self.table.verticalHeader().defaultSectionSize())
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self.words.setContentsMargins(10, 2, 6, 4)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.table, 1)
        column.addWidget(self.words)

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = dict(units)
        self._fill()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self.words.setStyleSheet(f"color: {theme.faint};")
        self._fill()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow()

    def _wanted(self) -> _Subject:
        project = self._document.project
        vehicle = project.variant(project.candidate).vehicle
        return vehicle, run_of_mix(project.run), project.load, project.road_mix

    def _follow(self) -> None:
        subject = self._wanted()
        cancelled = self._job is not None and self._job.cancelled
        if (subject == self._subject and not cancelled) or not self.isVisible():
            return
        self._due.start()

    def _compute(self) -> None:
        subject = self._subject = self._wanted()
        if not subject[3]:
            self._runner.cancel(_LANE)
            self._job = None
            self._failed("No roads yet.")
            return
        self._job = self._runner.start(
            _LANE,
            "Computing the road mix",
            lambda _job: road_mix(*subject),
            partial(self._show, self._document.project.candidate),
            self._failed,
        )

    def _show(self, name: str, mix: Mix) -> None:
        self.mix = mix
        self.words.setText(
            f"{name}, each road by itself and all together; road-holding and peaks of the worst road."
        )
        self._fill()
        self.shown.emit()

    def _failed(self, error: Exception | str) -> None:
        self.mix = None
        self.rows.setRowCount(0)
        self.words.setText(str(error))
        self.shown.emit()

    def _fill(self) -> None:
        if self.mix is None:
            return
        figures = {figure.key: figure for figure in self.mix.figures}
        shown: list[tuple[str, float, Mapping[str, Figure]]] = [("All roads", 1.0, figures)]
        shown += [(share.name, share.time, share.figures) for share in self.mix.shares]
        self.rows.setRowCount(len(shown))
        self._name_columns(figures)
        for row, (name, time, own) in enumerate(shown):
            colour = QColor(self._theme.ink if row else self._theme.candidate)
            texts = [name, f"{100 * time:.0f} %"]
            texts += [self._text(own.get(MIX_PREFIX + key)) for key, _ in _COLUMNS]
            for column, text in enumerate(texts):
                cell = QStandardItem(text)
                cell.setTextAlignment(_LEFT if column == _ROAD else _RIGHT)
                cell.setForeground(colour)
                self.rows.setItem(row, column, cell)

    def _name_columns(self, figures: dict[str, Figure]) -> None:
        heads = [("Road", "Road of the mix"), ("Time", "Share of the driving time")]
        for key, title in _COLUMNS:
            figure = figures.get(MIX_PREFIX + key)
            unit = "" if figure is None else self._units[figure.kind]
            tip = "No road of the mix has an event" if figure is None else figure.explained(unit)
            heads.append((f"{title}\n{'' if unit == '1' else unit}", tip))
        for column, (title, tip) in enumerate(heads):
            head = QStandardItem(title)
            head.setToolTip(tip)
            head.setTextAlignment(_LEFT if column == _ROAD else _RIGHT)
            self.rows.setHorizontalHeaderItem(column, head)

    def _text(self, figure: Figure | None) -> str:
        """A dash on a random road for what only an event has."""
        if figure is None:
            return "–"
        return format_value(figure.value, self._units[figure.kind], KINDS[figure.kind].si).replace("-", "−")
