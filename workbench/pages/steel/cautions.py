"""The cautions that stand where stresses are shown."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from models.cautions import HARDWARE_CAUTIONS, HARDWARE_CAUTIONS_IN_SHORT
from workbench.theme import Theme, small_font

__all__ = ["CautionsLine"]


class CautionsLine(QLabel):
    """All cautions where they have room, else in short; the tooltip has them all."""

    def __init__(self, roomy: int, parent: QWidget | None = None) -> None:
        """Show them in full from this width on, px."""
        super().__init__(parent)
        self._roomy = roomy
        self.setFont(small_font(self.font()))
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self.setContentsMargins(10, 3, 10, 3)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setAccessibleName("Cautions")
        self.setToolTip("\n".join(HARDWARE_CAUTIONS))
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.setStyleSheet(f"color: {theme.mark};")

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._show()

    def _show(self) -> None:
        text = " ".join(HARDWARE_CAUTIONS) if self.width() >= self._roomy else HARDWARE_CAUTIONS_IN_SHORT
        if text != self.text():
            self.setText(text)
