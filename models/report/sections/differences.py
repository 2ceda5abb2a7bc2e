"""What the candidate has that the baseline has not."""

from __future__ import annotations

from collections.abc import Iterator

from models.judge.difference import Difference
from models.judge.difference import differences as found
from models.report.bench import Bench
from models.report.document import Block, Paragraph, Row
from models.report.words import row, table

__all__ = ["differences"]


def differences(bench: Bench) -> Iterator[Block]:
    """Every parameter that differs, with both values and the change."""
    if bench.baseline is None:
        yield Paragraph("The candidate is its own baseline.")
        return
    every = found(bench.candidate.variant.vehicle, bench.baseline.variant.vehicle)
    if not every:
        yield Paragraph("Candidate and baseline are the same car; at most their parts in steel differ.")
        return
    yield table("", ("Parameter",), bench.heads, (_row(bench, one) for one in every))


def _row(bench: Bench, one: Difference) -> Row:
    return row(one.words, *one.texts(bench.units), one.change(bench.units))
