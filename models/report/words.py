"""Numbers and rows as the sections write them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import isfinite

from models.figure import Figure
from models.figure_text import unit_text, value_text
from models.manoeuvre import Straight
from models.report.document import Cell, Column, Row, Table, Tone
from models.roads import RandomRoad, RoughSurface, road_class
from models.run import Run
from models.units import KINDS, UnitChoice, factor, format_value

__all__ = [
    "amount",
    "change_words",
    "figure_rows",
    "headed",
    "number",
    "row",
    "run_words",
    "share",
    "surface_words",
    "table",
    "title_row",
    "value",
]


# Kinds whose change is told in their own unit: shares, and places that may lie on either side.
_PLACES = ("share", "length")


def number(amount: float, kind: str, units: UnitChoice, digits: int = 3) -> str:
    """Value in its unit, without it; a dash where there is none."""
    return format_value(amount, units[kind], KINDS[kind].si, digits).replace("-", "−")


def amount(size: float, kind: str, units: UnitChoice, digits: int = 3) -> str:
    """Value with its unit."""
    return f"{number(size, kind, units, digits)} {unit_text(kind, units)}".rstrip()


def value(figure: Figure, units: UnitChoice) -> str:
    """Value of a figure without its unit."""
    return value_text(figure, units).replace("-", "−")


def share(part: float, digits: int = 3) -> str:
    """A share in per cent."""
    return f"{format_value(100 * part, '1', '1', digits)} %".replace("-", "−")


def headed(label: str, kind: str, units: UnitChoice) -> str:
    """Head of a column with its unit."""
    unit = unit_text(kind, units)
    return f"{label}, {unit}" if unit else label


def row(*cells: str | tuple[str, Tone]) -> Row:
    """Row of texts, each alone or with its tone."""
    return Row(tuple(Cell(*((cell,) if isinstance(cell, str) else cell)) for cell in cells))


def title_row(text: str) -> Row:
    """Title of the rows below it."""
    return Row((Cell(text, "strong"),))


def table(title: str, words: Sequence[str], numbers: Sequence[str], rows: Iterable[Row]) -> Table:
    """Table whose first columns hold words and whose others hold numbers."""
    heads = (*(Column(head) for head in words), *(Column(head, number=True) for head in numbers))
    return Table(title, heads, tuple(rows))


def figure_rows(columns: Sequence[Sequence[Figure]], units: UnitChoice) -> Iterable[Row]:
    """Rows of label, unit, the value of each car and, of two cars, the change from the second.

    Args:
        columns: figures of each car, the same ones in the same order, the candidate first.
        units: of display.
    """
    for line in zip(*columns, strict=True):
        texts = [value(figure, units) for figure in line]
        kind, values = line[0].kind, [figure.value for figure in line]
        change = [change_words(values[0], values[1], kind, units)] if len(line) == 2 else []
        yield row(line[0].label, unit_text(kind, units), *texts, *change)


def change_words(candidate: float, baseline: float, kind: str, units: UnitChoice) -> str:
    """Change from the baseline: in per cent, or in the unit of what has no zero to count from."""
    step = candidate - baseline
    if candidate == baseline:
        return "="
    if not isfinite(step):
        return ""
    if baseline and kind not in _PLACES:
        return f"{100 * step / abs(baseline):+.1f} %".replace("-", "−")
    return f"{step / factor(units[kind], KINDS[kind].si):+.3g}".replace("-", "−")


def surface_words(surface: RoughSurface) -> str:
    """Name of a surface by ISO 8608."""
    return f"ISO 8608 class {road_class(surface.roughness)}"


def run_words(run: Run, load: str, units: UnitChoice) -> str:
    """What is driven, in a sentence."""
    driven: list[str] = [] if isinstance(run.event, RandomRoad) else [run.event.kind]
    driven += [] if isinstance(run.manoeuvre, Straight) else [run.manoeuvre.kind]
    over = " with ".join(driven) or "random road"
    return (
        f"{run.model.capitalize()} at {amount(run.speed, 'speed', units)}, load case “{load}”; spectra and "
        f"RMS values on {surface_words(run.surface)}; time response ({run.laws}) over {over}, "
        f"{amount(run.duration, 'time', units)}."
    )
