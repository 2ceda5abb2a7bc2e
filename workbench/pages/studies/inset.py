"""Room beside a label."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel

__all__ = ["inset"]


def inset(label: QLabel) -> QHBoxLayout:
    """A row with room beside a label; its own margins go when it is dressed in other colours."""
    row = QHBoxLayout()
    row.setContentsMargins(10, 1, 8, 1)
    row.addWidget(label)
    return row
