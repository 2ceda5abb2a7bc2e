"""Charts of the levelling say what the run says."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from models.charts.legend import legend
from models.charts.levelling import actuations_chart, levelling_charts
from models.charts.table import table_text
from models.project import load
from models.ride.false_actuations import FalseActuations
from models.ride.levelling import LevellingRun, level
from models.ride.levelling_event import LevellingEvent
from models.units import INCH_POUND, METRIC


@pytest.fixture(scope="module")
def run() -> LevellingRun:
    project = load(Path(__file__).parents[3] / "sample_projects" / "large_saloon.corduroy")
    case = next(case for case in project.load_cases if case.name == "towing")
    return level(project.variant("joined torsion bars").vehicle, case, LevellingEvent())


def test_charts_show_the_histories_and_their_limits(run: LevellingRun) -> None:
    height, wind_up, current = levelling_charts(run, "joined")
    assert {
        curve.label: curve.y is value
        for curve, value in zip(height.curves[2:], (run.front, run.rear, run.seen), strict=True)
    } == {"front": True, "rear": True, "seen": True}
    band = run.levelling.dead_band
    assert [curve.y.tolist() for curve in height.curves[:2]] == [[band, band], [-band, -band]]
    assert wind_up.extent("y") == (-run.levelling.limit, run.levelling.limit)
    assert current.curves[0].y.min() == -run.levelling.idle_current
    assert current.curves[0].y.max() == run.current.max()
    assert [mark.x for mark in height.marks] == [2.0, 30.0, 45.0, 48.0]


def test_legend_names_the_band_and_the_places(run: LevellingRun) -> None:
    height, *_ = levelling_charts(run, "joined")
    assert [key.text for key in legend(height)] == ["joined", "band", "front", "rear", "seen"]


def test_charts_leave_as_tables_in_any_units(run: LevellingRun) -> None:
    for units in (METRIC, INCH_POUND):
        for chart in levelling_charts(run, "joined"):
            assert len(table_text(chart, units).splitlines()) > len(run.t)


def test_actuations_are_per_minute() -> None:
    found = FalseActuations(
        classes=("C", "E"),
        minutes=10.0,
        speed=20.0,
        delay=5.0,
        delays=np.array([0.0, 1.0]),
        counts=np.array([[10, 0], [500, 20]]),
        set_counts=np.array([0, 0]),
    )
    chart = actuations_chart(found)
    scale, unit = chart.y.display(METRIC)
    assert unit == "1/min"
    assert [(curve.y / scale).tolist() for curve in chart.curves] == [
        pytest.approx([1.0, 0.0]),
        pytest.approx([50.0, 2.0]),
    ]
    assert [(mark.x, mark.label) for mark in chart.marks] == [(5.0, "set")]
