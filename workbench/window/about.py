"""About box."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox, QWidget

from models.cautions import CAUTIONS
from models.program import PROGRAM

__all__ = ["about_text", "show_about"]


def about_text() -> str:
    """Name, version and cautions as HTML."""
    cautions = "".join(f"<li>{caution}</li>" for caution in CAUTIONS)
    return (
        f"<h3>{PROGRAM}</h3>"
        "<p>A workbench for tuning the suspension of a soft car that stays level.</p>"
        f"<p><b>Before you rely on a result</b></p><ul>{cautions}</ul>"
        "<p>Free software under the Apache License 2.0.</p>"
    )


def show_about(parent: QWidget) -> None:
    """Show name, version and cautions."""
    _show(parent, "About Corduroy", about_text())


def _show(parent: QWidget, title: str, text: str) -> None:
    box = QMessageBox(parent)
    box.setWindowTitle(title)
    box.setTextFormat(Qt.TextFormat.RichText)
    box.setText(text)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.open()
