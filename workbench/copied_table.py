"""Tables to the clipboard as a spreadsheet takes them: tab-separated text, and HTML with bare numbers."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Sequence
from html import escape

from PySide6.QtCore import QAbstractItemModel, QMimeData, Qt
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence
from PySide6.QtWidgets import QTableView

from models.plain_cells import plain_cell
from models.units import KINDS

__all__ = ["copied", "copy_rows", "make_copyable", "rows_of", "shown_rows"]

Rows = Sequence[Sequence[str]]

_NUMBER = re.compile(r"([-+]?\d+\.?\d*(?:e[-+]?\d+)?)( ?%)?")
_POWER = re.compile(r"(\d+\.?\d*)·10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)")
_RAISED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
_SPACES = str.maketrans("", "", "\u202f\u2009")
_WITH_UNIT = re.compile(r"([-+−]?\d[\d.\u202f]*(?:·10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)?) (\S+)")
# A share stays "12 %", which a spreadsheet reads.
_UNITS = {unit for kind in KINDS.values() for unit in kind.units} - {"1", "%"}
# How a head tells the order of its rows.
_ARROWS = re.compile(r"\s*[▲▼]")
_SIGNED_WORDS = re.compile(r"\+(?=\d)")


def make_copyable(table: QTableView, rows: Callable[[], Rows] | None = None) -> None:
    """Let a table be copied by Ctrl+C and by its context menu.

    Args:
        table: what is copied: the rows that are selected if they are several, else all.
        rows: gives head and rows in place of what the table shows.
    """
    action = QAction("Copy table", table)
    action.setShortcut(QKeySequence.StandardKey.Copy)
    action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
    action.setToolTip("Copy the selected rows, or all, for a spreadsheet")
    action.triggered.connect(lambda: copy_rows(rows_of(table) if rows is None else rows()))
    table.addAction(action)
    table.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)


def copy_rows(rows: Rows) -> None:
    """Put a table whose first row is its head on the clipboard; one without rows leaves it as it is."""
    if rows:
        QGuiApplication.clipboard().setMimeData(copied(rows))


def copied(rows: Rows) -> QMimeData:
    """Clipboard content of a table whose first row is its head.

    Numbers are written as a spreadsheet reads them, with a hyphen for minus.  Other text that it would take
    as a formula gets an apostrophe, and in HTML every text is marked as text: "1/2" is no date.
    """
    cells = [[_cell(text) for text in row] for row in rows]
    text = io.StringIO()
    csv.writer(text, delimiter="\t", lineterminator="\n").writerows(cells)
    data = QMimeData()
    data.setText(text.getvalue())
    data.setHtml(_html(cells))
    return data


def rows_of(table: QTableView) -> list[list[str]]:
    """Head and rows of a table: the selected ones if they are several, else all."""
    chosen = sorted({index.row() for index in table.selectionModel().selectedRows()})
    return shown_rows(table, chosen if len(chosen) > 1 else None)


def shown_rows(table: QTableView, chosen: Sequence[int] | None = None) -> list[list[str]]:
    """Head and rows as a table shows them, without what is hidden and columns of signs only."""
    model = table.model()
    numbers = range(model.rowCount()) if chosen is None else chosen
    rows = [row for row in numbers if not table.isRowHidden(row)]
    columns = [column for column in range(model.columnCount()) if not table.isColumnHidden(column)]
    heads = _heads(model, columns)
    texts = [[_text(model, row, column) for column in columns] for row in rows]
    kept = [
        place
        for place, head in enumerate(heads)
        if head or any(sign.isalnum() for row in texts for sign in row[place])
    ]
    columns_shown = [[row[place] for row in (heads, *texts)] for place in kept]
    apart = [column for shown in columns_shown for column in _without_units(shown)]
    return [list(row) for row in zip(*apart, strict=True)]


def _without_units(column: list[str]) -> list[list[str]]:
    """A column whose cells name units, "27 N/mm", as numbers with the unit in the head or beside."""
    head, *cells = column
    found = [_WITH_UNIT.fullmatch(text) for text in cells]
    units = [match[2] if match is not None and match[2] in _UNITS else "" for match in found]
    if not any(units):
        return [column]
    numbers = [
        match[1] if match and unit else text for match, unit, text in zip(found, units, cells, strict=True)
    ]
    if len({*units} - {""}) == 1:
        return [[f"{head} {max(units)}", *numbers]]
    return [[head, *numbers], [f"{head}, unit", *units]]


def _heads(model: QAbstractItemModel, columns: Sequence[int]) -> list[str]:
    """Heads on one line; one that stands more than once goes with the one before it."""
    across = Qt.Orientation.Horizontal
    texts = (_ARROWS.sub("", str(model.headerData(column, across) or "")) for column in columns)
    heads = [" ".join(text.split()) for text in texts]
    named, before = [], ""
    for head in heads:
        if heads.count(head) > 1 and head and before:
            named.append(f"{before}, {head}")
        else:
            named.append(head)
            before = head or before
    return named


def _text(model: QAbstractItemModel, row: int, column: int) -> str:
    return str(model.data(model.index(row, column)) or "")


def _cell(text: str) -> str:
    number = _number(text)
    if number:
        return number
    line = " ".join(text.split())
    return plain_cell(_SIGNED_WORDS.sub("", line, count=1) if line.startswith("+") else line)


def _number(text: str) -> str:
    """A number as a spreadsheet reads it, "-1.2" for "−1.2", "1.2e6" for "1.2·10⁶"; empty for other text."""
    plain = text.strip().translate(_SPACES).replace("−", "-")
    plain = _POWER.sub(lambda found: f"{found[1]}e{found[2].translate(_RAISED)}", plain)
    return plain if _NUMBER.fullmatch(plain) else ""


def _html(cells: Rows) -> str:
    head, *rows = cells
    lines = ["".join(f"<th>{escape(text)}</th>" for text in head), *("".join(map(_td, row)) for row in rows)]
    table = "\n".join(f"<tr>{line}</tr>" for line in lines)
    return (
        '<html xmlns:x="urn:schemas-microsoft-com:office:excel"><head><meta charset="utf-8"></head>'
        f"<body><table>\n{table}\n</table></body></html>"
    )


def _td(text: str) -> str:
    found = _NUMBER.fullmatch(text)
    if found is None:
        return f"<td style='mso-number-format:\"\\@\"'>{escape(text)}</td>"
    if found[2]:
        return f"<td>{escape(text)}</td>"
    # The value apart from the text, as the decimal sign of the reader may be a comma.
    return f'<td x:num="{found[1]}" sdval="{found[1]}" sdnum="1033;">{text}</td>'
