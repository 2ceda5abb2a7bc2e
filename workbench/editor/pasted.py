"""Text of a spreadsheet to rows of parts and back; knows no screen."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence
from itertools import chain
from typing import Any

from pydantic import ValidationError

from models.errors import InputError, input_error
from models.fields import Part, replaced
from models.units import Kind, UnitError, factor
from workbench.editor.numbers import full_number, read
from workbench.editor.plan import FieldPlan, Number, Table, WholeNumber

__all__ = ["cell_text", "pasted_rows", "read_cell", "rows_text", "split_cells", "unit_of"]

_NUMERIC = re.compile(r"\s*[-+−]?[\d.,]*\d[\d.,]*([eE][-+]?\d+)?\s*[^\d,;]*$")
_IN_BRACKETS = re.compile(r"[(\[]\s*([^()\[\]]+?)\s*[)\]]\s*$")
_HEADER_ROWS = 2
# More than any table holds; it would keep the window waiting.
_LONGEST, _MOST_LINES = 100_000, 1_000


def cell_text(field: FieldPlan, value: Any, units: Mapping[str, str]) -> str:
    """Whole text of a cell: all digits of a number, in the unit of the column."""
    if isinstance(field.shape, Number):
        kind = field.shape.quantity.kind
        return full_number(value, unit_of(kind, units), kind.si)
    return str(value)


def read_cell(field: FieldPlan, text: str, units: Mapping[str, str], name: str) -> object:
    """Value of what the user typed into a cell; ``name`` is what the cell is called in a refusal.

    Raises:
        InputError: the text is refused.
    """
    if isinstance(field.shape, Number):
        quantity = field.shape.quantity
        return read(quantity, text, unit_of(quantity.kind, units), name)
    if isinstance(field.shape, WholeNumber):
        try:
            return int(text)
        except ValueError as error:
            raise InputError.of(name, text, f"{name}: '{text[:40]}' is not a whole number") from error
    return text


def unit_of(kind: Kind, units: Mapping[str, str]) -> str:
    """Unit in which a kind of quantity is shown."""
    return units.get(kind.name, kind.usual)


def rows_text(fields: Sequence[FieldPlan], rows: Sequence[Part], units: Mapping[str, str]) -> str:
    """Rows as tab separated text below a line of names with units."""
    cells = [[_heading(field, units) for field in fields]]
    cells += [[cell_text(field, getattr(row, field.name), units) for field in fields] for row in rows]
    return "".join("\t".join(line) + "\n" for line in cells)


def split_cells(text: str) -> list[list[str]]:
    """Cells of tab, semicolon or comma separated text, without empty lines and comments.

    Where a comma does not part the cells it is a decimal comma, and is read as a point.
    """
    separator = next((sign for sign in "\t;," if sign in text), "\t")
    lines = [line for line in text.lstrip("\ufeff").splitlines() if not line.startswith("#")]
    cells = [[cell.strip() for cell in line] for line in csv.reader(lines, delimiter=separator)]
    return [[cell if separator == "," else _with_point(cell) for cell in line] for line in cells if any(line)]


def pasted_rows(
    table: Table, rows: Sequence[Part], text: str, place: tuple[int, int], units: Mapping[str, str]
) -> tuple[Part, ...]:
    """Rows of a table after text was pasted into it.

    Several lines as wide as the table take the place of all rows.  Anything else is written from the cell
    ``place`` (row, column) on, over the rows that are there and then behind them.  A heading is passed over;
    units in it hold for the numbers below it, otherwise bare numbers are in the units of the columns.

    Raises:
        InputError: the text does not fit, or one of its values is refused; it says which.
    """
    if len(text) > _LONGEST:
        reason = f"The text has {len(text)} characters; a table holds up to {_LONGEST}"
        raise InputError.of("paste", "", reason)
    cells = split_cells(text)
    if not cells:
        raise InputError.of("paste", "", "There is no text to paste")
    if len(cells) > _MOST_LINES:
        raise InputError.of(
            "paste", "", f"The text has {len(cells)} lines; a table holds up to {_MOST_LINES}"
        )
    width = max(map(len, cells))
    whole = width == len(table.columns)
    row, column = (place[0], 0) if whole else place
    fields = table.columns[column : column + width]
    if len(fields) < width:
        names = ", ".join(field.label for field in table.columns)
        reason = f"The text has {width} columns, the table {len(fields)} from here on ({names})"
        raise InputError.of("paste", "", reason)
    headings, lines = _without_headings(cells, fields)
    units = {**units, **_units_of(headings, fields)}
    values = [_read_line(fields, line, units, number) for number, line in enumerate(lines, start=1)]
    if whole and len(values) > 1:
        return tuple(_part(table.part_type, line) for line in values)
    return _written_over(table.part_type, rows, values, row)


def _written_over(
    part_type: type[Part], rows: Sequence[Part], values: list[dict[str, object]], first: int
) -> tuple[Part, ...]:
    result = list(rows)
    for place, line in enumerate(values, start=first):
        if place < len(result):
            for name, value in line.items():
                result[place] = replaced(result[place], (name,), value)
        else:
            before = {name: getattr(result[-1], name) for name in part_type.model_fields} if result else {}
            result.append(_part(part_type, {**before, **line}))
    return tuple(result)


def _heading(field: FieldPlan, units: Mapping[str, str]) -> str:
    if not isinstance(field.shape, Number):
        return field.label
    unit = unit_of(field.shape.quantity.kind, units)
    return field.label if unit == "1" else f"{field.label} ({unit})"


def _with_point(cell: str) -> str:
    if not _NUMERIC.match(cell):
        return cell
    if "," in cell and "." in cell:  # the last of them parts the decimals, the other the thousands
        thousands = "," if cell.rindex(".") > cell.rindex(",") else "."
        cell = cell.replace(thousands, "")
    return cell.replace(",", ".").replace("\u00a0", "").replace("\u202f", "")


def _without_headings(
    cells: list[list[str]], fields: Sequence[FieldPlan]
) -> tuple[list[list[str]], list[list[str]]]:
    count = 0
    while count < min(_HEADER_ROWS, len(cells) - 1) and _is_heading(cells[count], fields):
        count += 1
    return cells[:count], cells[count:]


def _is_heading(line: list[str], fields: Sequence[FieldPlan]) -> bool:
    """Whether a line has texts where numbers belong, and no number there."""
    numbers = [
        cell
        for cell, field in zip(line, fields, strict=False)
        if cell and isinstance(field.shape, (Number, WholeNumber))
    ]
    return bool(numbers) and not any(_NUMERIC.match(cell) for cell in numbers)


def _units_of(headings: list[list[str]], fields: Sequence[FieldPlan]) -> dict[str, str]:
    """Unit per kind of quantity that headings name: "Force (kN)", or "kN" in a line of units.

    Two columns of one kind share their unit, as everywhere in the editor; the first one named holds.
    """
    found: dict[str, str] = {}
    for cell, field in chain.from_iterable(zip(line, fields, strict=False) for line in headings):
        if isinstance(field.shape, Number):
            kind = field.shape.quantity.kind
            match = _IN_BRACKETS.search(cell)
            unit = match[1].partition(",")[0].strip() if match else cell
            if _measures(unit, kind):
                found.setdefault(kind.name, unit)
    return found


def _measures(unit: str, kind: Kind) -> bool:
    try:
        factor(unit, kind.si)
    except UnitError:
        return False
    return bool(unit)


def _read_line(
    fields: Sequence[FieldPlan], line: list[str], units: Mapping[str, str], number: int
) -> dict[str, object]:
    padded = [*line, *[""] * (len(fields) - len(line))]
    return {
        field.name: read_cell(field, cell, units, f"{field.label} in line {number}")
        for field, cell in zip(fields, padded, strict=True)
    }


def _part(part_type: type[Part], values: dict[str, object]) -> Part:
    try:
        return part_type(**values)
    except ValidationError as error:
        raise input_error(error) from error
