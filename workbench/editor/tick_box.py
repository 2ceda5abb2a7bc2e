"""Check box of the editor."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QCheckBox, QWidget

from workbench.editor.entry import Themed

__all__ = ["TickBox"]


class TickBox(QCheckBox):
    """Check box whose frame stands out on a dark ground too."""

    def __init__(self, host: Themed, text: str, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self._host = host

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, checked = self._host.theme, self.isChecked()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        frame = QRectF(1, self.height() / 2 - 6.5, 13, 13)
        strong = checked or self.hasFocus()
        painter.setPen(QPen(QColor(theme.candidate if strong else theme.faint), 1.8 if strong else 1.0))
        painter.setBrush(QColor(theme.raised))
        painter.drawRoundedRect(frame, 2.5, 2.5)
        if checked:
            left, low, right = QPointF(-3, 0), QPointF(-0.8, 2.6), QPointF(3.4, -2.8)
            painter.drawPolyline([frame.center() + point for point in (left, low, right)])
        painter.setPen(QColor(theme.ink))
        painter.drawText(
            self.rect().adjusted(20, 0, 0, 0),
            Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
            self.text(),
        )
