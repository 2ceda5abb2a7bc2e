"""What came of a study: words, charts and a table, drawn off the GUI thread."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from models.charts import Chart
from models.errors import InputError
from models.studies import StudyResult
from models.study import GlobalSensitivity, ParetoSearch, Sensitivity, TunedStart
from models.units import METRIC, UnitChoice
from workbench.pages.studies.drawings import Drawn, View, drawn, row_at, rows_within
from workbench.pages.studies.sheet import SheetTable
from workbench.plots import TitledChart
from workbench.runner import Job, Runner
from workbench.scrolled import scrolled
from workbench.theme import LIGHT, Theme

__all__ = ["ResultView"]

_LANE = "study charts"
# Least height of the first chart, of another one, and of a bar of one with names beside its bars, px.
_FIRST, _LEAST, _AROUND_BARS, _BAR = 220, 190, 90, 16
# Pause between the pieces of a drawing, in which others have their turn, ms.
_BETWEEN = 4
# Width from which two charts have room beside each other, px.
_ROOMY = 760
_EMPTY = "No results yet\n\nChoose “Start” above; charts and a table come here while the study runs."


class ResultView(QWidget):
    """Charts and table of the result on show.

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
        self._theme = LIGHT
        self._pairs: tuple[tuple[int, int], ...] = ()
        self._places: list[tuple[TitledChart, int, int, int]] = []
        #: What is left of putting a drawing on the screen; a piece of it in each turn of the event loop.
        self._pieces: Iterator[None] = iter(())
        self._turn = QTimer(self)
        self._turn.setInterval(_BETWEEN)
        self._turn.setSingleShot(True)
        self._turn.timeout.connect(self._next_piece)
        self.result: StudyResult | None = None
        #: Number of the car that is chosen; -1 for none.
        self.row, self._picked = -1, -1
        #: Numbers of the cars that are brushed.
        self.brushed: tuple[int, ...] = ()
        #: Lines on the cars that were refused.
        self.refusals: tuple[str, ...] = ()
        self.figure, self.situation, self.words = QComboBox(self), QComboBox(self), QLabel(self)
        self.empty, self.unbrush = QLabel(_EMPTY, self), QPushButton("Clear brush", self)
        self.table = SheetTable(self)
        self.views: list[TitledChart] = []
        self._grid = QGridLayout()
        self._content = QWidget(self)
        self._head = QWidget(self)
        self._build()
        self.set_theme(LIGHT)
        self.show_result(None)

    def _build(self) -> None:
        head = QHBoxLayout(self._head)
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
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setAccessibleName("Result in words")
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.unbrush.clicked.connect(lambda: self.brush(()))
        row = QHBoxLayout()
        row.setContentsMargins(10, 2, 8, 4)
        row.addWidget(self.words, 1)
        row.addWidget(self.unbrush, 0, Qt.AlignmentFlag.AlignTop)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(2)
        self.table.picked.connect(self._pick_row)
        self._inside = QVBoxLayout(self._content)
        self._inside.setContentsMargins(0, 0, 0, 0)
        self._inside.setSpacing(2)
        self._inside.addLayout(self._grid)
        self._inside.addWidget(self.table)
        self._inside.addStretch()
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setWordWrap(True)
        self.empty.setMargin(30)
        self._area = scrolled(self._content)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._head)
        column.addLayout(row)  # not in the area, which would ask its height at each width
        column.addWidget(self._area, 1)
        column.addWidget(self.empty, 1)

    def charts(self) -> list[Chart]:
        """Charts on show."""
        if self.result is None:
            return []
        return [view.chart for view in self.views if view.chart is not None and not view.isHidden()]

    def show_result(self, result: StudyResult | None) -> None:
        """Show a result, whole or in part; None shows what to do for one."""
        same = (
            self.result is not None and result is not None and result.asked.inputs == self.result.asked.inputs
        )
        self.result = result
        if not same:
            self._runner.cancel(_LANE)
            self._turn.stop()
            self._picked, self.row, self.brushed, self.refusals = -1, -1, (), ()
            self.words.hide()
            self.table.hide()
            self.unbrush.hide()
            for view in self.views:
                view.hide()
            self.chosen.emit()
        for widget in (self._head, self._area):
            widget.setVisible(result is not None)
        self.empty.setVisible(result is None)
        if result is not None:
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
        self._theme = theme
        self.table.set_theme(theme)
        self.empty.setStyleSheet(f"color: {theme.faint};")
        for view in self.views:
            view.set_theme(theme)

    def choose(self, row: int) -> None:
        """Choose a car of the result."""
        self._picked = row
        self._draw()

    def brush(self, rows: tuple[int, ...]) -> None:
        """Pick these cars of the result out in all charts."""
        self.brushed = rows
        self._draw()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _fill_boxes(self, result: StudyResult) -> None:
        figures = {figure.key: figure.label for figure in result.asked.figures}
        first = dict.fromkeys(one.metric for one in result.asked.wanted)
        keys = list(dict.fromkeys((*(result.asked.metrics[one] for one in first), *figures)))
        _refill(self.figure, [(figures[key], key) for key in keys])
        _refill(self.situation, [(one.name, number) for number, one in enumerate(result.asked.situations)])
        self._head.setVisible(not isinstance(result.asked.study, (ParetoSearch, TunedStart)))
        for box in (self.figure, self.situation):
            box.setEnabled(box.count() > 1)

    def _draw(self) -> None:
        result, metric = self.result, self.figure.currentData()
        if result is None or metric is None:
            return
        situation = max(self.situation.currentIndex(), 0)
        view = View(metric, situation, dict(self._units), self.brushed, self._picked)

        def work(job: Job) -> Drawn:
            job.report(0.0)
            return drawn(result, view)

        self._runner.start(_LANE, "", work, self._show, self._failed)

    def _show(self, found: Drawn) -> None:
        """Begin to put a drawing on the screen."""
        self._pieces = self._put(found)
        self._turn.start()

    def _next_piece(self) -> None:
        if next(self._pieces, self) is not self:
            self._turn.start()  # counted from the end of this piece, however long that took

    def _put(self, found: Drawn) -> Iterator[None]:
        """Put a drawing on the screen, in pieces that each take less than a frame.

        A chart is ten milliseconds of widgets when it is first needed, and some more in curves.
        """
        while len(self.views) < len(found.charts):
            self._add_view()
            yield
        self._pairs = found.pairs
        for number, (view, chart) in enumerate(zip(self.views, found.charts, strict=False)):
            least = max(_LEAST if number else _FIRST, _AROUND_BARS + _BAR * len(chart.y.names))
            view.setMinimumHeight(least)
            view.view.brushing = number < len(found.pairs)
            view.set_chart(chart)
            if view.isHidden():
                yield
                view.show()
                self._arrange()
            yield
        for view in self.views[len(found.charts) :]:
            view.hide()
        for number, share in enumerate((3, 2, 0) if found.charts else (0, 2, 3)):
            self._inside.setStretch(number, share)
        self._arrange()
        self.refusals = found.refusals
        self.words.setText(found.words)
        self.words.setVisible(bool(found.words))
        self.unbrush.setVisible(bool(self.brushed))
        yield
        self.table.setVisible(found.sheet is not None)
        if found.sheet is not None:
            by_figure = isinstance(found.result.asked.study, (Sensitivity, GlobalSensitivity))
            self.table.show_sheet(found.sheet, self.figure.currentData() if by_figure else found.row)
        if found.row != self.row:
            self.row = found.row
            self.chosen.emit()
        self.shown.emit()

    def _add_view(self) -> None:
        view, number = TitledChart("", self._content), len(self.views)
        view.set_units(self._units)
        view.set_theme(self._theme)
        view.export_wanted.connect(self.export_wanted)
        view.view.picked.connect(lambda x, y: self._pick(number, x, y, too=False))
        view.view.picked_too.connect(lambda x, y: self._pick(number, x, y, too=True))
        view.view.brushed.connect(lambda area, too: self._brush(number, area, too))
        self.views.append(view)

    def _arrange(self) -> None:
        """The first chart over the whole width, the others in twos where there is room."""
        shown = [view for view in self.views if not view.isHidden()]
        beside = self.width() >= _ROOMY
        places, row = [], 0
        for number, view in enumerate(shown):
            left = beside and number % 2 == 1 and number + 1 < len(shown)
            right = beside and number % 2 == 0 and number > 0
            places.append((view, row, int(right), 1 if left or right else 2))
            row += not left
        if places != self._places:
            self._places = places
            for view, line, column, span in places:
                self._grid.addWidget(view, line, column, 1, span)
            for line in range(len(self.views)):
                self._grid.setRowStretch(line, 3 if line == 0 else 2 if line < row else 0)

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, InputError):
            raise error
        self.words.setText(str(error))
        self.words.show()
        self.shown.emit()

    def _pick(self, number: int, x: float, y: float, too: bool) -> None:
        if self.result is None or number >= len(self._pairs):
            return
        row = row_at(self.result, self._pairs[number], x, y)
        if row < 0:
            return
        if too:
            kept = tuple(one for one in self.brushed if one != row)
            self.brush(kept if row in self.brushed else (*kept, row))
        else:
            self.choose(row)

    def _brush(self, number: int, area: tuple[float, float, float, float], too: bool) -> None:
        if self.result is not None and number < len(self._pairs):
            rows = rows_within(self.result, self._pairs[number], area)
            self.brush(tuple(dict.fromkeys((*self.brushed, *rows))) if too else rows)

    def _pick_row(self, key: object) -> None:
        """Go to the car of a row, or draw the figure of it."""
        if self.result is None:
            return
        if isinstance(self.result.asked.study, ParetoSearch) and isinstance(key, int):
            self.choose(key)
        elif isinstance(key, str) and self.figure.findData(key) >= 0:
            self.figure.setCurrentIndex(self.figure.findData(key))
            self._draw()


def _refill(box: QComboBox, entries: list[tuple[str, object]]) -> None:
    if [(box.itemText(row), box.itemData(row)) for row in range(box.count())] == entries:
        return
    present = box.currentData()
    box.clear()
    for text, data in entries:
        box.addItem(text, data)
    box.setCurrentIndex(max(box.findData(present), 0))
