"""Colours and fonts.  Colour means variant, line style means place."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

__all__ = ["DARK", "LIGHT", "Theme", "apply_theme", "small_font", "system_theme"]


@dataclass(frozen=True, slots=True)
class Theme:
    """One ground, one ink, one strong colour for the candidate, graphite for the baseline.

    The candidate's blue and the mark's vermilion are from the Okabe-Ito set, which colour-blind readers
    tell apart (M. Okabe, K. Ito, "Color Universal Design", 2008); on slate the set's lighter sky blue
    keeps the contrast.
    """

    name: str
    paper: str
    panel: str
    raised: str
    ink: str
    faint: str
    rule: str
    candidate: str
    baseline: str
    mark: str
    good: str
    road: str


LIGHT = Theme(
    name="light",
    paper="#fbfaf6",
    panel="#f3f1ea",
    raised="#ffffff",
    ink="#22262b",
    faint="#666b72",
    rule="#d8d4c8",
    candidate="#0072b2",
    baseline="#5b5f66",
    mark="#d55e00",
    good="#00795a",
    road="#8c8474",
)
DARK = Theme(
    name="dark",
    paper="#1b2027",
    panel="#222831",
    raised="#2b323d",
    ink="#e6e8ea",
    faint="#9aa2ac",
    rule="#3a424e",
    candidate="#56b4e9",
    baseline="#a9afb8",
    mark="#e69f00",
    good="#3fc79a",
    road="#8b8577",
)


def system_theme() -> Theme:
    """Theme that goes with the desktop; light where that does not say."""
    dark = QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark
    return DARK if dark else LIGHT


def small_font(font: QFont) -> QFont:
    """A size smaller, with digits of one width: for figures and what stands around a plot."""
    small = QFont(font)
    small.setPointSizeF(max(font.pointSizeF() - 1.0, 7.0))
    small.setFeature(QFont.Tag("tnum"), 1)
    return small


def apply_theme(app: QApplication, theme: Theme) -> None:
    """Dress the standard widgets; plots and stage take the theme themselves."""
    if app.style().objectName() != "fusion":
        app.setStyle("Fusion")  # dear: it dresses every widget anew
    palette = QPalette()
    roles = {
        QPalette.ColorRole.Window: theme.panel,
        QPalette.ColorRole.WindowText: theme.ink,
        QPalette.ColorRole.Base: theme.raised,
        QPalette.ColorRole.AlternateBase: theme.paper,
        QPalette.ColorRole.Text: theme.ink,
        QPalette.ColorRole.Button: theme.panel,
        QPalette.ColorRole.ButtonText: theme.ink,
        QPalette.ColorRole.ToolTipBase: theme.raised,
        QPalette.ColorRole.ToolTipText: theme.ink,
        QPalette.ColorRole.PlaceholderText: theme.faint,
        QPalette.ColorRole.Highlight: theme.candidate,
        QPalette.ColorRole.HighlightedText: theme.paper,
        QPalette.ColorRole.Mid: theme.rule,
        QPalette.ColorRole.Dark: theme.rule,
        QPalette.ColorRole.Light: theme.raised,
    }
    for role, colour in roles.items():
        palette.setColor(role, QColor(colour))
    for role in (QPalette.ColorRole.Text, QPalette.ColorRole.WindowText, QPalette.ColorRole.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(theme.faint))
    if app.palette() != palette:
        app.setPalette(palette)
