"""What came of a study: charts and words, drawn off the GUI thread."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from models.charts import Chart
from models.errors import InputError
from models.studies import StudyResult
from models.study import ParetoSearch, TunedStart
from models.units import METRIC, UnitChoice
from workbench.pages.studies.drawings import Drawn, View, drawn, row_at
from workbench.plots import TitledChart
from workbench.runner import Job, Runner
from workbench.theme import LIGHT, Theme

__all__ = ["ResultView"]

_LANE = "study charts"
_CHARTS = 3


class ResultView(QWidget):
    """Charts of the result on show.

    Signals:
        export_wanted(object): the chart whose export the user asks for.
        chosen: another car of the result is chosen, or none.
        shown: charts of a result are on the screen.
    """

    export_wanted = Signal(object)
    chosen = Signal()
    shown = Signal()

    def __init__(self, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._runner = runner
        self._units: UnitChoice = METRIC
        self.result: StudyResult | None = None
        #: Number of the car that is chosen; -1 for none.
        self.row, self._picked = -1, -1
        self.figure, self.situation, self.words = QComboBox(self), QComboBox(self), QLabel(self)
        self.views = tuple(TitledChart("", self) for _ in range(_CHARTS))
        self._grid = QGridLayout()
        self._build()
        self.set_theme(LIGHT)

    def _build(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(8, 2, 8, 2)
        for text, box in (("Fig&ure", self.figure), ("Si&tuation", self.situation)):
            label = QLabel(text, self)
            label.setBuddy(box)
            box.setAccessibleName(text.replace("&", ""))
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.setMinimumContentsLength(10)
            box.activated.connect(lambda _index: self._draw())
            head.addWidget(label)
            head.addWidget(box, 1)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(2)
        for number, view in enumerate(self.views):
            view.hide()
            view.export_wanted.connect(self.export_wanted)
            view.view.picked.connect(lambda x, y, number=number: self._pick(number, x, y))
            self._grid.addWidget(view, min(number, 1), max(number - 1, 0), 1, 2 if number == 0 else 1)
        self._grid.setRowStretch(0, 3)
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setAccessibleName("Result in words")
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.words.setContentsMargins(10, 2, 8, 4)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addLayout(self._grid, 1)
        column.addWidget(self.words)

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return [view.chart for view in self.views if view.chart is not None and not view.isHidden()]

    def show_result(self, result: StudyResult | None) -> None:
        """Show a result, whole or in part; None shows nothing."""
        same = (
            self.result is not None and result is not None and result.asked.inputs == self.result.asked.inputs
        )
        self.result = result
        if not same:
            self._picked = self.row = -1
            self.words.clear()
            for view in self.views:
                view.hide()
            self.chosen.emit()
        if result is None:
            self.setVisible(False)
            return
        self.setVisible(True)
        self._fill_boxes(result)
        self._draw()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = dict(units)
        for view in self.views:
            view.set_units(units)
        self._draw()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for view in self.views:
            view.set_theme(theme)

    def choose(self, row: int) -> None:
        """Choose a car of the result."""
        self._picked = row
        self._draw()

    def _fill_boxes(self, result: StudyResult) -> None:
        figures = {figure.key: figure.label for figure in result.asked.figures}
        first = dict.fromkeys(one.metric for one in result.asked.wanted)
        keys = list(dict.fromkeys((*(result.asked.metrics[one] for one in first), *figures)))
        _refill(self.figure, [(figures[key], key) for key in keys])
        _refill(self.situation, [(one.name, number) for number, one in enumerate(result.asked.situations)])
        by_figure = not isinstance(result.asked.study, (ParetoSearch, TunedStart))
        for box in (self.figure, self.situation):
            box.setEnabled(by_figure and box.count() > 1)

    def _draw(self) -> None:
        result, metric = self.result, self.figure.currentData()
        if result is None or metric is None:
            return
        view = View(metric, max(self.situation.currentIndex(), 0), dict(self._units), self._picked)

        def work(job: Job) -> Drawn:
            job.report(0.0)
            return drawn(result, view)

        self._runner.start(_LANE, "", work, self._show, self._failed)

    def _show(self, found: Drawn) -> None:
        for number, view in enumerate(self.views):
            on = number < len(found.charts)
            if on:
                view.set_chart(found.charts[number])
            view.setVisible(on)
        self._grid.setRowStretch(1, 2 if len(found.charts) > 1 else 0)
        self.words.setText(found.words)
        if found.row != self.row:
            self.row = found.row
            self.chosen.emit()
        self.shown.emit()

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, InputError):
            raise error
        self.words.setText(str(error))
        self.shown.emit()

    def _pick(self, number: int, x: float, y: float) -> None:
        if self.result is not None and isinstance(self.result.asked.study, ParetoSearch):
            row = row_at(self.result, number + 1, x, y)
            if row >= 0:
                self.choose(row)


def _refill(box: QComboBox, entries: list[tuple[str, object]]) -> None:
    if [(box.itemText(row), box.itemData(row)) for row in range(box.count())] == entries:
        return
    present = box.currentData()
    box.clear()
    for text, data in entries:
        box.addItem(text, data)
    box.setCurrentIndex(max(box.findData(present), 0))
