"""Widths of columns, and figures in pairs."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.charts import Axis, Chart, Curve
from models.report.document import ChartFigure, Column, Paragraph, Table
from models.report.layout import side_by_side, widths
from models.report.words import row, title_row

_TEXTS = st.text("ab 1.−/", max_size=60)


@given(st.integers(1, 9).flatmap(lambda n: st.lists(st.tuples(*[_TEXTS] * n), min_size=1, max_size=4)))
def test_shares_are_positive_and_fill_the_page(cells: list[tuple[str, ...]]) -> None:
    columns = tuple(Column(text, number=place > 1) for place, text in enumerate(cells[0]))
    found = widths(Table("", columns, (title_row("all"), *(row(*one) for one in cells))))
    assert len(found) == len(columns)
    assert min(found) > 0
    assert sum(found) == pytest.approx(1.0, abs=1e-12)  # a sum of nine shares


def test_numbers_keep_their_room_beside_long_words() -> None:
    long = "word " * 60
    table = Table("", (Column("Name"), Column("Value", number=True)), (row(long, "123456789"),))
    # Nine letters of a line of about a hundred.
    assert widths(table)[1] > 0.08


def figure(name: str, small: bool) -> ChartFigure:
    line = Curve("car", "", np.arange(2.0), np.arange(2.0))
    chart = Chart(name, name, Axis("Time", "time"), Axis("Pitch", "angle"), (line,))
    return ChartFigure(chart, name, small)


def test_small_figures_that_follow_each_other_stand_in_pairs() -> None:
    a, b, c, d = (figure(name, True) for name in "abcd")
    large, words = figure("e", False), Paragraph("words")
    assert list(side_by_side((a, b, c, words, d, large))) == [(a, b), (c,), words, (d,), large]
