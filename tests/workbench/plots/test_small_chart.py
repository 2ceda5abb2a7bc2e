"""The small chart asks for its curves only when seen, and keeps its axes still while they move."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QFontMetricsF
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from models.charts import Axis, Chart, Curve, Mark
from models.units import METRIC
from tests.screen import move_mouse, show
from workbench.plots.small_chart import SmallChart, _ticks
from workbench.theme import DARK, LIGHT, Theme

X = np.linspace(-0.1, 0.1, 21)


class Source:
    """A spring of which the rate is dragged."""

    def __init__(self) -> None:
        self.rate, self.asked = 20e3, 0
        self.units: dict[str, str] = dict(METRIC)
        self.theme: Theme = LIGHT

    def chart(self) -> Chart:
        self.asked += 1
        curves = (
            Curve("old", "", X, 18e3 * X, "baseline"),
            Curve("new", "", X, self.rate * X, "candidate"),
        )
        axes = Axis("Wheel travel", "travel", sign="jounce +"), Axis("Wheel force change", "force")
        return Chart("law", "Law", *axes, curves, (Mark(0.05, "bump stop"),))


@pytest.fixture
def source() -> Source:
    return Source()


@pytest.fixture
def chart(qtbot: QtBot, source: Source) -> SmallChart:
    chart = SmallChart(source.chart, lambda: source.units, lambda: source.theme)
    qtbot.addWidget(chart)
    chart.resize(300, 120)
    return chart


def has(chart: SmallChart, colour: str) -> bool:
    image = chart.grab().toImage()
    wanted = QColor(colour)
    return any(image.pixelColor(x, y) == wanted for x in range(image.width()) for y in range(image.height()))


def test_a_chart_out_of_sight_is_not_computed(qtbot: QtBot, source: Source) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    chart = SmallChart(source.chart, lambda: source.units, lambda: source.theme, window)
    window.resize(300, 50)
    chart.setGeometry(0, 200, 300, 120)
    show(qtbot, window)
    for _ in range(5):
        chart.invalidate()
    assert source.asked == 0
    chart.move(0, 0)
    qtbot.waitUntil(lambda: source.asked == 1)


def test_candidate_and_baseline_are_drawn_in_their_colours(chart: SmallChart, source: Source) -> None:
    # An antialiased line is pure somewhere only where it lies on a pixel; dots are filled.
    assert has(chart, LIGHT.candidate)
    assert has(chart, LIGHT.paper)
    source.theme = DARK
    assert has(chart, DARK.candidate)
    assert has(chart, DARK.paper)


def test_axes_grow_with_a_curve_and_shrink_only_when_they_stand_empty(
    chart: SmallChart, source: Source
) -> None:
    def limits(rate: float) -> tuple[float, float]:
        source.rate = rate
        chart.invalidate()
        assert chart.chart.curves
        return chart.y_range

    first = limits(20e3)
    assert first == (-2000.0, 2000.0)
    assert limits(21e3) == (-3000.0, 3000.0)
    assert limits(19e3) == (-3000.0, 3000.0)
    assert limits(100e3) == (-10000.0, 10000.0)
    assert limits(20e3) == (-2000.0, 2000.0)


def test_units_of_choice_hold_from_the_next_painting_on(chart: SmallChart, source: Source) -> None:
    assert chart.caption == "Wheel force change (N)"
    source.units = {**METRIC, "force": "kN"}
    chart.invalidate()
    assert chart.caption == "Wheel force change (kN)"
    assert chart.y_range == (-2.0, 2.0)


def test_the_mouse_reads_values(chart: SmallChart, qtbot: QtBot) -> None:
    show(qtbot, chart)
    move_mouse(chart, QPoint(44 + (300 - 44 - 8) // 2, 60))  # the middle of the drawing: no travel
    travel, values = chart.caption.split(":")
    assert travel.endswith("mm")
    assert values.split(", ")[0].endswith(" N")
    assert values.split(", ")[1].startswith("baseline ")
    assert abs(float(travel.split()[0].replace("−", "-"))) < 1.0  # mm per pixel
    move_mouse(chart, QPoint(2, 60))
    assert chart.caption == "Wheel force change (N)"


def test_the_name_of_a_mark_keeps_clear_of_the_curve_over_its_whole_length(qtbot: QtBot) -> None:
    x = np.linspace(-0.1, 0.1, 201)
    y = np.clip(3e5 * x, 0.0, 1e4)  # low at the mark, high where its name ends
    axes = Axis("Tyre deflection", "travel"), Axis("Force", "force")
    name = "full load"
    curves = (Curve("new", "", x, y, "candidate"),)
    drawn = Chart("law", "Law", *axes, curves, (Mark(0.01, name),))
    chart = SmallChart(lambda: drawn, lambda: METRIC, lambda: LIGHT)
    qtbot.addWidget(chart)
    chart.resize(300, 120)
    image, metrics = chart.grab().toImage(), QFontMetricsF(chart.font())
    mark = round(np.interp(10.0, (-100.0, 100.0), (44.0, 292.0)))
    columns = range(mark + 8, mark + int(metrics.horizontalAdvance(name)) - 4)
    line = metrics.height()

    def inked(top: float) -> int:
        """Dots of text, which is neither paper nor grid nor curve but grey."""
        rows = range(int(top), int(top + line))
        dots = (image.pixelColor(column, row) for column in columns for row in rows)
        return sum(dot.lightness() < 150 and dot.hslSaturation() < 60 for dot in dots)

    assert inked(line + 7) == 0
    assert inked(120 - 2 * line - 6) > 20


@pytest.mark.parametrize("end", [0.12, 1.0, 2.4, 3.5, 4.724, 7.0])
def test_an_axis_has_the_two_ticks_that_tell_its_scale(end: float) -> None:
    """4.724 in is 120 mm: at a step of 5 only its zero would have a number."""
    assert 2 <= len(_ticks((-end, end), 2.1)) <= 6


def test_keys_read_out(chart: SmallChart, qtbot: QtBot) -> None:
    chart.setAccessibleDescription("What the spring gives")
    show(qtbot, chart)
    chart.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(chart, Qt.Key.Key_End)
    assert chart.caption == "100 mm: 2000 N, baseline 1800"
    qtbot.keyClick(chart, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert chart.caption == "80.0 mm: 1600 N, baseline 1440"
    assert chart.accessibleDescription() == chart.caption
    chart.clearFocus()
    assert chart.caption == "Wheel force change (N)"
    assert chart.accessibleDescription() == "What the spring gives"
