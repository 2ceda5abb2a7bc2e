"""Points, paths and notes on the screen: the numbers of the chart, and no reading of values between them."""

from __future__ import annotations

import numpy as np
from pytestqt.qtbot import QtBot

from models.charts import Axis, Chart, Curve
from models.charts.chart import Note
from workbench.plots.chart_view import ChartView
from workbench.plots.points_item import PointsItem
from workbench.theme import DARK

LOOP = (
    np.array([1000.0, 3000.0, 2000.0, np.nan, 1500.0, 1200.0]),
    np.array([0.01, 0.02, 0.03, np.nan, 0.0, 0.01]),
)
CHART = Chart(
    "map",
    "Map",
    Axis("Spring rate", "rate"),
    Axis("Travel", "travel"),
    (
        Curve("misses a target", "", np.array([1e3, 2e3]), np.array([0.0, 0.03]), "limit", form="points"),
        Curve("Pitch share", "1.0", *LOOP, "baseline", form="path"),
    ),
    notes=(Note(3000.0, 0.02, "1.0"),),
)


def test_numbers_are_those_of_the_chart(qtbot: QtBot) -> None:
    view = ChartView()
    qtbot.addWidget(view)
    view.resize(500, 300)
    view.set_chart(CHART)
    view.show()
    qtbot.waitExposed(view)
    points, path = view._lines
    assert isinstance(points, PointsItem)
    assert points.getData()[0].tolist() == [1.0, 2.0]  # N/mm
    assert points.getData()[1].tolist() == [0.0, 30.0]  # mm
    x, y = path.getData()
    np.testing.assert_allclose(x, LOOP[0] / 1e3)
    np.testing.assert_allclose(y, LOOP[1] * 1e3)
    assert view._notes.notes == ((3.0, 20.0, "1.0"),)
    # A path of many points is not thinned out as if it went along x.
    turn = np.linspace(0.0, 6 * np.pi, 5000)
    spiral = Curve("Pitch share", "1.0", 2e3 + turn * np.cos(turn), 0.02 + 1e-3 * np.sin(turn), form="path")
    view.set_chart(Chart(CHART.key, CHART.title, CHART.x, CHART.y, (spiral,)))
    assert len(view._lines[0].getData()[0]) == 5000


def test_nothing_is_read_between_points(qtbot: QtBot) -> None:
    view = ChartView()
    qtbot.addWidget(view)
    view.set_chart(CHART)
    view._hovered(2.0)
    assert "Pitch" not in view.readout
    assert "2.00 N/mm" in view.readout


def test_drawn_in_both_themes(qtbot: QtBot) -> None:
    view = ChartView()
    qtbot.addWidget(view)
    view.resize(400, 300)
    view.set_chart(CHART)
    light = view.grab().toImage()
    view.set_theme(DARK)
    assert view.grab().toImage() != light
