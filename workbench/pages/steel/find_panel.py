"""From what is wanted to standard sizes: the wishes, all that fits, and the one to be used."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from models.charts import Chart
from models.charts.sizes import sizes_chart
from models.hardware import Sizes
from models.judge.part_report import PartReport
from models.judge.steel_life import life_of_size
from models.units import METRIC, UnitChoice
from models.vehicle import Vehicle
from workbench.editor import PartForm, PartHolder
from workbench.editor.tick_box import TickBox
from workbench.pages.life.lives import Driven
from workbench.pages.steel.size_table import SizeTable
from workbench.pages.steel.wishes import (
    AskBar,
    AskCoil,
    AskStabiliser,
    Wish,
    first_wish,
    search,
    sized_part,
)
from workbench.plots import TitledChart
from workbench.runner import Job, Runner
from workbench.scrolled import scrolled
from workbench.theme import LIGHT, Theme

__all__ = ["FindPanel"]

_LANE = "steel sizes"
_NOTHING = (
    "Standard sizes are sought for coil springs, torsion bars and stabiliser bars.\n"
    "Describe such a part to find the sizes that give the rate of the car."
)
_NO_LOAD = (
    "Without a load every size bears it: enter the greatest, or apply the part and let the car tell it."
)
_CHART_HEIGHT = 190


class FindPanel(QWidget):
    """Sizes for the part at a place; the wishes follow the car until the user changes one.

    Signals:
        size_taken(object, bool): this size, and whether the car is to have it in the same step.
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
        export_wanted(object): the chart that the user wants as a file.
        searched(): what fits is on the screen.
    """

    size_taken = Signal(object, bool)
    units_changed = Signal(str, str)
    export_wanted = Signal(object)
    searched = Signal()

    def __init__(self, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._runner = runner
        self._report: PartReport | None = None
        self._vehicle: Vehicle | None = None
        self._driven: Driven | None = None
        self._own: dict[str, Wish] = {}
        self._asked: tuple[object, ...] | None = None
        self._theme = LIGHT
        self._units: dict[str, str] = dict(METRIC)
        self.found: Sizes[Any] = Sizes(())
        self.holders: dict[type, PartHolder[Any]] = {
            kind: PartHolder(kind(), self) for kind in (AskBar, AskCoil, AskStabiliser)
        }
        self.forms = {kind: PartForm(kind, holder) for kind, holder in self.holders.items()}
        self.table = SizeTable(self)
        self.view = TitledChart("", self)
        self.reset_button = QPushButton("As in the car", self)
        self.use_button = QPushButton("Use this size", self)
        self.also_apply = TickBox(self.forms[AskBar], "and apply it to the car", self)
        self.sentence = QLabel(self)
        self.empty = QLabel(_NOTHING, self)
        self._build()

    def _build(self) -> None:
        for kind, form in self.forms.items():
            form.units_changed.connect(self.units_changed)
            form.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
            self.holders[kind].changed.connect(self._edited)
        self.reset_button.setToolTip("Ask again for what the car and its loads ask of the part")
        self.use_button.setToolTip("Make the part in the chosen size; one step to undo")
        self.also_apply.setToolTip("Size and rate of the car in one step")
        self.reset_button.clicked.connect(self._reset)
        self.use_button.clicked.connect(self._take)
        self.table.taken.connect(self._take)
        self.table.chosen_changed.connect(self._show_buttons)
        self.view.setMinimumHeight(_CHART_HEIGHT)
        self.view.export_wanted.connect(self.export_wanted)
        for label in (self.sentence, self.empty):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            label.setContentsMargins(10, 4, 6, 4)
        self.sentence.setAccessibleName("What was found")
        content = QWidget(self)
        column = QVBoxLayout(content)
        column.setContentsMargins(0, 0, 4, 4)
        column.setSpacing(2)
        for form in self.forms.values():
            column.addWidget(form)
        column.addWidget(self.sentence)
        column.addWidget(self.table)
        column.addLayout(self._buttons())
        column.addWidget(self.view)
        column.addStretch(1)
        self._area = scrolled(content)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.empty, 0, Qt.AlignmentFlag.AlignTop)
        whole.addWidget(self._area, 1)
        self._show()

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setContentsMargins(10, 4, 4, 4)
        row.addWidget(self.use_button)
        row.addWidget(self.also_apply)
        row.addStretch(1)
        row.addWidget(self.reset_button)
        return row

    # -- showing -------------------------------------------------------------------------------------

    @property
    def chart(self) -> Chart | None:
        """Chart on show."""
        return self.view.chart if self.wish is not None and sizes_chart(self.found.found) else None

    @property
    def wish(self) -> Wish | None:
        """What is asked for at present."""
        holder = self._holder()
        return None if holder is None else holder.part

    def show_report(
        self, report: PartReport | None, vehicle: Vehicle | None, driven: Driven | None = None
    ) -> None:
        """Seek sizes for a place.

        Args:
            report: of the place.
            vehicle: the car.
            driven: what the road mix does to it, where that is known; then sizes have lives.
        """
        self._report, self._vehicle, self._driven = report, vehicle, driven
        self._show()
        self._search()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units.update(units)
        for form in self.forms.values():
            form.set_units(units)
        self.table.set_units(units)
        self.view.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        for form in self.forms.values():
            form.set_theme(theme)
        self.table.set_theme(theme)
        self.view.set_theme(theme)
        self.empty.setStyleSheet(f"color: {theme.faint};")
        self._show_sentence()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._search()

    def _holder(self) -> PartHolder[Any] | None:
        if self._report is None or self._vehicle is None:
            return None
        first = first_wish(self._report, self._vehicle)
        return None if first is None else self.holders[type(first)]

    def _show(self) -> None:
        """Show the wishes of the place: the user's own, else those of the car."""
        report, vehicle = self._report, self._vehicle
        first = None if report is None or vehicle is None else first_wish(report, vehicle)
        self.empty.setVisible(report is not None and first is None)
        self._area.setVisible(first is not None)
        if report is None or first is None:
            return
        own = self._own.get(report.place)
        wish = own if isinstance(own, type(first)) else first
        self.holders[type(first)].start_with(wish)
        for kind, form in self.forms.items():
            form.setVisible(kind is type(first))
        self.reset_button.setEnabled(wish != first)

    def _edited(self) -> None:
        wish = self.wish
        if self._report is not None and wish is not None:
            self._own[self._report.place] = wish
            self.reset_button.setEnabled(True)
            self._search()

    def _reset(self) -> None:
        if self._report is not None:
            self._own.pop(self._report.place, None)
            self._show()
            self._search()

    # -- seeking -------------------------------------------------------------------------------------

    def _search(self) -> None:
        wish, report, driven = self.wish, self._report, self._driven
        if wish is None or report is None or not self.isVisible():
            return
        part = report.part
        asked = (part, wish, None if driven is None else id(driven[0]))
        if asked == self._asked:
            return
        self._asked = asked

        def work(_job: Job) -> Sizes[Any]:
            life = None if driven is None else life_of_size(*driven, report.place)
            return search(part, wish, life)

        self._runner.start(_LANE, "", work, self._searched, self._failed)

    def _searched(self, found: Sizes[Any]) -> None:
        self.found = found
        report = self._report
        self.table.show_sizes(found.found, None if report is None else sized_part(report.part))
        self._draw()
        self._show_sentence()
        self._show_buttons()
        self.searched.emit()

    def _failed(self, error: Exception) -> None:
        self._asked = None
        self._searched(Sizes((), str(error)))

    def _draw(self) -> None:
        chart = sizes_chart(self.found.found)
        self.view.setVisible(chart is not None)
        if chart is not None:
            self.view.set_chart(chart)
            self.view.view.fit()  # other sizes have nothing to do with those before

    def _show_sentence(self) -> None:
        number = len(self.found.found)
        wish = self.wish
        loadless = isinstance(wish, AskBar) and wish.torque == 0
        loadless = loadless or (isinstance(wish, AskCoil) and wish.greatest_force == 0)
        if loadless:
            text = f"{_NO_LOAD} {number} sizes, the lightest first."
        elif number:
            text = f"{number} standard size{'s' if number > 1 else ''}, the lightest first."
            text += "" if self._driven else " Their lives follow from the roads that the Life tab drives."
        else:
            reason = self.found.reason
            text = f"Nothing fits: {reason}." if reason else ""
        self.sentence.setText(text)
        colour = self._theme.faint if number and not loadless else self._theme.mark
        self.sentence.setStyleSheet(f"color: {colour};")

    def _show_buttons(self) -> None:
        self.use_button.setEnabled(self.table.chosen is not None)

    def _take(self) -> None:
        size, wish, report = self.table.chosen, self.wish, self._report
        if size is None or wish is None or report is None:
            return
        self._own[report.place] = wish  # else the new size would be the next wish
        self.size_taken.emit(size.part, self.also_apply.isChecked())
