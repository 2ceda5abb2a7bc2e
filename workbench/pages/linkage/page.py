"""The page of the linkages."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from models.analysis import Analysis
from models.charts import Chart, Mark
from models.charts.linkage import Linked, linkage_chart, travel_marks
from models.errors import InputError
from models.fields import Path, follow
from models.judge.linkage import FREE, BarLoad, ChainPlace, bar_load, chain_figures, chain_places
from models.linkage import Chain, joints, nearest_point
from models.units import METRIC, UnitChoice
from models.vehicle import Vehicle
from workbench.document import Document
from workbench.editor.conversions import first_chain, other_kind
from workbench.figure_table import FigureTable
from workbench.pages.linkage.chart_sheet import ChartSheet
from workbench.pages.linkage.drawing import LinkageDrawing
from workbench.pages.linkage.empty import NoLinkage
from workbench.pages.linkage.points_table import PointsTable
from workbench.pages.linkage.sheet import Place
from workbench.pages.linkage.travel_row import TravelRow
from workbench.pages.linkage.words import CHAINS, KIND_WORDS, NO_BAR, kind_name, lever_words
from workbench.scrolled import scrolled
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["LinkagePage"]

# Width of the page from which numbers stand beside the drawing, and the column in which they do, px.
_ROOMY, _COLUMN = 900, 372
# Charts and figures wait so long for the results of an edit, ms: they are drawn once, with the torque of it.
_PATIENCE = 60
_ON_BUTTON = "Takes the linkage out; the lever takes its place again.  One step to undo"


class LinkagePage(QWidget):
    """A place of the candidate: its chain in two views and as numbers, charts and figures of it.

    Follows the document while it is in sight; what needs the statics of the car comes with the results.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
        export_wanted(object): the :class:`Chart` that the user wants as a file.
    """

    units_changed = Signal(str, str)
    export_wanted = Signal(object)

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._results: tuple[Analysis, Analysis | None] | None = None
        self._places: tuple[ChainPlace, ...] = ()
        self._vehicle: Vehicle | None = None
        self._shown: tuple[Path, Chain | None] | None = None
        self._units: UnitChoice = METRIC
        self._theme = LIGHT
        self.place_box, self.kind_box = QComboBox(self), QComboBox(self)
        self.remove_button = QPushButton("Remove", self)
        self.ends_box = QCheckBox("Ends", self)
        self.drawing = LinkageDrawing(self)
        self.travel = TravelRow(self._edit_travel, self)
        self.points = PointsTable(self._edit, self)
        self.charts_sheet = ChartSheet(self._chart, lambda: self._units, lambda: self._theme, self)
        self.figures = FigureTable(self, "Figures of the linkage")
        self.empty = NoLinkage(self)
        self.note = QLabel(NO_BAR, self)
        self._stack = QStackedWidget(self)
        self._due = QTimer(self, singleShot=True, interval=_PATIENCE)
        self._due.timeout.connect(self._show_results)
        self._build()
        self._connect()
        self.set_theme(LIGHT)

    # -- building ------------------------------------------------------------------------------------

    def _build(self) -> None:
        self.kind_box.addItems([kind_name(kind).capitalize() for kind in CHAINS])
        for number, kind in enumerate(CHAINS):
            self.kind_box.setItemData(number, KIND_WORDS[kind], Qt.ItemDataRole.ToolTipRole)
        self.kind_box.setToolTip("Another kind starts with usual places of its joints and keeps the travel")
        self.remove_button.setToolTip(_ON_BUTTON)
        self.remove_button.setMaximumWidth(self.fontMetrics().horizontalAdvance("Remove") + 22)
        self.ends_box.setChecked(True)
        self.ends_box.setToolTip(
            "Draw the linkage in full rebound and full jounce too, and the paths of its joints"
        )
        self.figures.setColumnWidth(2, self.figures.fontMetrics().horizontalAdvance("deg/mm²") + 10)
        self.place_box.setToolTip("What the linkage turns; sides that are alike share one")
        head = QHBoxLayout()
        head.setContentsMargins(10, 5, 10, 3)
        head.setSpacing(6)
        for name, box in (("Place of the linkage", self.place_box), ("Kind of linkage", self.kind_box)):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            box.setAccessibleName(name)
            head.addWidget(box)
        head.addWidget(self.remove_button)
        head.addStretch(1)
        head.addWidget(self.ends_box)
        self._stack.addWidget(self.empty)
        self._stack.addWidget(self._work())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        self.note.setWordWrap(True)
        self.note.setContentsMargins(10, 0, 10, 4)
        self.note.setFont(small_font(self.font()))
        self.note.hide()
        column.addWidget(self.note)
        column.addWidget(self._stack, 1)

    def _work(self) -> QWidget:
        views = QWidget(self)
        left = QVBoxLayout()
        left.setContentsMargins(0, 0, 0, 0)
        left.setSpacing(0)
        left.addWidget(self.drawing, 1)
        left.addWidget(self.travel)
        self._top = QHBoxLayout(views)
        self._top.setContentsMargins(0, 0, 0, 0)
        self._top.setSpacing(0)
        self._top.addLayout(left, 1)
        below = QWidget(self)
        self._below = QBoxLayout(QBoxLayout.Direction.TopToBottom, below)
        self._below.setContentsMargins(4, 2, 4, 4)
        self._below.setSpacing(8)
        self._below.addWidget(self.charts_sheet, 1)
        self._figures_column = QVBoxLayout()
        self._figures_column.addWidget(self.figures)
        self._figures_column.addStretch(1)
        self._below.addLayout(self._figures_column)
        split = QSplitter(Qt.Orientation.Vertical, self)
        split.setChildrenCollapsible(False)
        split.addWidget(views)
        split.addWidget(scrolled(below))
        split.setSizes([11 * _COLUMN, 8 * _COLUMN])
        split.setStretchFactor(0, 11)
        split.setStretchFactor(1, 8)
        self._arrange()
        return split

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        """Numbers beside the drawing and the charts where they have room, else below the charts."""
        roomy = self.width() >= _ROOMY
        beside = self._top.indexOf(self.points) >= 0
        if roomy and not beside:
            self._top.addWidget(self.points)
            self._below.setDirection(QBoxLayout.Direction.LeftToRight)
        elif not roomy and (beside or self._below.indexOf(self.points) < 0):
            self._below.setDirection(QBoxLayout.Direction.TopToBottom)
            self._below.insertWidget(1, self.points)
        self.ends_box.setText("Ends of travel" if roomy else "Ends")
        for widget in (self.points, self.figures):
            widget.setMinimumWidth(_COLUMN if roomy else 0)
            widget.setMaximumWidth(_COLUMN if roomy else 16777215)

    def _connect(self) -> None:
        self._document.changed.connect(self._follow)
        self._document.opened.connect(self._follow)
        self.place_box.activated.connect(lambda _index: self._follow())
        self.kind_box.activated.connect(self._exchange)
        self.remove_button.clicked.connect(lambda: self._document.edit(self._path(), None))
        self.ends_box.toggled.connect(self.drawing.show_ends)
        self.empty.wanted.connect(self._add)
        self.drawing.moved.connect(self._move)
        self.drawing.chosen.connect(self.points.choose)
        self.points.chosen.connect(self.drawing.choose)
        self.points.unit_chosen.connect(self.units_changed)
        self.travel.moved.connect(lambda _travel: self._draw())
        self.travel.refused.connect(self.drawing.say)
        self.charts_sheet.export_wanted.connect(self.export_wanted)

    # -- showing -------------------------------------------------------------------------------------

    @property
    def place(self) -> ChainPlace:
        """The place on show."""
        return self._places[max(self.place_box.currentIndex(), 0)]

    @property
    def chain(self) -> Chain | None:
        """The chain there, if there is one and the page was in sight."""
        if not self._places:
            return None
        chain: Chain | None = follow(self._document.project, self._path())
        return chain

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return [self._chart(key) for key in self.charts_sheet.shown] if self.chain is not None else []

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Take results: the torque of the bars, stops, and where the load case stands."""
        self._results = candidate, baseline
        self._follow()
        self._show_results()

    def _show_results(self) -> None:
        """Draw what asks for the torque of the bar."""
        self._due.stop()
        chain = self.chain if self.isVisible() else None
        if chain is not None:
            self.figures.show_figures(chain_figures(chain, self._load(0)))
            self.charts_sheet.invalidate()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        for part in (self.drawing, self.travel, self.points, self.figures):
            part.set_units(units)
        self.charts_sheet.invalidate()
        self._shown = None
        self._follow()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        for part in (self.drawing, self.travel, self.points, self.figures, self.empty):
            part.set_theme(theme)
        self.note.setStyleSheet(f"color: {theme.mark};")
        self.charts_sheet.invalidate()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow()

    def _path(self) -> Path:
        return (*self._document.candidate_path(), *self.place.path)

    def _follow(self) -> None:
        """Show the place as it stands, while the page is in sight."""
        if not self.isVisible():
            return
        vehicle = follow(self._document.project, self._document.candidate_path())
        if vehicle is not self._vehicle:
            self._vehicle = vehicle
            self._fill_places(vehicle)
        shown = self._path(), self.chain
        if self._shown is not None and shown[0] == self._shown[0] and shown[1] is self._shown[1]:
            return
        elsewhere = self._shown is None or shown[0] != self._shown[0]
        self._shown = shown
        self.drawing.say("")  # what was refused was another chain
        if elsewhere:
            self.points.say("")
        self._show_place(vehicle, shown[1], elsewhere)

    def _fill_places(self, vehicle: Vehicle) -> None:
        before = self.place.path if self._places else None
        names = [place.bar for place in self._places]
        self._places = chain_places(vehicle)
        if names != [place.bar for place in self._places]:
            with QSignalBlocker(self.place_box):
                self.place_box.clear()
                self.place_box.addItems([place.bar for place in self._places])
                paths = [place.path for place in self._places]
                fitted = next((path for path in paths if follow(vehicle, path) is not None), paths[0])
                self.place_box.setCurrentIndex(paths.index(before if before in paths else fitted))

    def _show_place(self, vehicle: Vehicle, chain: Chain | None, elsewhere: bool) -> None:
        for widget in (self.kind_box, self.remove_button, self.ends_box):
            widget.setVisible(chain is not None)
        rate = follow(vehicle, self.place.path[:-1]).bar_rate
        self.note.setVisible(chain is not None and rate == 0)
        self._stack.setCurrentIndex(0 if chain is None else 1)
        if chain is None:
            bar = self.place.bar
            title = f"No linkage at the {bar[0].lower()}{bar[1:]}"
            self.empty.explain(title, lever_words(vehicle, self.place, self._units))
            return
        self.kind_box.setCurrentIndex(CHAINS.index(type(chain)))
        self.travel.show_chain(chain)
        self.points.show_joints(joints(chain))
        self._draw()
        alone = len(chain.bodies()) == 1
        self.charts_sheet.leave_out(frozenset(("force", "transmission")) if alone else frozenset())
        if elsewhere:
            self.points.choose(self.drawing.choice)
            self._show_results()
        else:
            self._due.start()

    def _draw(self) -> None:
        chain = self.chain
        if chain is not None and self._vehicle is not None:
            axle = self._vehicle.front if self.place.wheel < 2 else self._vehicle.rear
            self.drawing.show_chain(chain, self.travel.travel, axle.tyre.radius)

    def _load(self, number: int) -> BarLoad:
        """Load of the bar of the candidate (0) or the baseline (1), as far as there are results."""
        analysis = self._results[number] if self._results else None
        return FREE if analysis is None else bar_load(analysis.car, self.place)

    def _chart(self, key: str) -> Chart:
        chain, project = self.chain, self._document.project
        assert chain is not None
        baseline = None
        if project.baseline != project.candidate:
            other = _chain_at(project.variant(project.baseline).vehicle, self.place)
            baseline = None if other is None else Linked(project.baseline, other, self._load(1))
        marks = self._marks(chain) if key in ("angle", "ratio") else ()
        return linkage_chart(key, Linked(project.candidate, chain, self._load(0)), baseline, marks)

    def _marks(self, chain: Chain) -> tuple[Mark, ...]:
        if self._results is None:
            return ()
        return travel_marks(self._results[0], self.place.wheel, (-chain.rebound, chain.jounce))

    # -- editing -------------------------------------------------------------------------------------

    def _edit(self, path: Path, value: object) -> None:
        self._document.edit((*self._path(), *path), value)

    def _edit_travel(self, name: str, value: float) -> None:
        self._edit((name,), value)

    def _add(self, kind: type[Chain]) -> None:
        owner = follow(self._document.project, self._path()[:-1])
        self._document.edit(self._path(), first_chain(owner, kind))

    def _exchange(self, number: int) -> None:
        chain, kind = self.chain, CHAINS[number]
        if chain is None or isinstance(chain, kind):
            return
        owner = follow(self._document.project, self._path()[:-1])
        try:
            self._document.edit(self._path(), other_kind(owner, owner, chain, kind))
        except InputError as error:
            self.kind_box.setCurrentIndex(CHAINS.index(type(chain)))
            self.drawing.say(error.problems[0].reason)

    def _move(self, joint: str, place: Place, gesture: int) -> None:
        """Move a joint as near to a place as the chain lets it, and say what holds it."""
        chain = self.chain
        if chain is None:
            return
        nearest = nearest_point(chain, joint, place)
        if nearest.chain != chain:
            self._document.edit(self._path(), nearest.chain, gesture)
        self.drawing.say(nearest.reason)


def _chain_at(vehicle: Vehicle, place: ChainPlace) -> Chain | None:
    """The chain of another car at a place that it may not have."""
    try:
        chain: Chain | None = follow(vehicle, place.path)
    except AttributeError:
        return None
    return chain
