"""Shows how a file would be taken before it is: choices, the profile they make, what was done to it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from models.charts.roads import profile_chart
from models.errors import InputError
from models.roads import MeasuredRoad, RoughSurface
from models.roads.prepare import DETRENDS, Detrend
from models.roads.report import RoadReport, road_report
from models.units import UnitChoice, UnitError, from_text
from workbench.pages.roads.words import class_text, source_text
from workbench.plots import ChartView
from workbench.runner import Runner
from workbench.theme import Theme

__all__ = ["LANE", "ImportDialog"]

LANE = "road import"

#: Pause after the last change before the file is read again, ms.
_PAUSE = 150
_SIZE = (860, 560)

Read = Callable[[], MeasuredRoad]


class ImportDialog(QDialog):
    """Base of the dialogs; a subclass adds its choices and says how to read with them.

    Signals:
        taken(object): the :class:`MeasuredRoad` that the user takes.
        previewed(): the preview, or the reason why there is none, is up to date.
    """

    taken = Signal(object)
    previewed = Signal()

    def __init__(
        self, path: Path, runner: Runner, units: UnitChoice, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.path = path
        self._runner, self._units, self._theme = runner, units, theme
        self.road: MeasuredRoad | None = None
        self.setWindowTitle(f"Import {path.name}")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.resize(*_SIZE)
        self.choices = QFormLayout()
        self.choices.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self.detrend = self.combo(dict(zip(DETRENDS, map(_capital, DETRENDS), strict=True)))
        self.step = QLineEdit(self)
        self.step.setPlaceholderText("as measured")
        self.step.setToolTip("Distance of two heights, such as 50 mm; empty for that of the file")
        self.step.textEdited.connect(self.change)
        self.view = ChartView(self)
        self.view.set_units(units)
        self.view.set_theme(theme)
        self.words = self._label("What would be imported")
        self.above = QVBoxLayout()
        self.buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel, self
        )
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setText("Import")
        self.buttons.accepted.connect(self._take)
        self.buttons.rejected.connect(self.reject)
        self._due = QTimer(self, singleShot=True, interval=_PAUSE)
        self._due.timeout.connect(self._preview)
        self._lay_out()

    def _lay_out(self) -> None:
        side = QWidget(self)
        side.setLayout(self.choices)
        side.setFixedWidth(280)
        right = QVBoxLayout()
        right.addLayout(self.above)
        right.addWidget(self.view, 1)
        right.addWidget(self.words)
        middle = QHBoxLayout()
        middle.addWidget(side)
        middle.addLayout(right, 1)
        whole = QVBoxLayout(self)
        whole.addLayout(middle, 1)
        whole.addWidget(self.buttons)

    # -- for the subclasses --------------------------------------------------------------------------

    def reader(self) -> Read:
        """Function that reads with the choices made; called in the worker thread.

        Raises:
            InputError: a choice is no number.
        """
        raise NotImplementedError

    def combo(self, options: Mapping[Any, str], chosen: object = None) -> QComboBox:
        """Choice of some options."""
        box = QComboBox(self)
        for value, text in options.items():
            box.addItem(text, value)
        box.setCurrentIndex(max(list(options).index(chosen), 0) if chosen in options else 0)
        box.activated.connect(self.change)
        return box

    def add_choice(self, label: str, widget: QWidget) -> None:
        """Put a choice below the others."""
        widget.setAccessibleName(label)
        self.choices.addRow(label, widget)

    def add_common(self) -> None:
        """Put the choices of all imports below the others and make the first preview."""
        self.add_choice("Take off", self.detrend)
        self.add_choice("Step", self.step)
        self.change()

    def length(self, edit: QLineEdit, label: str) -> float | None:
        """Length that was typed, m; None where nothing was.

        Raises:
            InputError: it is no length.
        """
        text = edit.text().strip()
        if not text:
            return None
        try:
            return from_text(text, "m", "m")
        except UnitError as error:
            raise InputError.of(label, text, f"{error}") from error

    @property
    def chosen_detrend(self) -> Detrend:
        """What to take off the heights."""
        chosen: Detrend = self.detrend.currentData()
        return chosen

    def change(self) -> None:
        """Something was chosen: preview it in a moment."""
        self.road = None
        self._ok.setEnabled(False)
        self._due.start()

    # -- preview -------------------------------------------------------------------------------------

    @property
    def _ok(self) -> QWidget:
        return self.buttons.button(QDialogButtonBox.StandardButton.Ok)

    def _label(self, name: str) -> QLabel:
        label = QLabel(self)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setWordWrap(True)
        label.setAccessibleName(name)
        label.setMinimumHeight(4 * label.fontMetrics().height())
        label.setAlignment(Qt.AlignmentFlag.AlignTop)
        return label

    def _preview(self) -> None:
        try:
            read = self.reader()
        except InputError as error:
            self._failed(error)
            return

        def work(_job: object) -> tuple[MeasuredRoad, RoadReport]:
            road = read()
            return road, road_report(road, RoughSurface(), 1.0)

        self._runner.start(LANE, f"Reading {self.path.name}", work, self._show, self._failed)

    def _show(self, found: tuple[MeasuredRoad, RoadReport]) -> None:
        self.road, report = found
        self.view.set_chart(profile_chart(report))
        self.view.fit()
        self._say(f"{source_text(self.road)}\n{class_text(report, self._units)}", self._theme.ink)
        self._ok.setEnabled(True)
        self.previewed.emit()

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, InputError):
            raise error
        self.road = None
        self._say(str(error), self._theme.mark)
        self.previewed.emit()

    def _say(self, text: str, colour: str) -> None:
        self.words.setText(text)
        self.words.setStyleSheet(f"color: {colour};")

    def _take(self) -> None:
        if self.road is not None:
            self.taken.emit(self.road)
            self.accept()

    def done(self, result: int) -> None:
        self._due.stop()
        self._runner.cancel(LANE)
        super().done(result)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
