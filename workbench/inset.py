"""Room beside a widget in a column."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QWidget

__all__ = ["inset"]


def inset(widget: QWidget, right: int = 8) -> QHBoxLayout:
    """Row of one widget; margins of its own would go when it is dressed in other colours."""
    row = QHBoxLayout()
    row.setContentsMargins(10, 1, right, 1)
    row.addWidget(widget)
    return row
