"""Bars at the foot of a chart: where they are, in whose colour, and their texts in sight."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from models.charts import Chart
from models.charts.chart import Span
from models.units import METRIC
from tests.workbench.plots.conftest import ChartMaker
from workbench.plots import ChartView
from workbench.theme import DARK, LIGHT, Theme

SPANS = (
    Span(1.0, 1.5, "front bump stops"),
    Span(1.1, 1.9, "front bump stops", "baseline"),
    Span(2.0, 2.2, "rear left wheel off the road"),
)


@pytest.fixture
def chart(pitch_chart: ChartMaker) -> Chart:
    return replace(pitch_chart(amplitude=0.001), spans=SPANS)


def shown(qtbot: QtBot, chart: Chart, theme: Theme = LIGHT) -> ChartView:
    view = ChartView()
    qtbot.addWidget(view)
    view.resize(900, 500)
    view.set_theme(theme)
    view.set_chart(chart)
    return view


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_bars_stand_at_their_times_in_the_colour_of_their_variant(
    qtbot: QtBot, chart: Chart, theme: Theme
) -> None:
    view = shown(qtbot, chart, theme)
    picture = view._canvas.grab().toImage()
    box = view._canvas.box.sceneBoundingRect()
    height = picture.height() / view._canvas.height()

    def colours(time: float) -> set[str]:
        x = round((box.left() + time / 4.0 * box.width()) * height)
        foot = round(box.bottom() * height)
        return {QColor(picture.pixel(x, y)).name() for y in range(foot - round(40 * height), foot - 1)}

    strong, graphite = QColor(theme.candidate).name(), QColor(theme.baseline).name()
    assert strong in colours(1.25)
    assert graphite in colours(1.25)
    assert graphite in colours(1.7)
    assert strong not in colours(1.7)
    assert strong in colours(2.1)
    assert not {strong, graphite} & colours(0.8)


def test_rows_follow_the_chart_and_units(qtbot: QtBot, chart: Chart) -> None:
    view = shown(qtbot, chart)
    assert [row.label for row in view._spans.rows] == ["front bump stops", "rear left wheel off the road"]
    assert view._spans.rows[1].spans == (("candidate", 2.0, 2.2),)
    view.set_units({**METRIC, "time": "ms"})
    assert view._spans.rows[1].spans[0][1:] == pytest.approx((2000.0, 2200.0))
    view.set_chart(replace(chart, spans=()))
    assert view._spans.rows == ()


@pytest.mark.parametrize("start", [0.0, 1.9, 3.8])
def test_the_texts_stay_inside(qtbot: QtBot, pitch_chart: ChartMaker, start: float) -> None:
    label = "rear right wheel off the road"
    view = shown(qtbot, replace(pitch_chart(), spans=(Span(start, start + 0.2, label),)))
    view.grab()
    box = view._canvas.box.sceneBoundingRect()
    bar = [("candidate", box.left() + start / 4 * box.width(), box.left() + (start + 0.2) / 4 * box.width())]
    left = view._spans._column(box, bar)  # type: ignore[arg-type]
    width = view._spans._metrics.horizontalAdvance(label)
    assert box.left() <= left
    assert left + width <= box.right()
    assert left >= bar[0][2] or left + width <= bar[0][1]
