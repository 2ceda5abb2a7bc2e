"""Colour means variant, line style means place, weight means side."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPen

from models.charts import Curve
from models.charts.chart import Place, Role, Side
from workbench.theme import Theme

__all__ = ["curve_pen", "style_pen", "variant_colour"]

_WIDTH: dict[Role, float] = {"candidate": 1.6, "baseline": 1.2, "other": 1.1, "limit": 1.0}
# Other variants: fainter than candidate and baseline, and apart from each other.
_OTHERS = {
    "light": ("#b07aa1", "#59a14f", "#b6992d", "#e08e79", "#4fa79e", "#9c755f"),
    "dark": ("#b891b6", "#7fb377", "#bda75a", "#cf8f80", "#6fb3ac", "#a98c7c"),
}
# Share of the baseline's colour in a limit.
_FAINT = 0.45
_WEIGHT: dict[Side, float] = {"": 1.0, "left": 1.5, "right": 0.7}
# Length of dash and gap, px.
_DASH = (8.0, 4.5)


def variant_colour(role: Role, theme: Theme, shade: int = 0) -> QColor:
    """Strong colour for the candidate, graphite for the baseline, a fainter one for each other variant."""
    if role == "other":
        colours = _OTHERS[theme.name]
        return QColor(colours[shade % len(colours)])
    colour = QColor(theme.candidate if role == "candidate" else theme.baseline)
    if role == "limit":
        colour.setAlphaF(_FAINT)
    return colour


def style_pen(colour: QColor, width: float, place: Place, side: Side) -> QPen:
    """Pen of a place on the car, ``width`` px where there are no sides."""
    pen = QPen(colour, width * _WEIGHT[side])
    pen.setCosmetic(True)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if place == "rear":
        pen.setDashPattern([length / pen.widthF() for length in _DASH])
    return pen


def curve_pen(curve: Curve, theme: Theme) -> QPen:
    """Pen of a curve."""
    return style_pen(
        variant_colour(curve.role, theme, curve.shade), _WIDTH[curve.role], curve.place, curve.side
    )
