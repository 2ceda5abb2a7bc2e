"""Panels beside each other where they have room, else one at a time behind tabs."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSplitter, QTabBar, QVBoxLayout, QWidget

__all__ = ["Panels"]


class Panels(QWidget):
    """Shows all panels in a wide place and the chosen one in a narrow place."""

    def __init__(
        self,
        panels: Mapping[str, QWidget],
        shares: tuple[int, ...],
        roomy: int,
        parent: QWidget | None = None,
    ) -> None:
        """Take the panels.

        Args:
            panels: by title, from left to right.
            shares: of the width in a wide place.
            roomy: width from which all are shown, px.
            parent: of this widget.
        """
        super().__init__(parent)
        self._panels = tuple(panels.values())
        self._roomy = roomy
        self.bar = QTabBar(self)
        self.bar.setDrawBase(False)
        self.bar.setExpanding(False)
        self.bar.setAccessibleName("Panels")
        self._split = QSplitter(Qt.Orientation.Horizontal, self)
        self._split.setChildrenCollapsible(False)
        for title, panel in panels.items():
            self.bar.addTab(title)
            self._split.addWidget(panel)
        self._split.setSizes([10 * share for share in shares])
        for number, share in enumerate(shares):
            self._split.setStretchFactor(number, share)
        self.bar.currentChanged.connect(lambda _index: self._arrange())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.bar)
        column.addWidget(self._split, 1)
        self._arrange()

    def bring(self, panel: QWidget) -> None:
        """Choose a panel."""
        self.bar.setCurrentIndex(self._panels.index(panel))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        roomy = self.width() >= self._roomy
        self.bar.setVisible(not roomy)
        for number, panel in enumerate(self._panels):
            panel.setVisible(roomy or number == self.bar.currentIndex())
