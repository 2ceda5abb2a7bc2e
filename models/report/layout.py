"""What both renderers of a document share: widths of columns, and figures side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from models.report.document import Block, ChartFigure, Table

__all__ = ["side_by_side", "widths"]

# Letters of a table that fit across the page, the least of a column of words, and the air of a cell.
_ROOM, _LEAST, _AIR = 106, 9, 2


def widths(table: Table) -> list[float]:
    """Shares of the columns in the width: numbers get what they need, words share the rest."""
    needs = [_need(table, place) for place in range(len(table.columns))]
    words = [place for place, column in enumerate(table.columns) if not column.number]
    rest = _ROOM - sum(need for place, need in enumerate(needs) if place not in words)
    wanted = sum(needs[place] for place in words)
    if wanted > rest:
        for place in words:
            needs[place] = max(needs[place] * rest / wanted, _LEAST)
    elif words:
        needs[words[0]] += rest - wanted
    total = sum(needs)
    return [need / total for need in needs]


def _need(table: Table, place: int) -> float:
    """Letters of a column in which nothing has to be broken but the head, between its words."""
    cells = [len(row.cells[place].text) for row in table.rows if not row.is_title]
    head = max(map(len, table.columns[place].head.split()), default=0)
    return max([head, *cells]) + _AIR


def side_by_side(blocks: Sequence[Block]) -> Iterator[Block | tuple[ChartFigure, ...]]:
    """Blocks, with small figures that follow each other in pairs."""
    waiting: tuple[ChartFigure, ...] = ()
    for block in blocks:
        small = isinstance(block, ChartFigure) and block.small
        if waiting and (not small or len(waiting) == 2):
            yield waiting
            waiting = ()
        if isinstance(block, ChartFigure) and block.small:
            waiting = (*waiting, block)
        else:
            yield block
    if waiting:
        yield waiting
