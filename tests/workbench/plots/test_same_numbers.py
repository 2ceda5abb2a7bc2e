"""The chart on the screen and the one on paper show the same numbers in the same units."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from models.analysis import analyse
from models.charts import CHART_CHOICES, build
from models.charts.figure import figure
from models.fields import replaced
from models.run import Run
from models.units import INCH_POUND, METRIC, UnitChoice
from models.vehicle import Vehicle
from workbench.plots import ChartView


@pytest.mark.parametrize("units", [METRIC, INCH_POUND], ids=["metric", "inch-pound"])
@pytest.mark.parametrize("key", CHART_CHOICES)
def test_screen_and_paper_agree(key: str, units: UnitChoice, qtbot: QtBot) -> None:
    # Short, so that the screen thins out no curve.
    run = replaced(Run(), ("duration",), 0.25)
    other = replaced(Vehicle(), ("front", "spring", "rate"), 45e3)
    chart = build(key, analyse(Vehicle(), run), analyse(other, run))
    view = ChartView()
    qtbot.addWidget(view)
    view.resize(1600, 900)
    view.set_units(units)
    view.set_chart(chart)
    view.grab()
    axes = figure(chart, units).axes[0]
    on_paper = {line.get_gid(): line for line in axes.get_lines() if line.get_gid()}
    assert len(on_paper) == len(chart.curves) == len(view._lines)
    for curve, line in zip(chart.curves, view._lines, strict=True):
        x, y = line.getData()
        x, y = 10.0**x if chart.x.log else x, 10.0**y if chart.y.log else y
        paper_x, paper_y = on_paper[curve.name].get_data()
        # A logarithm of size 10 and back costs some 1e-15 · 10 · ln 10.
        np.testing.assert_allclose(x, paper_x, rtol=1e-13)
        np.testing.assert_allclose(y, paper_y, rtol=1e-13)
    on_one_line = " ".join(axes.get_ylabel().split())  # paper breaks a long label
    assert on_one_line == view._legend.title == chart.y.title(units)
    assert axes.get_xlabel() == view._readout.axis_title == chart.x.title(units)
    (x_range, y_range) = view._canvas.ranges
    for shown, limits, log in (
        (x_range, axes.get_xlim(), chart.x.log),
        (y_range, axes.get_ylim(), chart.y.log),
    ):
        ends = [10.0**end if log else end for end in shown]
        np.testing.assert_allclose(ends, limits, rtol=1e-12)


def test_importing_the_charts_loads_no_figure_library() -> None:
    code = "import sys, models.charts.files; sys.exit('matplotlib' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
