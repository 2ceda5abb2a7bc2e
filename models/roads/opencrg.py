"""Reads roads in OpenCRG, the open format of curved regular grids (ASAM OpenCRG 1.2).

A file has a head of named blocks, a line that begins with ``$$$$``, and the columns of a matrix: the heights
of the long sections, each at its lateral place v (positive to the left), and perhaps heading, slope and
banking of the reference line.  Columns are numbers of 10 or 20 characters (LRFI, LDFI) or big-endian floats
of 4 or 8 bytes (KRBI, KDBI) in records of 80 bytes.  A file is data only and nothing in it is run.
"""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError
from models.plain_file import read_limited
from models.roads.prepare import RawRoad

__all__ = ["MOST_BYTES", "CurvedGrid", "parse_opencrg", "read_opencrg", "tracks"]

Array = NDArray[np.float64]

#: Largest file that is read.
MOST_BYTES = 400_000_000

_RECORD = 80
# Beyond this no number of a road is true: lengths and heights are in m.
_WILD = 1e6
_FORMATS = ("LRFI", "LDFI", "KRBI", "KDBI")
_SECTION_AT = re.compile(r"long section at v\s*=\s*([-+.\deE]+)", re.IGNORECASE)
_SECTION_NUMBER = re.compile(r"long section (\d+)", re.IGNORECASE)
_SETTING = re.compile(r"\s*(\w+)\s*=\s*(\S+)")


@dataclass(frozen=True, eq=False)
class CurvedGrid:
    """A road surface along a reference line.

    Attributes:
        u: (N,) distance along the reference line, m.
        v: (M,) lateral place of the long sections, increasing to the left, m.
        z: (N, M) height, m, NaN where there is none; slope and banking are not in it.
        heading, slope, banking: (N,) of the reference line, rad, m/m, m/m; None where the file has none.
        remarks: what the file asks for and was not done.
    """

    u: Array
    v: Array
    z: Array
    heading: Array | None
    slope: Array | None
    banking: Array | None
    remarks: tuple[str, ...] = ()


def read_opencrg(path: str | os.PathLike[str]) -> CurvedGrid:
    """Surface of a file.

    Raises:
        InputError: the file cannot be read, is damaged (with line or record), or uses what is not supported.
    """
    name = Path(path).name
    try:
        content = read_limited(path, MOST_BYTES)
    except (OSError, ValueError) as error:
        raise InputError.of(name, "", f"the file cannot be read: {error}") from error
    try:
        return parse_opencrg(content)
    except InputError as error:
        raise InputError.of(name, "", str(error)) from error


def parse_opencrg(content: bytes) -> CurvedGrid:
    """Surface of the bytes of a file; raises :class:`InputError` where they are damaged."""
    lines, body = _split(content)
    blocks = _blocks(lines)
    settings = _settings(blocks.get("ROAD_CRG", []))
    kind, columns = _definition(blocks.get("KD_DEFINITION", []))
    remarks = _remarks(blocks, settings, columns)
    matrix = (
        _binary(body, kind, len(columns)) if kind[0] == "K" else _text(body, kind, len(columns), len(lines))
    )
    if len(matrix) < 2:
        raise InputError.of("", "", f"{len(matrix)} rows of data are no road; it needs at least 2")
    sections = [number for number, title in enumerate(columns) if title.lower().startswith("long section")]
    if not sections:
        raise InputError.of("", "", "no column is a long section; there are no heights")
    v = _lateral([columns[number] for number in sections], settings)
    return CurvedGrid(
        u=_along(settings, len(matrix)),
        v=v,
        z=matrix[:, sections],
        heading=_column(matrix, columns, "phi"),
        slope=_column(matrix, columns, "slope"),
        banking=_column(matrix, columns, "bank"),
        remarks=remarks,
    )


def tracks(grid: CurvedGrid, track: float, name: str, centre: float = 0.0) -> RawRoad:
    """Heights under two wheels, at ``centre`` ± ``track``/2, with slope and banking of the reference line.

    Between two long sections the surface is straight across; beside a missing height there is none.

    Args:
        grid: the surface.
        track: distance of the two wheels, m.
        name: of the road.
        centre: lateral place of the middle of the car, m, positive to the left.

    Raises:
        InputError: a wheel would run beside the surface.
    """
    rise = np.zeros(len(grid.u))
    if grid.slope is not None:
        steps = np.diff(grid.u) * np.nan_to_num(grid.slope[1:])  # a row has the slope up to it
        rise[1:] = np.cumsum(steps)
    bank = np.zeros(len(grid.u)) if grid.banking is None else np.nan_to_num(grid.banking)
    left, right = (
        _along_v(grid, place) + rise + bank * place for place in (centre + track / 2, centre - track / 2)
    )
    return RawRoad(name, grid.u, left, right, grid.remarks)


def _along_v(grid: CurvedGrid, v: float) -> Array:
    if not grid.v[0] - 1e-9 <= v <= grid.v[-1] + 1e-9:
        reason = f"a wheel at v = {v:.3g} m is beside the surface ({grid.v[0]:.3g} to {grid.v[-1]:.3g} m)"
        raise InputError.of("track", v, reason)
    upper = min(max(int(np.searchsorted(grid.v, v)), 1), len(grid.v) - 1)
    low, high = grid.v[upper - 1], grid.v[upper]
    share = min(max((v - low) / (high - low), 0.0), 1.0)
    if share < 1e-6 or share > 1 - 1e-6:  # on a section, whose neighbour does not count
        return np.asarray(grid.z[:, upper - 1 if share < 0.5 else upper])
    return np.asarray((1 - share) * grid.z[:, upper - 1] + share * grid.z[:, upper])


# -- head -------------------------------------------------------------------------------------------------


def _split(content: bytes) -> tuple[list[str], bytes]:
    """Lines of the head, and what follows the line of dollars."""
    found = re.search(rb"^\$\$\$\$[^\r\n]*(\r\n|\n|\r)", content, re.MULTILINE)
    if found is None:
        raise InputError.of("", "", "this is no OpenCRG file: no line begins with $$$$")
    head = content[: found.start()].decode("latin-1")
    return head.splitlines(), content[found.end() :]


def _blocks(lines: list[str]) -> dict[str, list[tuple[int, str]]]:
    """Lines of each named block with their numbers, without comments."""
    blocks: dict[str, list[tuple[int, str]]] = {}
    name = ""
    for number, line in enumerate(lines, 1):
        if line.startswith("*"):
            continue
        text = line.split("!")[0].rstrip()
        if text.startswith("$"):
            name = text[1:].strip().upper().split(" ")[0]
            continue
        if text and name not in ("", "CT"):
            blocks.setdefault(name, []).append((number, text))
    return blocks


def _settings(lines: list[tuple[int, str]]) -> dict[str, float]:
    settings = {}
    for number, text in lines:
        found = _SETTING.match(text)
        if found is None:
            raise InputError.of("", text, f"line {number}: '{text[:40]}' is no 'name = number'")
        setting = _number(found[2])
        if setting is None:
            reason = f"line {number}: '{found[2][:20]}' is no number from {-_WILD:g} to {_WILD:g}"
            raise InputError.of("", text, reason)
        settings[found[1].lower()] = setting
    return settings


def _number(word: str) -> float | None:
    """Number of a word; None where it is none or a wild one."""
    try:
        number = float(word)
    except ValueError:
        return None
    return number if abs(number) <= _WILD else None


def _definition(lines: list[tuple[int, str]]) -> tuple[str, list[str]]:
    """Format of the data, and titles of its columns."""
    kind, columns = "KRBI", []
    for number, text in lines:
        if text.startswith("#:"):
            kind = text[2:].strip().upper()
            if kind not in _FORMATS:
                reason = f"line {number}: data in '{kind[:20]}' is not supported ({', '.join(_FORMATS)})"
                raise InputError.of("", kind, reason)
        elif text.startswith("D:"):
            title, _, unit = text[2:].rpartition(",")
            expected = "rad" if "phi" in title.lower() else "m/m" if _is_inclination(title) else "m"
            if unit.strip() != expected:
                reason = f"line {number}: '{title[:40]}' is in '{unit.strip()[:10]}', not in {expected}"
                raise InputError.of("", unit, reason)
            columns.append(title.strip())
    if not columns:
        raise InputError.of("", "", "the head defines no columns of data ($KD_Definition with D: lines)")
    return kind, columns


def _is_inclination(title: str) -> bool:
    return "slope" in title.lower() or "bank" in title.lower()


def _remarks(
    blocks: dict[str, list[tuple[int, str]]], settings: dict[str, float], columns: list[str]
) -> tuple[str, ...]:
    if "ROAD_CRG_FILE" in blocks:
        number = blocks["ROAD_CRG_FILE"][0][0]
        raise InputError.of("", "", f"line {number}: the data stands in another file, which is not read")
    remarks = [
        f"{name} of the file not applied" for name in ("ROAD_CRG_MODS", "ROAD_CRG_OPTS") if name in blocks
    ]
    for word, letter in (("slope", "s"), ("bank", "b")):
        constant = settings.get(f"reference_line_start_{letter}", 0.0)
        if constant and not any(word in title for title in columns):
            remarks.append(f"constant {word} of {constant:g} left out")
    return tuple(remarks)


def _lateral(titles: list[str], settings: dict[str, float]) -> Array:
    """(M,) places of the long sections, m."""
    at = [_SECTION_AT.match(title) for title in titles]
    if all(at):
        places = [_number(found[1]) for found in at if found]
        if None in places:
            raise InputError.of("", "", f"the place of long section {places.index(None) + 1} is no number")
        v = np.array(places, dtype=np.float64)
    elif all(map(_SECTION_NUMBER.match, titles)):
        v = _even_sections(len(titles), settings)
    else:
        odd = next(title for title, found in zip(titles, at, strict=True) if not found)
        raise InputError.of("", odd, f"'{odd[:40]}' says neither its place nor its number")
    if len(v) < 2 or not (np.diff(v) > 0).all():
        raise InputError.of("", "", "the long sections do not go from right to left, or there is only one")
    return v


def _even_sections(count: int, settings: dict[str, float]) -> Array:
    right = _needed(settings, "long_section_v_right")
    if "long_section_v_increment" in settings:
        v = right + settings["long_section_v_increment"] * np.arange(count)
        left = settings.get("long_section_v_left", v[-1])
        if abs(v[-1] - left) > 1e-3 * max(abs(left), 1.0):
            reason = f"{count} long sections end at v = {v[-1]:.4g} m, where the head says {left:.4g} m"
            raise InputError.of("", "", reason)
        return np.asarray(v)
    return np.linspace(right, _needed(settings, "long_section_v_left"), count)


def _along(settings: dict[str, float], rows: int) -> Array:
    """(N,) distance along the reference line, m."""
    step = _needed(settings, "reference_line_increment")
    if not step > 0:
        raise InputError.of("", step, f"reference_line_increment is {step:g} m; it has to be above 0 m")
    start = settings.get("reference_line_start_u", 0.0)
    u = start + step * np.arange(rows)
    end = settings.get("reference_line_end_u", u[-1])
    if abs(u[-1] - end) > 0.5 * step:
        reason = f"the data has {rows} rows and ends at u = {u[-1]:.6g} m, where the head says {end:.6g} m"
        raise InputError.of("", "", f"the file is cut or damaged: {reason}")
    return np.asarray(u, dtype=np.float64)


def _needed(settings: dict[str, float], name: str) -> float:
    if name not in settings:
        raise InputError.of("", "", f"the head does not say {name}")
    return settings[name]


def _column(matrix: Array, columns: list[str], word: str) -> Array | None:
    """Column of the reference line whose title has a word."""
    found = [
        n for n, title in enumerate(columns) if title.lower().startswith("reference line") and word in title
    ]
    return matrix[:, found[0]] if found else None


# -- data -------------------------------------------------------------------------------------------------


def _binary(body: bytes, kind: str, columns: int) -> Array:
    """(N, columns) of big-endian floats; the last record is filled up."""
    size = 4 if kind == "KRBI" else 8
    rows, rest = divmod(len(body), size * columns)
    if len(body) % _RECORD or rest >= _RECORD:
        record = rows * size * columns // _RECORD + 1
        reason = f"the file is cut or damaged: row {rows + 1}, from record {record} on, is not whole"
        raise InputError.of("", "", reason)
    with np.errstate(invalid="ignore"):  # a missing height is any NaN, a signalling one too
        values = np.frombuffer(body, f">f{size}", rows * columns).astype(np.float64).reshape(rows, columns)
    wild = np.argwhere(np.isinf(values) | (np.abs(values) > _WILD))
    if len(wild):
        row, column = wild[0]
        record = (row * columns + column) * size // _RECORD + 1
        place = f"record {record}: row {row + 1}, column {column + 1}"
        raise InputError.of("", "", f"the file is damaged at {place} is {values[row, column]:.3g}, no height")
    # What fills up the last record may be as long as some rows.
    first = (len(body) - _RECORD) / (size * columns)
    while rows and rows - 1 >= first and np.isnan(values[rows - 1]).all():
        rows -= 1
    return values[:rows]


def _text(body: bytes, kind: str, columns: int, head: int) -> Array:
    """(N, columns) of numbers of a fixed width; each row begins a new record, missing ones have a star."""
    width = 10 if kind == "LRFI" else 20
    per_record = _RECORD // width
    records = -(-columns // per_record)
    lines = body.decode("latin-1").splitlines()
    while lines and not lines[-1].strip():
        lines.pop()
    if len(lines) % records:
        reason = f"line {head + 1 + len(lines)}: the last row is not whole ({records} lines each)"
        raise InputError.of("", "", f"the file is cut or damaged at {reason}")
    matrix = np.empty((len(lines) // records, columns))
    for number, line in enumerate(lines):
        row, part = divmod(number, records)
        first = part * per_record
        for column in range(first, min(first + per_record, columns)):
            word = line[(column - first) * width : (column - first + 1) * width].strip()
            value = np.nan if word.startswith("*") else _number(word)
            if value is None:
                reason = f"line {head + 2 + number}: number {column - first + 1}, '{word}', is no number"
                raise InputError.of("", word, f"the file is damaged at {reason}")
            matrix[row, column] = value
    return matrix
