"""What a legend says: colour names the variant, line style the place, weight the side."""

from __future__ import annotations

from dataclasses import dataclass

from models.charts.chart import Chart, Form, Place, Role, Side

__all__ = ["LegendKey", "legend", "short_label"]

_CORNERS = {"front left": "FL", "front right": "FR", "rear left": "RL", "rear right": "RR"}


@dataclass(frozen=True, slots=True)
class LegendKey:
    """One entry: of a variant (with its role), or of a line style (without)."""

    text: str
    role: Role | None = None
    place: Place = "body"
    side: Side = ""
    shade: int = 0
    form: Form = "line"


def legend(chart: Chart) -> tuple[LegendKey, ...]:
    """Variants, the topmost (the candidate) first, then line styles if there is more than one."""
    variants = {(c.role, c.shade): (c.variant, c.form) for c in reversed(chart.curves)}
    keys = [LegendKey(text, role, shade=shade, form=form) for (role, shade), (text, form) in variants.items()]
    styles = {(c.place, c.side): c.label for c in chart.curves if c.role != "limit" and c.form == "line"}
    if len(styles) > 1:
        keys += [LegendKey(short_label(text), None, *style) for style, text in styles.items()]
    return tuple(keys)


def short_label(label: str) -> str:
    """Corners in two letters, other places as they are."""
    return _CORNERS.get(label, label)
