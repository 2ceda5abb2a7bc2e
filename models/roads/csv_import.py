"""Roads from text files of columns: what a file seems to hold, shown before it is taken, and the heights.

:func:`inspect_csv` guesses delimiter, decimal sign, columns and units; :func:`read_csv` reads with whatever
the user has made of the guess.
"""

from __future__ import annotations

import csv
import math
import os
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError
from models.plain_file import read_beginning, read_limited
from models.roads.prepare import RawRoad
from models.units import factor

__all__ = [
    "DECIMALS",
    "DELIMITERS",
    "MOST_BYTES",
    "UNITS",
    "CsvChoice",
    "CsvGuess",
    "inspect_csv",
    "preview_rows",
    "read_csv",
]

Array = NDArray[np.float64]

#: Largest file that is read.
MOST_BYTES = 200_000_000
#: Signs between the cells of a line, and what to call them; a blank is any run of blanks.
DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab", " ": "blanks", "|": "bar"}
DECIMALS = {".": "point", ",": "comma"}
#: Units of length on offer.
UNITS = ("m", "mm", "cm", "km", "in", "ft")

_SAMPLE_LINES, _PREVIEW_LINES = 200, 12
_NUMBER = re.compile(r"[-+−]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{1,3})?")
_MISSING = frozenset(("", "nan", "na", "n/a", "-", "null", "none"))
_UNIT_IN_NAME = re.compile(r"[\[(]\s*([^\])]{1,4}?)\s*[\])]|[_ ](mm|cm|km|m|in|ft)$")
_ROLES = {
    "distance": re.compile(r"dist|chain|station|position|abscissa|weg|strecke|^x\b|^s\b|^u\b|^x_|^s_"),
    "left": re.compile(r"left|links|gauche|^l\b|^l_|_l\b|_l_|lwp|^zl"),
    "right": re.compile(r"right|rechts|droite|^r\b|^r_|_r\b|_r_|rwp|^zr"),
}
# Beyond this nothing is a distance or a height, in whatever unit.
_WILD = 1e9
# Heights that leave their line by more than this are no metres.
_HIGHEST_METRES = 5.0


@dataclass(frozen=True, slots=True)
class CsvChoice:
    """How to read a file.

    Attributes:
        delimiter: key of :data:`DELIMITERS`.
        decimal: key of :data:`DECIMALS`.
        head: lines above the first line of numbers.
        distance: column of the distance, from 0; None where heights stand at equal steps.
        left, right: columns of the heights; right None where there is one track only, for both wheels.
        distance_unit, height_unit: of :data:`UNITS`.
        step: distance of two lines where there is no column of it, m.
        encoding: of the text.
    """

    delimiter: str
    decimal: str
    head: int
    distance: int | None
    left: int
    right: int | None
    distance_unit: str = "m"
    height_unit: str = "m"
    step: float = 0.1
    encoding: str = "utf-8-sig"


@dataclass(frozen=True, slots=True)
class CsvGuess:
    """What a file seems to hold.

    Attributes:
        choice: how it would be read.
        names: of the columns.
        lines: first lines of the file as they are, for other choices to be tried on.
        reasons: why columns and units were taken so, for the reader.
    """

    choice: CsvChoice
    names: tuple[str, ...]
    lines: tuple[str, ...]
    reasons: tuple[str, ...]


def inspect_csv(path: str | os.PathLike[str]) -> CsvGuess:
    """Guess of a file; reads its first 200 lines.

    Raises:
        InputError: the file cannot be read, or no line of it is numbers.
    """
    name = Path(path).name
    content = _content(path, read_beginning, 4_000_000)
    text, encoding = _decoded(content)
    lines = text.splitlines()[:_SAMPLE_LINES]
    delimiter, decimal, head = _layout(name, lines)
    rows = [split for line in lines[head:] if (split := _cells(line, delimiter))]
    columns = max(len(row) for row in rows)
    names, unit_row = _names(lines[:head], delimiter, columns)
    numbers = _numbers(rows, columns, decimal)
    distance, left, right, reasons = _roles(names, numbers)
    distance_unit, why_distance = _distance_unit(names, unit_row, distance)
    height_unit, why_height = _height_unit(names, unit_row, left, numbers)
    choice = CsvChoice(
        delimiter, decimal, head, distance, left, right, distance_unit, height_unit, encoding=encoding
    )
    return CsvGuess(choice, names, tuple(lines), (*reasons, *why_distance, *why_height))


def preview_rows(lines: tuple[str, ...], delimiter: str) -> list[list[str]]:
    """Cells of the first lines, for a table that shows what a delimiter makes of them."""
    return [_cells(line, delimiter) for line in lines[:_PREVIEW_LINES]]


def read_csv(path: str | os.PathLike[str], choice: CsvChoice) -> RawRoad:
    """Heights of a file.

    Empty cells of a height count as not measured; anything else that is no number is refused.

    Raises:
        InputError: the file cannot be read, or a line is not what the choice says (with its number).
    """
    name = Path(path).name
    try:
        text = _content(path, read_limited, MOST_BYTES).decode(choice.encoding)
    except (UnicodeDecodeError, LookupError) as error:
        raise InputError.of(name, "", f"the file is no text in {choice.encoding}: {error}") from error
    wanted = [column for column in (choice.distance, choice.left, choice.right) if column is not None]
    values: list[list[float]] = []
    for number, line in enumerate(text.splitlines()[choice.head :], choice.head + 1):
        cells = _cells(line, choice.delimiter)
        if not any(cells) or line.lstrip().startswith("#"):
            continue
        if len(cells) <= max(wanted):
            reason = f"line {number} has {len(cells)} cells, fewer than column {max(wanted) + 1} needs"
            raise InputError.of(name, line[:40], reason)
        values.append([_value(name, number, column, cells[column], choice) for column in wanted])
    if len(values) < 2:
        raise InputError.of(
            name, len(values), f"{len(values)} lines of numbers are no road; it needs at least 2"
        )
    return _road(name, np.array(values), choice)


def _road(name: str, values: Array, choice: CsvChoice) -> RawRoad:
    scale = factor(choice.height_unit, "m")
    if choice.distance is None:
        distance, heights = choice.step * np.arange(len(values), dtype=np.float64), values
        remarks: tuple[str, ...] = (f"lines taken as {choice.step:g} m apart",)
    else:
        distance, heights = values[:, 0] * factor(choice.distance_unit, "m"), values[:, 1:]
        remarks = ()
    if choice.right is None:
        remarks = (*remarks, "one track under both wheels")
    return RawRoad(name, distance, scale * heights[:, 0], scale * heights[:, -1], remarks)


# -- bytes and cells --------------------------------------------------------------------------------------


def _content(
    path: str | os.PathLike[str], read: Callable[[str | os.PathLike[str], int], bytes], most: int
) -> bytes:
    try:
        return read(path, most)
    except (OSError, ValueError) as error:
        raise InputError.of(Path(path).name, "", f"the file cannot be read: {error}") from error


def _decoded(content: bytes) -> tuple[str, str]:
    """Text and its encoding; the last character of a piece may be cut."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", "replace"), "utf-16"
    try:
        return content.decode("utf-8-sig"), "utf-8-sig"
    except UnicodeDecodeError as error:
        if error.start > len(content) - 4:
            return content[: error.start].decode("utf-8-sig"), "utf-8-sig"
        return content.decode("latin-1"), "latin-1"


def _cells(line: str, delimiter: str) -> list[str]:
    if delimiter == " ":
        return line.split()
    if '"' not in line:
        return [cell.strip() for cell in line.split(delimiter)]
    try:
        row = next(csv.reader([line], delimiter=delimiter, skipinitialspace=True), [])
    except csv.Error:
        row = line.split(delimiter)
    return [cell.strip() for cell in row]


def _is_number(cell: str, decimal: str) -> bool:
    return _NUMBER.fullmatch(_with_point(cell, decimal)) is not None


def _with_point(cell: str, decimal: str) -> str:
    """The cell with a decimal point; empty, thus no number, where it has a point and a comma was said."""
    if decimal == ",":
        return "" if "." in cell else cell.replace(",", ".")
    return cell


def _value(name: str, number: int, column: int, cell: str, choice: CsvChoice) -> float:
    if cell.lower() in _MISSING and column != choice.distance:
        return float("nan")
    text = _with_point(cell, choice.decimal)
    value = float(text.replace("−", "-")) if _NUMBER.fullmatch(text) else math.inf
    if abs(value) > _WILD:
        reason = f"line {number}, column {column + 1}: '{cell[:20]}' is no number"
        raise InputError.of(name, cell, f"{reason} with a decimal {DECIMALS[choice.decimal]}")
    return value


# -- guesses ----------------------------------------------------------------------------------------------


def _layout(name: str, lines: list[str]) -> tuple[str, str, int]:
    """Delimiter, decimal sign and lines above the numbers: what makes most lines the most numbers."""
    best, found = (0, 0), None
    for delimiter in DELIMITERS:
        for decimal in DECIMALS:
            if delimiter == decimal:
                continue
            numeric = [_numeric_cells(_cells(line, delimiter), decimal) for line in lines]
            width = max(
                set(numeric), key=lambda count: (numeric.count(count) if count else 0, count), default=0
            )
            score = (numeric.count(width) * width, numeric.count(width))
            if width and score > best:
                best, found = score, (delimiter, decimal, numeric.index(width))
    if found is None:
        raise InputError.of(name, "", "no line of the file's first 200 is numbers; it holds no road")
    return found


def _numeric_cells(cells: list[str], decimal: str) -> int:
    """Cells of a line of numbers and gaps; 0 where it has anything else."""
    numbers = sum(_is_number(cell, decimal) for cell in cells)
    return (
        len(cells) if numbers and all(_is_number(c, decimal) or c.lower() in _MISSING for c in cells) else 0
    )


def _names(head: list[str], delimiter: str, columns: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Names of the columns, and a line of units below them if there is one."""
    titled = [_cells(line.lstrip("#% "), delimiter) for line in head]
    titled = [cells for cells in titled if len(cells) == columns]
    units: tuple[str, ...] = ()
    if len(titled) > 1 and all(cell.strip("[]()") in UNITS for cell in titled[-1]):
        units = tuple(cell.strip("[]()") for cell in titled.pop())
    names = titled[-1] if titled else [f"column {number}" for number in range(1, columns + 1)]
    return tuple(names), units


def _numbers(rows: list[list[str]], columns: int, decimal: str) -> Array:
    """(rows, columns), NaN where a cell is no number."""
    numbers = np.full((len(rows), columns), np.nan)
    for row, cells in enumerate(rows):
        for column, cell in enumerate(cells):
            if _is_number(cell, decimal):
                numbers[row, column] = float(_with_point(cell, decimal).replace("−", "-"))
    return numbers


def _roles(names: tuple[str, ...], numbers: Array) -> tuple[int | None, int, int | None, tuple[str, ...]]:
    """Columns of distance, left and right, and why."""
    by_name = {
        role: next((n for n, name in enumerate(names) if pattern.search(name.lower())), None)
        for role, pattern in _ROLES.items()
    }
    rising = [n for n in range(numbers.shape[1]) if _rises(numbers[:, n])]
    # A column that is alone must be the height, whatever it is called.
    distance, reasons = by_name["distance"] if numbers.shape[1] > 1 else None, []
    if distance is None and rising and numbers.shape[1] > 1:
        distance = rising[0]
        reasons.append(f"“{names[distance]}” taken as the distance, since it increases")
    elif distance is None:
        reasons.append("no column increases like a distance; lines are taken as equally far apart")
    others = [n for n in range(numbers.shape[1]) if n != distance]
    left, right = by_name["left"], by_name["right"]
    if left is None or right is None or left == right:
        left, right = others[0], others[1] if len(others) > 1 else None
        reasons.append("tracks taken in their order" if right is not None else "one track for both wheels")
    return distance, left, right, tuple(reasons)


def _rises(values: Array) -> bool:
    known = values[np.isfinite(values)]
    return len(known) > 1 and bool((np.diff(known) > 0).all())


def _stated_unit(names: tuple[str, ...], unit_row: tuple[str, ...], column: int) -> str | None:
    if unit_row:
        return unit_row[column]
    found = _UNIT_IN_NAME.search(names[column])
    unit = (found[1] or found[2]) if found else None
    return unit if unit in UNITS else None


def _distance_unit(
    names: tuple[str, ...], unit_row: tuple[str, ...], column: int | None
) -> tuple[str, tuple[str, ...]]:
    stated = None if column is None else _stated_unit(names, unit_row, column)
    if stated or column is None:
        return stated or "m", ()
    return "m", ("distance assumed in m",)


def _height_unit(
    names: tuple[str, ...], unit_row: tuple[str, ...], column: int, numbers: Array
) -> tuple[str, tuple[str, ...]]:
    stated = _stated_unit(names, unit_row, column)
    if stated:
        return stated, ()
    heights = numbers[np.isfinite(numbers[:, column]), column]
    unit = "mm" if len(heights) and np.ptp(heights) > _HIGHEST_METRES else "m"
    return unit, (f"heights assumed in {unit} from the size of the numbers",)
