"""About box and list of keys."""

from __future__ import annotations

from importlib.metadata import version

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QMessageBox, QWidget

from models.cautions import CAUTIONS
from workbench.window.actions import ACTIONS

__all__ = ["about_text", "shortcuts_text", "show_about", "show_shortcuts"]


def about_text() -> str:
    """Name, version and cautions as HTML."""
    cautions = "".join(f"<li>{caution}</li>" for caution in CAUTIONS)
    return (
        f"<h3>Corduroy {version('corduroy')}</h3>"
        "<p>A workbench for tuning the suspension of a soft car that stays level.</p>"
        f"<p><b>Before you rely on a result</b></p><ul>{cautions}</ul>"
        "<p>Free software under the Apache License 2.0.</p>"
    )


def shortcuts_text() -> str:
    """Keys of all actions as an HTML table."""
    rows = "".join(
        f"<tr><td>{QKeySequence(spec.shortcut).toString(QKeySequence.SequenceFormat.NativeText)}</td>"
        f"<td style='padding-left: 16px'>{spec.text.rstrip('…')}: {spec.tip}</td></tr>"
        for spec in ACTIONS
        if spec.shortcut
    )
    return f"<table>{rows}</table>"


def show_about(parent: QWidget) -> None:
    """Show name, version and cautions."""
    _show(parent, "About Corduroy", about_text())


def show_shortcuts(parent: QWidget) -> None:
    """Show the keys."""
    _show(parent, "Keyboard", shortcuts_text())


def _show(parent: QWidget, title: str, text: str) -> None:
    box = QMessageBox(parent)
    box.setWindowTitle(title)
    box.setTextFormat(Qt.TextFormat.RichText)
    box.setText(text)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.open()
