"""A line of text that ends in an ellipsis where it has no room, and is then told whole by its tooltip."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

__all__ = ["ElidedLabel"]


class ElidedLabel(QLabel):
    """Takes the width that is left over; :attr:`whole` is what it would like to show."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._whole = text
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._elide()

    @property
    def whole(self) -> str:
        """The text without an ellipsis."""
        return self._whole

    def tell(self, text: str) -> None:
        """Show another text."""
        if text != self._whole:
            self._whole = text
            self._elide()

    def sizeHint(self) -> QSize:
        margins = self.contentsMargins()
        wide = self.fontMetrics().horizontalAdvance(self._whole) + margins.left() + margins.right()
        return QSize(wide, super().sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._elide()

    def _elide(self) -> None:
        room = max(self.contentsRect().width(), 0)
        text = self.fontMetrics().elidedText(self._whole, Qt.TextElideMode.ElideRight, room)
        if text != self.text():
            self.setText(text)
            self.setToolTip(self._whole if text != self._whole else "")
            self.setAccessibleName(self._whole)
