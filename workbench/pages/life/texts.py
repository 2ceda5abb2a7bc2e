"""What the table of lives says, in the user's units."""

from __future__ import annotations

from models.figure_text import distance_text, value_text
from models.judge.figure import Figure
from models.units import UnitChoice
from workbench.pages.life.lives import PartLife

__all__ = ["COLUMNS", "LAST_OF_WORDS", "cells", "heads", "misses", "tips"]

#: Columns of the table, and the figure that is told in each; the first ones hold words.
COLUMNS: tuple[tuple[str, str], ...] = (
    ("Part", ""),
    ("Side", ""),
    ("Life", "fatigue_life"),
    ("Target", ""),
    ("Stress\nmargin", "fatigue_margin"),
    ("Worst road", "fatigue_worst_share"),
    ("Stress", "steel_peak"),
    ("Used", "steel_use"),
)
LAST_OF_WORDS = 1
_LIFE, _TARGET, _MARGIN, _WORST, _USED = 2, 3, 4, 5, 7
# What holds for all rows; the cells say it with their own numbers.
_TIPS = {
    "Part": "Parts that are described on the Steel page and carry load in this car",
    "Side": "Left or right; a stabiliser bar goes across",
    "Life": "Distance over the road mix that this share of the parts survives: D_f/Σ(n/N) per distance, "
    "times 10^(s (z of the line - z of this share)), s the scatter of log10 life",
    "Stress\nmargin": "Factor by which all stress may grow until the life is the target; solved",
    "Worst road": "Road that does the greatest share of the damage Σ n/N",
    "Stress": "Greatest nominal stress on any road, static share included: load · stress per load",
    "Used": "Greatest stress on any road / allowed stress of the material",
}


def cells(row: PartLife, units: UnitChoice) -> tuple[str, ...]:
    """Texts of a row."""
    figures, unit = row.figures, units["distance driven"]
    shares = row.life.shares
    worst = row.life.roads[int(shares.argmax())].name if shares.any() else "–"
    return (
        row.part.name,
        row.part.side or "–",
        distance_text(row.life.distance, unit),
        distance_text(row.life.target.distance, unit),
        _number(figures["fatigue_margin"], units),
        f"{100 * shares.max(initial=0.0):.0f} % {worst}" if shares.any() else worst,
        _number(figures["steel_peak"], units),
        f"{100 * figures['steel_use'].value:.0f} %",
    )


def heads(row: PartLife, units: UnitChoice) -> tuple[tuple[str, str], ...]:
    """Title with the unit, and tooltip, of each column."""
    told = []
    for title, key in COLUMNS:
        kind = row.figures[key].kind if key else "distance driven" if title == "Target" else ""
        unit = units[kind] if kind and title not in ("Worst road", "Used") else "1"
        words = f"{title}, {100 * row.life.target.reliability:.4g} %" if title == "Life" else title
        tip = _TIPS.get(title, _target_words(row))
        told.append((words if unit == "1" else f"{words}\n{unit}", tip))
    return tuple(told)


def tips(row: PartLife, units: UnitChoice) -> tuple[str, ...]:
    """Tooltip of each cell of a row."""
    told = [_explained(row, key, units) if key else "" for _, key in COLUMNS]
    told[_TARGET] = _target_words(row)
    unit = units["distance driven"]
    spread = 100 * row.figures["fatigue_spread"].value
    told[_LIFE] += (
        f"\n\nHalf of the parts: {distance_text(row.life.median, unit)} {unit}. A longer drive over the "
        f"random roads may still move the damage by {spread:.2g} % (standard error)."
    )
    told[0] = told[1] = f"{row.part.name}, S–N line in {row.life.line.stress} stress"
    return tuple(told)


def misses(row: PartLife) -> frozenset[int]:
    """Columns that say that the part does not do."""
    short = row.life.distance < row.life.target.distance
    over = row.figures["steel_use"].value > 1
    return frozenset([_LIFE, _MARGIN] * short + [_USED] * over)


def _number(figure: Figure, units: UnitChoice) -> str:
    return value_text(figure, units).replace("-", "−")


def _explained(row: PartLife, key: str, units: UnitChoice) -> str:
    figure = row.figures[key]
    return figure.explained(units[figure.kind])


def _target_words(row: PartLife) -> str:
    return (
        "Target life\nDistance over the road mix that the parts should last, "
        f"{100 * row.life.target.reliability:.4g} % of them; edited beside the table."
    )
