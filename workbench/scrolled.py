"""A column of controls that scrolls when it is higher than its place."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

__all__ = ["scrolled"]


def scrolled(content: QWidget, least_width: int = 0) -> QScrollArea:
    """Put ``content`` into an area that scrolls up and down, at least ``least_width`` px wide."""
    area = QScrollArea()
    area.setWidget(content)
    area.setWidgetResizable(True)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # Tab goes on to the controls
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setMinimumWidth(least_width)
    return area
