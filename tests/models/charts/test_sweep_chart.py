"""The chart of a figure over speed, on screen and in a table."""

from __future__ import annotations

import csv
import io

import numpy as np

from models.analysis import Analysis
from models.charts.speed_sweep import sweep_chart
from models.charts.table import table_text
from models.judge import key_figures
from models.judge.speed_sweep import SPEEDS, speed_sweep
from models.units import METRIC


def test_curves_axes_and_mark(candidate: Analysis, baseline: Analysis) -> None:
    figure = next(one for one in key_figures(candidate) if one.key == "rms_pitch")
    own, other = speed_sweep(candidate), speed_sweep(baseline)
    chart = sweep_chart(figure, own, other, 25.0, ("Soft", "Firm"))
    assert [(curve.name, curve.role) for curve in chart.curves] == [
        ("Firm", "baseline"),
        ("Soft", "candidate"),
    ]
    assert np.array_equal(chart.curves[1].y, own.values["rms_pitch"])
    assert [mark.x for mark in chart.marks] == [25.0]
    assert not chart.over_time
    assert chart.y.title(METRIC) == "RMS pitch angle (deg)"
    assert len(sweep_chart(figure, own, None, 25.0).curves) == 1


def test_table_has_the_speeds_in_the_unit_of_display(candidate: Analysis) -> None:
    figure = next(one for one in key_figures(candidate) if one.key == "pitch_share")
    text = table_text(sweep_chart(figure, speed_sweep(candidate), None, 25.0), METRIC)
    rows = list(csv.reader(io.StringIO("".join(line + "\n" for line in text.splitlines() if line[0] != "#"))))
    assert rows[0][0] == "Speed (km/h)"
    assert len(rows) == len(SPEEDS) + 1
    assert float(rows[1][0]) == 18.0
