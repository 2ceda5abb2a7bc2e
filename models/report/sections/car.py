"""The car and what it carries."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from models.fields import Part, Quantity, described
from models.report.bench import Bench
from models.report.document import Block, Fact, Facts, Row
from models.report.words import amount, number, row, table, title_row
from models.units import UnitChoice

__all__ = ["car"]

_MOST_POINTS = 12


def car(bench: Bench) -> Iterator[Block]:
    """Every number of the candidate by parts, and the loads of each load case."""
    vehicle, units = bench.candidate.variant.vehicle, bench.units
    own: list[Fact] = []
    for name, note, _ in described(type(vehicle)):
        value = getattr(vehicle, name)
        label = note.label if note is not None else name
        if isinstance(value, Part):
            yield Facts(label, (*own, *_facts(value, units, "")))
            own = []
        else:
            own += _fact(label, note, value, units)  # before the part that follows, the body
    cases = bench.project.load_cases
    if cases:
        yield table("Load cases", ("Load",), _heads(units), _cases(bench))


def _heads(units: UnitChoice) -> tuple[str, ...]:
    long = units["length"]
    return (
        f"Mass, {units['mass']}",
        f"Ahead of front axle, {long}",
        f"Left of centre, {long}",
        f"Above ground, {long}",
    )


def _cases(bench: Bench) -> Iterator[Row]:
    for case in bench.project.load_cases:
        total = amount(sum(load.mass for load in case.loads), "mass", bench.units)
        yield title_row(f"{case.name}: {total}")
        for load in case.loads:
            places = (number(place, "length", bench.units) for place in (load.x, load.y, load.z))
            yield row(load.name, number(load.mass, "mass", bench.units), *places)


def _facts(part: Part, units: UnitChoice, above: str) -> Iterator[Fact]:
    """Numbers and choices of a part, those of the parts inside it with their names before them."""
    for name, note, _ in described(type(part)):
        value = getattr(part, name)
        label = note.label if note is not None else name.replace("_", " ")
        said = f"{above} › {label}" if above else label
        if isinstance(value, Part):
            inside = said if note is not None else above
            yield from _facts(value, units, inside)
        else:
            yield from _fact(said if note is not None else above or label, note, value, units)


def _fact(said: str, note: object, value: Any, units: UnitChoice) -> list[Fact]:
    if value is None or value == ():
        return []
    if isinstance(note, Quantity):
        return [Fact(said, amount(value, note.kind_name, units, 4))]
    if isinstance(value, tuple):
        return [Fact(said, _points(value, units))]
    return [Fact(said, str(value))]


def _points(points: tuple[Any, ...], units: UnitChoice) -> str:
    """Members of a table: each in its own bracket."""
    shown = []
    for point in points[:_MOST_POINTS]:
        parts = (fact.text for fact in _facts(point, units, "")) if isinstance(point, Part) else (str(point),)
        shown.append(f"({', '.join(parts)})")
    more = len(points) - _MOST_POINTS
    return " ".join(shown) + (f" and {more} more" if more > 0 else "")
