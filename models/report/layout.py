"""What both renderers of a document share: widths of columns, and figures side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from models.report.document import Block, ChartFigure, Table

__all__ = ["side_by_side", "widths"]

# Letters of a table that fit across the page, the least of a column of words, and the air of a cell.
_ROOM, _LEAST, _AIR = 108, 9, 1.6
# How much wider than others the letters of a head are.
_BOLD = 1.15
# Letters that a column is made wider than it needs to be, where there is room.
_SPREAD = 3.0


def widths(table: Table) -> list[float]:
    """Shares of the columns in the width: numbers get what they need, words share the rest."""
    needs = [_need(table, place) for place in range(len(table.columns))]
    words = [place for place, column in enumerate(table.columns) if not column.number]
    rest = _ROOM - sum(needs)
    if rest < 0:
        most = _level([needs[place] for place in words], rest)
        for place in words:
            needs[place] = min(needs[place], most)
    else:
        spread = min(rest / len(needs), _SPREAD)
        needs = [need + spread for need in needs]
        needs[0] += rest - spread * len(needs)
    total = sum(needs)
    return [need / total for need in needs]


def _level(needs: Sequence[float], change: float) -> float:
    """To which all longer columns are cut so that together they give up ``-change`` letters."""
    longest = sorted(needs, reverse=True)
    for count in range(1, len(longest) + 1):
        level = (sum(longest[:count]) + change) / count
        if count == len(longest) or level >= longest[count]:
            return max(level, _LEAST)
    return _LEAST


def _need(table: Table, place: int) -> float:
    """Letters of a column in which nothing has to be broken but the head, between its words."""
    cells = [len(row.cells[place].text) for row in table.rows if not row.is_title]
    return max([_BOLD * _in_two_lines(table.columns[place].head), *cells]) + _AIR


def _in_two_lines(head: str) -> int:
    """Letters of the longer line when a head is broken as evenly as its words allow."""
    words = head.split()
    breaks = ((" ".join(words[:place]), " ".join(words[place:])) for place in range(len(words)))
    return min((max(map(len, lines)) for lines in breaks), default=0)


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
