"""Which colour and number is which road, for charts too narrow to name them all."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from workbench.plots.pens import variant_colour
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["RoadLegend"]


class RoadLegend(QLabel):
    """Roads of the mix in the colours of the charts."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._roads: tuple[str, ...] = ()
        self.setFont(small_font(self.font()))
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setWordWrap(True)
        self.setContentsMargins(8, 2, 6, 2)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.setAccessibleName("Roads of the charts")

    def show_roads(self, roads: Sequence[str]) -> None:
        """Name roads, in the order of the mix."""
        if tuple(roads) != self._roads:
            self._roads = tuple(roads)
            self._write()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self._write()

    def _write(self) -> None:
        entries = []
        for number, road in enumerate(self._roads):
            colour = variant_colour("other", self._theme, number).name()
            name = escape(road).replace(" ", "&nbsp;")
            entries.append(f'<span style="color: {colour}">━━</span>&nbsp;{number + 1}&nbsp;{name}')
        self.setText("&emsp; ".join(entries))
