"""The middle of the window: the ride plots and the further pages, one on show at a time."""

from __future__ import annotations

from typing import Protocol

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QTabBar, QTabWidget, QWidget

from models.analysis import Analysis
from models.units import UnitChoice
from workbench.theme import Theme

__all__ = ["Page", "PageTabs"]

# Of the 24 px that the style leaves.
_LESS_AIR = 6


class Page(Protocol):
    """What the window asks of a page."""

    def show_results(
        self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]
    ) -> None: ...

    def set_units(self, units: UnitChoice) -> None: ...

    def set_theme(self, theme: Theme) -> None: ...


class _SlimTabs(QTabBar):
    """Tabs with less air beside their titles, so that all are in sight in a narrow window."""

    def tabSizeHint(self, index: int) -> QSize:
        return super().tabSizeHint(index) - QSize(_LESS_AIR, 0)


class PageTabs(QTabWidget):
    """Tabs of pages.  Only the page on show follows a drag; another catches up when it is chosen."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTabBar(_SlimTabs())
        self.setDocumentMode(True)
        self.setAccessibleName("Pages")
        self._pages: dict[QWidget, Page] = {}
        self._results: tuple[Analysis, Analysis | None, tuple[str, str]] | None = None
        self._seen: dict[QWidget, object] = {}
        self.currentChanged.connect(lambda _index: self._show())

    def add(self, title: str, page: QWidget, face: Page) -> None:
        """Add a page; ``face`` is the page itself, by what the window asks of it."""
        self._pages[page] = face
        self.addTab(page, title)

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Hand new results to the page on show."""
        self._results = (candidate, baseline, names)
        self._show()

    def set_units(self, units: UnitChoice) -> None:
        """Show all pages in other units."""
        for page in self._pages.values():
            page.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for page in self._pages.values():
            page.set_theme(theme)

    def _show(self) -> None:
        page = self.currentWidget()
        if self._results is not None and page is not None and self._seen.get(page) is not self._results:
            self._seen[page] = self._results
            self._pages[page].show_results(*self._results)
