"""All figures of the scorecard by groups."""

from __future__ import annotations

from collections.abc import Iterator

from models.figure_text import unit_text
from models.judge.practice import PRACTICE, PRACTICE_MEANING
from models.judge.scorecard import Row as CardRow
from models.judge.scorecard_text import label_of, value_words
from models.report.bench import Bench
from models.report.document import Block, Note, Row
from models.report.sections.job import target_cells
from models.report.words import change_words, row, table, title_row

__all__ = ["scorecard"]


def scorecard(bench: Bench) -> Iterator[Block]:
    """Value, target, margin and change of each figure."""
    yield table(
        "",
        ("Figure", "Unit"),
        ("Target", "Candidate", "Margin", "", *bench.heads[1:]),
        _rows(bench),
    )
    yield Note(f"{PRACTICE}: {PRACTICE_MEANING}")


def _rows(bench: Bench) -> Iterator[Row]:
    group = ""
    for one in bench.card.rows:
        if one.figure.group != group:
            group = one.figure.group
            yield title_row(group or "Targets that cannot be judged")
        yield _row(bench, one)


def _row(bench: Bench, one: CardRow) -> Row:
    units = bench.units
    cells = target_cells(one, bench)
    if len(one.cells) > 1:
        candidate, baseline = one.cells
        change = change_words(candidate.value, baseline.value, one.figure.kind, units)
        cells += [value_words(one, baseline, units), change]
    return row(label_of(one, units), unit_text(one.figure.kind, units), *cells)
