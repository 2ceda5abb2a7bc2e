"""Figures that a study judges, ticked: those computed, objectives, or wishes."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QHeaderView, QTreeWidget, QTreeWidgetItem, QWidget

from models.errors import InputError
from models.figure_text import unit_text
from models.judge.figure import Figure
from models.judge.target_input import limits_of
from models.study import Objective, ParetoSearch, Study, TunedStart
from models.target import Target, made, target_text
from models.units import METRIC, UnitChoice
from workbench.pages.studies.definition import judged_keys, remade
from workbench.theme import small_font

__all__ = ["FigureTree"]

NAME, WISH, UNIT = range(3)
_HEIGHT = 150
# How near a figure without a better side is to come to the present value.
_NEAR = 0.02


class FigureTree(QTreeWidget):
    """Figures with ticks; a search has an aim beside each, a tuned start a wish.

    Signals:
        judged(object): another definition of the study.
        refused(str): what was ticked or typed is refused.
    """

    judged = Signal(object)
    refused = Signal(str)

    def __init__(self, values: Callable[[], dict[str, float]], parent: QWidget | None = None) -> None:
        """Make the list; ``values`` gives figures (SI) of the car as it is, by key."""
        super().__init__(parent)
        self._values = values
        self._units: UnitChoice = METRIC
        self._study: Study | None = None
        self._figures: dict[str, Figure] = {}
        self.rows: dict[str, QTreeWidgetItem] = {}
        font = small_font(self.font())
        self.setFont(font)
        self.header().setFont(font)
        self.setAccessibleName("Figures of the study")
        self.setColumnCount(3)
        self.setRootIsDecorated(False)
        self.setUniformRowHeights(True)
        self.setMinimumHeight(_HEIGHT)
        self.setEditTriggers(QTreeWidget.EditTrigger.NoEditTriggers)
        self.header().setStretchLastSection(False)
        self.header().setSectionResizeMode(NAME, QHeaderView.ResizeMode.Stretch)
        for column, widest in ((WISH, "higher, worst"), (UNIT, "m/s²·s½")):
            self.header().setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            self.setColumnWidth(column, self.fontMetrics().horizontalAdvance(widest) + 10)
        self.itemChanged.connect(self._changed)
        self.itemDoubleClicked.connect(self._open)
        self.itemActivated.connect(self._open)

    def show_study(self, study: Study, figures: dict[str, Figure]) -> None:
        """Show which figures a study judges."""
        self._study = study
        with QSignalBlocker(self):
            if list(figures) != list(self._figures) or not self.rows:
                self._make_rows(figures)
            self._figures = figures
            searched = isinstance(study, (ParetoSearch, TunedStart))
            self.setHeaderLabels(["Figure", "Wish" if isinstance(study, TunedStart) else "Aim", "Unit"])
            self.setColumnHidden(WISH, not searched)
            for key in self.rows:
                self._fill(key)

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        if self._study is not None:
            self.show_study(self._study, self._figures)

    def _make_rows(self, figures: dict[str, Figure]) -> None:
        self.clear()
        self.rows = {}
        for key, figure in figures.items():
            row = QTreeWidgetItem(self, [figure.label])
            row.setToolTip(NAME, f"{figure.label}: {figure.meaning}")
            row.setData(NAME, Qt.ItemDataRole.UserRole, key)
            self.rows[key] = row

    def _fill(self, key: str) -> None:
        study, row = self._study, self.rows[key]
        assert study is not None
        on = key in judged_keys(study)
        row.setCheckState(NAME, Qt.CheckState.Checked if on else Qt.CheckState.Unchecked)
        row.setText(WISH, self._wish(study, key))
        row.setToolTip(WISH, "Double click to change it" if row.text(WISH) else "")
        row.setText(UNIT, unit_text(self._figures[key].kind, self._units))
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsUserCheckable
        row.setFlags(flags | Qt.ItemFlag.ItemIsEditable if isinstance(study, TunedStart) else flags)

    def _wish(self, study: Study, key: str) -> str:
        if isinstance(study, ParetoSearch):
            return next((f"{one.aim}, {one.over}" for one in study.objectives if one.metric == key), "")
        if isinstance(study, TunedStart):
            return next((target_text(one, self._units) for one in study.wishes if one.metric == key), "")
        return ""

    # -- editing -------------------------------------------------------------------------------------

    def _open(self, row: QTreeWidgetItem, column: int) -> None:
        key, study = row.data(NAME, Qt.ItemDataRole.UserRole), self._study
        if column != WISH or not row.text(WISH):
            return
        if isinstance(study, ParetoSearch):
            objectives = tuple(_next(one) if one.metric == key else one for one in study.objectives)
            self.judged.emit(remade(study, objectives=objectives))
        elif isinstance(study, TunedStart):
            self.editItem(row, WISH)

    def _changed(self, row: QTreeWidgetItem, column: int) -> None:
        key, study = row.data(NAME, Qt.ItemDataRole.UserRole), self._study
        if key is None or study is None:
            return
        try:
            after = self._after(study, key, row, column)
        except InputError as error:
            self.refused.emit(f"{self._figures[key].label}: {error}")
            after = study
        if after != study:
            self.judged.emit(after)
        with QSignalBlocker(self):
            self._fill(key)

    def _after(self, study: Study, key: str, row: QTreeWidgetItem, column: int) -> Study:
        on = row.checkState(NAME) == Qt.CheckState.Checked
        before = key in judged_keys(study)
        if column == WISH and isinstance(study, TunedStart) and row.text(WISH) != self._wish(study, key):
            wish = self._typed(key, row.text(WISH).replace("−", "-"), study)
            return remade(study, wishes=tuple(wish if one.metric == key else one for one in study.wishes))
        if column != NAME or on == before:
            return study
        match study:
            case ParetoSearch():
                kept = tuple(one for one in study.objectives if one.metric != key)
                return remade(study, objectives=(*kept, self._objective(key)) if on else kept)
            case TunedStart():
                wishes = tuple(one for one in study.wishes if one.metric != key)
                return remade(study, wishes=(*wishes, self._usual_wish(key)) if on else wishes)
            case _:
                left = tuple(one for one in study.metrics if one != key)
                return remade(study, metrics=(*left, key) if on else left)

    def _objective(self, key: str) -> Objective:
        return Objective(metric=key, aim="higher" if self._figures[key].better == "higher" else "lower")

    def _usual_wish(self, key: str) -> Target:
        """As good as now; the user goes on from there."""
        figure, value = self._figures[key], self._values().get(key)
        if value is None:
            reason = "its present value is not known yet; wait for the car to be computed"
            raise InputError.of("wish", key, reason)
        near = _NEAR * abs(value)
        limits = {"lower": (None, value), "higher": (value, None), "none": (value - near, value + near)}
        return made(key, figure.kind, limits[figure.better])

    def _typed(self, key: str, text: str, study: TunedStart) -> Target:
        figure = self._figures[key]
        low, high = limits_of(text, figure.kind, self._units, figure.better)
        scope = next(one.scope for one in study.wishes if one.metric == key)
        return made(key, figure.kind, (low, high), scope)


def _next(one: Objective) -> Objective:
    """The next of the four aims."""
    every = [(aim, over) for aim in ("lower", "higher") for over in ("worst", "mean")]
    aim, over = every[(every.index((one.aim, one.over)) + 1) % len(every)]
    return remade(one, aim=aim, over=over)
