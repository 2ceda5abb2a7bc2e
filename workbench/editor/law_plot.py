"""Small plots of the laws of the parts under their rows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from models.charts import Chart
from models.charts.law_source import LawSource
from models.fields import Part, Path
from models.vehicle import Vehicle
from workbench.editor.entry import INDENT, Entry, Host, Row
from workbench.editor.part_laws import PartLaw, part_laws
from workbench.plots.small_chart import SmallChart

__all__ = ["LawPlot", "law_plots"]


class LawPlot(Entry):
    """Draws the law that the rows above describe; computes it when it is painted, and only if it is stale."""

    def __init__(self, host: Host, path: Path, law: PartLaw) -> None:
        super().__init__(host, path, "")
        self._law = law
        self._watched: tuple[object, ...] = ()
        self._fitted = self._sought = True
        self.chart = SmallChart(self._chart, lambda: host.units, lambda: host.theme, self)
        self.chart.setAccessibleName("Law of the part")
        self.chart.setFocusPolicy(Qt.FocusPolicy.ClickFocus)  # Tab goes from number to number
        self.chart.export_wanted.connect(host.export)
        host.watch(self._follow_root)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(INDENT, 2, 2, 6)
        layout.addWidget(self.chart)

    def show_value(self, value: Any) -> None:
        if isinstance(self.host.root(), Vehicle):
            self._fitted = self._law.is_fitted(value)
            self._show_or_hide()

    def _follow_root(self) -> None:
        vehicle = self.host.root()
        if isinstance(vehicle, Vehicle):
            self._follow(vehicle)

    def show_reference(self, reference: Any) -> None:
        vehicle = self.host.root() if self._watched else None
        if isinstance(vehicle, Vehicle):
            self._follow(vehicle)

    def _follow(self, vehicle: Vehicle) -> None:
        """Draw anew if one of the parts that are drawn is another one."""
        reference = self._reference(vehicle)
        watched = (*self._parts(vehicle), *(self._parts(reference) if reference else ()), self.host.load)
        if not _are_same(watched, self._watched):
            self._watched = watched
            self.chart.invalidate()

    def show_units(self) -> None:
        self.chart.invalidate()

    def seek(self, words: Iterable[str], place: str) -> bool:
        self._sought = all(word in place for word in words)
        self._show_or_hide()
        return False  # the rows above are what is found

    def rows(self) -> Iterator[Row]:
        return iter(())

    def tab_stops(self) -> list[QWidget]:
        return []

    def _show_or_hide(self) -> None:
        if self.isHidden() == (self._fitted and self._sought):
            self.setVisible(self._fitted and self._sought)

    def _reference(self, vehicle: Vehicle) -> Vehicle | None:
        """The car that is compared with; None where its parts are those of the car itself."""
        reference = self.host.reference
        if not isinstance(reference, Vehicle) or _are_same(self._parts(reference), self._parts(vehicle)):
            return None
        return reference

    def _chart(self) -> Chart:
        vehicle = self.host.root()
        assert isinstance(vehicle, Vehicle)
        reference = self._reference(vehicle)
        baseline = LawSource(reference) if reference else None
        return self._law.draw(LawSource(vehicle), baseline, self.host.load)

    def _parts(self, vehicle: Vehicle) -> tuple[object, ...]:
        return self._law.depends(vehicle, self.host.load)


def _are_same(some: tuple[object, ...], others: tuple[object, ...]) -> bool:
    return len(some) == len(others) and all(a is b for a, b in zip(some, others, strict=True))


def law_plots(host: Host, path: Path, part_types: tuple[type[Part], ...]) -> tuple[LawPlot, ...]:
    """Plots for the rows of a part at ``path``; none if it has no law worth one."""
    return tuple(LawPlot(host, path, law) for law in part_laws(path, part_types))
