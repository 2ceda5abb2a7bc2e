"""Title of a group, which folds it away."""

from __future__ import annotations

from typing import Protocol

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy

from workbench.editor.choice_row import draw_chevron
from workbench.editor.entry import INDENT, draw_mark
from workbench.theme import Theme

__all__ = ["Title"]


class Themed(Protocol):
    """What a title stands in."""

    @property
    def theme(self) -> Theme:
        """Colours in use."""


class Title(QAbstractButton):
    """Title of a group with an arrow; a dot if something in the group differs from the reference."""

    def __init__(self, host: Themed, text: str, depth: int) -> None:
        super().__init__()
        self._host = host
        self._depth = depth
        self._marked = False
        self.open = True
        self.setText(text)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        font = self.font()
        font.setBold(depth == 0)
        self.setFont(font)
        self._name_for_readers()

    def set_open(self, shown: bool) -> None:
        """Point the arrow down (open) or to the right."""
        if shown != self.open:
            self.open = shown
            self._name_for_readers()
            self.update()

    def set_marked(self, marked: bool) -> None:
        """Show or hide the dot."""
        if marked != self._marked:
            self._marked = marked
            self.update()

    def _name_for_readers(self) -> None:
        self.setAccessibleName(f"{self.text()}, {'open' if self.open else 'folded'}")

    def sizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        return QSize(metrics.horizontalAdvance(self.text()) + 36, metrics.height() + (14 if self._top else 8))

    @property
    def _top(self) -> bool:
        return self._depth == 0

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, metrics = self._host.theme, self.fontMetrics()
        painter = QPainter(self)
        if self._top:
            painter.setPen(QPen(QColor(theme.rule), 1))
            painter.drawLine(0, 3, self.width(), 3)
        bottom = self.rect().adjusted(0, 6 if self._top else 0, 0, 0)
        painter.setPen(QColor(theme.ink if self._top or self.underMouse() else theme.faint))
        painter.drawText(
            bottom.adjusted(INDENT + 14, 0, 0, 0),
            Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
            metrics.elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width() - INDENT - 14),
        )
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        draw_chevron(painter, theme, QPointF(INDENT + 5, bottom.center().y() + 1), down=self.open)
        if self.hasFocus():
            painter.setPen(QPen(QColor(theme.candidate), 1.6))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(bottom.adjusted(INDENT - 3, 1, -1, -1), 3, 3)
        if self._marked:
            draw_mark(painter, theme, bottom.center().y() + 1)
