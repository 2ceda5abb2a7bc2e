"""Style sheet of the standard widgets inside the editor."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from workbench.theme import Theme

__all__ = ["dress"]

_SHEET = """
QLineEdit {{
    background: {raised}; color: {ink}; border: 1px solid {rule}; border-radius: 3px; padding: 2px 4px;
    selection-background-color: {candidate}; selection-color: {paper};
}}
QLineEdit:hover {{ border-color: {faint}; }}
QLineEdit:focus {{ border: 2px solid {candidate}; padding: 1px 3px; }}
QLineEdit[wrong="true"] {{ border: 2px solid {mark}; padding: 1px 3px; }}
QPushButton {{
    background: transparent; color: {faint}; border: 1px solid transparent; border-radius: 3px;
    padding: 2px 2px; text-align: left;
}}
QPushButton:hover:enabled {{ color: {ink}; border-color: {rule}; }}
QPushButton:checked {{ color: {candidate}; border-color: {candidate}; }}
QPushButton:focus {{ color: {ink}; border: 2px solid {candidate}; padding: 1px 1px; }}
QTableView {{ background: transparent; border: none; }}
QHeaderView {{ background: transparent; border: none; }}
QTableCornerButton::section {{ background: transparent; border: none; }}
QLineEdit#cell, QLineEdit#cell:focus {{ border: 2px solid {candidate}; border-radius: 0; padding: 0 3px; }}
QLabel#message {{ color: {mark}; }}
QLabel#remark, QLabel#hint {{ color: {faint}; font-style: italic; }}
QScrollBar:vertical {{ background: transparent; width: 10px; margin: 0; }}
QScrollBar::handle:vertical {{ background: {rule}; border-radius: 3px; min-height: 30px; margin: 0 2px; }}
QScrollBar::handle:vertical:hover {{ background: {faint}; }}
QScrollBar::add-line, QScrollBar::sub-line {{ height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
"""


def dress(widget: QWidget, theme: Theme) -> None:
    """Give a widget and all in it the colours of a theme."""
    # Qt keeps rules of an older sheet that were asked for before a widget was polished.
    widget.ensurePolished()
    widget.setStyleSheet(_style_sheet(theme))


def _style_sheet(theme: Theme) -> str:
    names = ("raised", "ink", "rule", "faint", "candidate", "paper", "mark")
    return _SHEET.format(**{name: getattr(theme, name) for name in names})
