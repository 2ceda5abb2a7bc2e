"""The middle of the window: the ride plots and the further pages, one on show at a time."""

from __future__ import annotations

from typing import Protocol

from PySide6.QtCore import QPoint, QSize
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QProxyStyle, QStyle, QStyleOption, QTabWidget, QToolButton, QWidget

from models.analysis import Analysis
from models.units import UnitChoice
from workbench.help.anchors import page_place
from workbench.theme import Theme

__all__ = ["Page", "PageTabs"]

# Beside the title of a tab, px; the style leaves 24.
_AIR = 14
#: Width that the pages ask for, px: what side panels leave of the narrowest window.
_LEAST_WIDTH = 540


class Page(Protocol):
    """What the window asks of a page."""

    def show_results(
        self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]
    ) -> None: ...

    def set_units(self, units: UnitChoice) -> None: ...

    def set_theme(self, theme: Theme) -> None: ...


class _SlimStyle(QProxyStyle):
    """Less air beside the titles of tabs, so that all are in sight, and whole, in a narrow window."""

    def pixelMetric(
        self,
        metric: QStyle.PixelMetric,
        option: QStyleOption | None = None,
        widget: QWidget | None = None,
    ) -> int:
        if metric == QStyle.PixelMetric.PM_TabBarTabHSpace:
            return _AIR
        return super().pixelMetric(metric, option, widget)


class _Chooser(QToolButton):
    """All pages in a menu, as in a narrow window the bar of tabs has to be scrolled."""

    def __init__(self, tabs: QTabWidget) -> None:
        super().__init__(tabs)
        self._tabs = tabs
        self.setText("Pages")
        self.setAccessibleName("All pages")
        self.setToolTip("All pages")
        self.setAutoRaise(True)
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(self)
        menu.aboutToShow.connect(self._fill)
        self.setMenu(menu)

    def _fill(self) -> None:
        menu = self.menu()
        menu.clear()
        for number in range(self._tabs.count()):
            action = QAction(self._tabs.tabText(number), menu, checkable=True)
            action.setChecked(number == self._tabs.currentIndex())
            action.triggered.connect(lambda _checked, number=number: self._tabs.setCurrentIndex(number))
            menu.addAction(action)


class PageTabs(QTabWidget):
    """Tabs of pages.  Only the page on show follows a drag; another catches up when it is chosen."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._style = _SlimStyle("fusion")
        self._style.setParent(self)
        self.tabBar().setStyle(self._style)
        self.setDocumentMode(True)
        self.setAccessibleName("Pages")
        self._chooser = _Chooser(self)
        self.setCornerWidget(self._chooser)
        self._pages: dict[QWidget, Page] = {}
        self._results: tuple[Analysis, Analysis | None, tuple[str, str]] | None = None
        self._seen: dict[QWidget, object] = {}
        self.currentChanged.connect(lambda _index: self._show())

    def minimumSizeHint(self) -> QSize:
        """Small, whatever a hidden page needs: pages scroll or fold where they are narrow."""
        return super().minimumSizeHint().boundedTo(QSize(_LEAST_WIDTH, 10_000))

    def titles(self) -> list[str]:
        """Titles of the pages, in order."""
        return [self.tabText(number) for number in range(self.count())]

    def turn(self, way: int) -> None:
        """Show the next page (1) or the one before (-1), round the ends."""
        self.setCurrentIndex((self.currentIndex() + way) % self.count())

    def turn_to(self, title: str) -> None:
        """Show a page by its title; an unknown one changes nothing."""
        if title in self.titles():
            self.setCurrentIndex(self.titles().index(title))

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

    def help_place(self, _at: QPoint | None) -> str:
        """Place of the page on show in the handbook."""
        return page_place(self.tabText(self.currentIndex()))

    def _show(self) -> None:
        page = self.currentWidget()
        if self._results is not None and page is not None and self._seen.get(page) is not self._results:
            self._seen[page] = self._results
            self._pages[page].show_results(*self._results)
