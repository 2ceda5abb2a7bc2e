"""Names in place of numbers along x, and a legend that needs more than one line."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtGui import QFont, QFontMetrics
from pytestqt.qtbot import QtBot

from models.charts import Axis, Chart, Curve
from models.charts.bars import bars
from models.charts.files import export
from tests.screen import show
from workbench.plots import ChartView
from workbench.plots.axes import NAME_LINES, named

NAMES = ("as designed", "four up with luggage on the roof", "towing")


def chart(curves: int = 1) -> Chart:
    x, y = bars(0.0, 0.3, np.array([0.01, 0.05, 0.03]))
    roles = ("candidate", *("other",) * (curves - 1))
    return Chart(
        "cases",
        "Travel by load case",
        Axis("Load case", "ratio", names=NAMES),
        Axis("Travel", "travel"),
        tuple(Curve(f"a rather long name {n}", "", x, y, role, shade=n) for n, role in enumerate(roles)),
    )


def test_names_stand_below_their_places(qtbot: QtBot) -> None:
    view = ChartView()
    qtbot.addWidget(view)
    view.resize(500, 300)
    view.set_chart(chart())
    assert view._canvas.ranges[0] == (0.5, 3.5)
    assert view._canvas.x_axis.names == NAMES
    assert view._readout.axis_title == "Load case"
    view._hovered(2.2)
    assert view.readout.startswith("four up with luggage on the roof")


@pytest.mark.parametrize("room", [60.0, 90.0, 400.0])
def test_names_do_not_meet(qtbot: QtBot, room: float) -> None:
    metrics = QFontMetrics(QFont())
    texts = [text.split("\n") for text in named(metrics, NAMES, room)]
    assert all(len(lines) <= NAME_LINES for lines in texts)
    widths = [max(map(metrics.horizontalAdvance, lines)) for lines in texts]
    for first, second in pairwise(widths):
        assert (first + second) / 2 <= room
    assert (texts[1] == [NAMES[1]]) == (room == 400.0)


def test_a_legend_takes_the_lines_that_its_names_need(qtbot: QtBot) -> None:
    view = ChartView()
    qtbot.addWidget(view)
    view.resize(500, 300)
    view.set_chart(chart(curves=6))
    show(qtbot, view)
    line = view._legend._line_height()
    qtbot.waitUntil(lambda: view._legend.height() > line)
    _, lines = view._legend._laid_out()
    assert [text for own in lines for _, text in own] == [entry.text for entry in view._legend.entries]
    view.resize(2000, 300)
    qtbot.waitUntil(lambda: view._legend.height() == line)


def test_files_hold_the_names(tmp_path: Path) -> None:
    export(chart(), tmp_path / "cases.csv")
    text = (tmp_path / "cases.csv").read_text("utf-8")
    assert "# Load case: 1 as designed, 2 four up with luggage on the roof, 3 towing" in text
    export(chart(), tmp_path / "cases.svg")
    drawn = (tmp_path / "cases.svg").read_text("utf-8")
    assert ">towing</text>" in drawn
    assert ">as designed</text>" in drawn
