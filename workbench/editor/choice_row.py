"""Row of a choice between a few words, and the list that it opens."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QComboBox, QWidget

from models.fields import Path
from workbench.editor.entry import MISSING, Host, Row, column_widths
from workbench.editor.plan import FieldPlan
from workbench.editor.wheel import PointedAt
from workbench.help.context import HINT
from workbench.theme import Theme

__all__ = ["ChoiceRow", "draw_chevron"]


class ChoiceRow(Row):
    """Edits a field that is one of a few words."""

    def __init__(self, host: Host, path: Path, field: FieldPlan, options: tuple[str, ...]) -> None:
        super().__init__(host, path, field)
        self._options = options
        self._value: Any = MISSING
        self._reference: Any = MISSING
        self.combo = _Combo(host, self)
        self.combo.addItems([option[0].upper() + option[1:] for option in options])
        self.combo.setMinimumWidth(sum(column_widths(self.fontMetrics())) + self.grid.horizontalSpacing())
        self.combo.activated.connect(self._pick)
        self.name(self.combo)
        self.grid.addWidget(self.combo, 0, 1, 1, 2)
        self._show_tooltip()

    def tab_stops(self) -> list[QWidget]:
        return [self.combo]

    def show_value(self, value: Any) -> None:
        if value != self._value:
            self._value = value
            self._restore()
            self._show_differs()
        self.show_message("")

    def show_reference(self, reference: Any) -> None:
        self._reference = reference
        self._show_differs()
        self._show_tooltip()

    def chosen(self, option: str) -> None:
        """Take a new choice of the user's."""
        self.try_edit(option)

    def _show_differs(self) -> None:
        self.set_differs(self._reference is not MISSING and self._reference != self._value)

    def _show_tooltip(self) -> None:
        baseline = "" if self._reference is MISSING else f"\nBaseline: {self._reference}"
        self.setToolTip(f"{self.label}\n{self.meaning}{baseline}\n{HINT}")

    def _pick(self, index: int) -> None:
        if self._options[index] != self._value:
            self.chosen(self._options[index])
            self._restore()

    def _restore(self) -> None:
        self.combo.setCurrentIndex(self._options.index(self._value))


class _Combo(QComboBox):
    """Flat; a wheel that passes over it scrolls the panel, not the choice."""

    def __init__(self, host: Host, parent: QWidget) -> None:
        super().__init__(parent)
        self._host = host
        self._pointed_at = PointedAt(self)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def sizeHint(self) -> QSize:
        texts = (self.itemText(index) for index in range(self.count()))
        width = max(map(self.fontMetrics().horizontalAdvance, texts), default=0)
        return QSize(width + 28, self.fontMetrics().height() + 8)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._pointed_at.note()
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._pointed_at.note()
        super().mouseMoveEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self._pointed_at.is_meant:
            super().wheelEvent(event)
        else:
            event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = self._host.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        focus = self.hasFocus()
        painter.setPen(QPen(QColor(theme.candidate if focus else theme.rule), 1.6 if focus else 1.0))
        painter.setBrush(QColor(theme.raised))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.8, 0.8, -0.8, -0.8), 3, 3)
        painter.setPen(QColor(theme.ink if self.isEnabled() else theme.faint))
        room = self.rect().adjusted(7, 0, -18, 0)
        text = self.fontMetrics().elidedText(self.currentText(), Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, text)
        draw_chevron(painter, theme, QPointF(self.width() - 11, self.height() / 2), down=True)


def draw_chevron(painter: QPainter, theme: Theme, centre: QPointF, down: bool) -> None:
    """Draw a small arrow that points down or to the right."""
    painter.setPen(QPen(QColor(theme.faint), 1.4))
    along, across = (QPointF(3.5, 0), QPointF(0, 1.8)) if down else (QPointF(0, 3.5), QPointF(1.8, 0))
    painter.drawPolyline([centre - along - across, centre + across, centre + along - across])
