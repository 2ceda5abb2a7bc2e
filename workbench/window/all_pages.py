"""Makes the pages of the window and joins what they ask of it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from models.charts import Chart
from models.units import UnitChoice
from workbench.cursor import TimeCursor
from workbench.document import Document
from workbench.pages.compare import ComparePage
from workbench.pages.levelling import LevellingPage
from workbench.pages.linkage import LinkagePage
from workbench.pages.load_cases import LoadCasesPage
from workbench.pages.load_cases.editor import LoadCaseEditor
from workbench.pages.modes import ModesPage
from workbench.pages.packaging import PackagingPage
from workbench.pages.review import ReviewPage
from workbench.pages.roads import RoadsPage
from workbench.pages.scorecard import ScorecardPage
from workbench.pages.steel import SteelPage
from workbench.pages.studies import StudiesPage
from workbench.pages.sweep import SpeedsPage
from workbench.runner import Runner
from workbench.settings import Settings
from workbench.theme import Theme
from workbench.window.page_tabs import PageTabs
from workbench.window.plot_grid import PlotGrid

__all__ = ["AllPages"]


class AllPages(PageTabs):
    """The ride plots and every further page.

    Signals:
        units_changed(str, str): the user chose a unit: kind of quantity, unit.
        refused(str): something that a page was asked to do was refused.
        export_wanted(object): the chart whose export the user asks for.
        table_wanted(str): the table, as text, whose export the user asks for.
    """

    units_changed = Signal(str, str)
    refused = Signal(str)
    export_wanted = Signal(object)
    table_wanted = Signal(str)

    def __init__(
        self,
        document: Document,
        runner: Runner,
        settings: Settings,
        cursor: TimeCursor,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.plots = PlotGrid(cursor, settings, self)
        self.scorecard = ScorecardPage(document, runner, self)
        self.compare = ComparePage(document, runner, cursor, settings, self)
        self.sweep = SpeedsPage(runner, settings, self)
        self.modes = ModesPage(document, runner, self)
        self.load_cases = LoadCasesPage(document, runner, self)
        self.load_case_editor = LoadCaseEditor(document, self)
        self.load_cases.add_editor(self.load_case_editor)
        self.levelling = LevellingPage(document, runner, self)
        self.linkage = LinkagePage(document, self)
        self.roads = RoadsPage(document, runner, self)
        self.steel = SteelPage(document, runner, self)
        self.packaging = PackagingPage(document, runner, self)
        self.studies = StudiesPage(document, runner, self)
        self.review = ReviewPage(document, runner, self)
        for title, page in (
            ("Ride", self.plots),
            ("Scorecard", self.scorecard),
            ("Compare", self.compare),
            ("Speeds", self.sweep),
            ("Modes", self.modes),
            ("Load cases", self.load_cases),
            ("Levelling", self.levelling),
            ("Roads", self.roads),
            ("Linkage", self.linkage),
            ("Steel", self.steel),
            ("Packaging", self.packaging),
            ("Studies", self.studies),
            ("Review", self.review),
        ):
            self.add(title, page, page)
        self._with_charts = (
            self.compare,
            self.sweep,
            self.levelling,
            self.roads,
            self.linkage,
            self.steel,
            self.packaging,
            self.studies,
        )
        for with_units in (
            self.load_case_editor,
            self.levelling,
            self.roads,
            self.linkage,
            self.steel,
            self.packaging,
        ):
            with_units.units_changed.connect(self.units_changed)
        for drawn in (
            self.plots,
            self.sweep,
            self.compare,
            self.levelling,
            self.linkage,
            self.steel,
            self.packaging,
            self.studies,
        ):
            drawn.export_wanted.connect(self.export_wanted)
        for asked in (self.compare, self.scorecard, self.steel, self.studies, self.review):
            asked.refused.connect(self.refused)
        self.sweep.failed.connect(self.refused)
        self.scorecard.export_wanted.connect(self.table_wanted)
        self.scorecard.curve_wanted.connect(self._show_curve)
        self.scorecard.speeds_wanted.connect(self._show_over_speed)

    def charts(self) -> list[Chart]:
        """Charts of the page on show; those of the ride where it has none."""
        page = self.currentWidget()
        for with_charts in self._with_charts:
            if page is with_charts:
                return with_charts.charts()
        return self.plots.charts()

    def set_units(self, units: UnitChoice) -> None:
        """Show all pages in other units."""
        super().set_units(units)
        self.load_case_editor.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        super().set_theme(theme)
        self.load_case_editor.set_theme(theme)

    def _show_over_speed(self, key: str) -> None:
        self.sweep.show_figure(key)
        self.setCurrentWidget(self.sweep)

    def _show_curve(self, key: str) -> None:
        self.setCurrentWidget(self.plots)
        self.plots.show_chart(key)
