"""Charts of lives and stabiliser bars show the numbers of the results."""

from __future__ import annotations

import numpy as np
import pytest

from models.charts.fatigue import damage_chart, exceedance_chart, sn_chart
from models.charts.figure import figure_bytes
from models.charts.stabiliser import bar_stress_chart
from models.charts.table import table_text
from models.fields import replaced
from models.hardware.cycles import Cycles, count_cycles
from models.hardware.fatigue import cycles_to_failure
from models.hardware.life_target import LifeTarget
from models.hardware.sn_curve import SNCurve
from models.hardware.stabiliser_bar import StabiliserBar
from models.hardware.stabiliser_beam import stabiliser_beam
from models.judge.fatigue import Life, StressedPart, life
from models.judge.road_loads import RoadLoads
from models.units import METRIC

LINE = SNCurve(mean_rule="none")


def road(name: str, share: float, *torques: Cycles) -> RoadLoads:
    return RoadLoads(name, share, 20.0, "", 1000.0, tuple({"bar": one} for one in torques))


@pytest.fixture
def found() -> Life:
    generator = np.random.default_rng(5)
    rough = [count_cycles(60.0 * generator.standard_normal(300)) for _ in range(2)]
    bump = count_cycles(np.array([0.0, 500.0, -300.0, 0.0]), closed=True)
    loads = (road("rough", 0.9, *rough), road("bump", 0.1, bump))
    return life(loads, StressedPart("bar", "bar", 1e6), LINE, LifeTarget(distance=2e8))


def test_exceedance_counts_cycles_per_distance(found: Life) -> None:
    chart = exceedance_chart(found, found, ("Soft", "Firm"))
    assert [curve.name for curve in chart.curves] == ["rough", "bump", "Firm", "Soft"]
    whole, bump = chart.curves[-1], chart.curves[1]
    assert whole.y[0] == found.most_range == 800e6
    # One closed cycle per 1000 m on a tenth of the distance: 0.1 per km.
    assert bump.x == pytest.approx(0.1 / 1000)
    assert np.all(np.diff(whole.x) >= 0)
    at = whole.y[100]
    assert whole.x[100] == pytest.approx(found.cycles.count[found.cycles.range >= at].sum())
    assert chart.x.title(METRIC) == "Cycles with this range or more (1/km)"


def test_damage_stands_beside_the_distance(found: Life) -> None:
    distance, *bars = damage_chart(found).curves
    assert [bar.y.max() for bar in bars] == pytest.approx(found.shares)
    assert [bar.name for bar in bars] == ["rough", "bump"]
    middle = [distance.y[np.abs(distance.x - place) < 0.4].max() for place in (1, 2)]
    assert middle == pytest.approx([0.9, 0.1])


@pytest.mark.parametrize("below", ["second slope", "same slope", "endurance limit"])
def test_the_line_is_the_one_that_damage_is_counted_by(found: Life, below: str) -> None:
    asked = life_on(found, replaced(LINE, ("below",), below))
    line, sure, history = sn_chart(asked).curves
    finite = line.x < 0.99 * LINE.cycles if below == "endurance limit" else line.x > 0
    assert cycles_to_failure(asked.line, line.y[finite]) == pytest.approx(line.x[finite])
    assert sure.x / line.x == pytest.approx(asked.distance / asked.life_on_the_line)
    assert history.y[0] == pytest.approx(asked.most_range / 2)
    assert history.x[-1] == pytest.approx(
        2e8 * asked.cycles.count[asked.cycles.range >= 2 * history.y[-1]].sum()
    )


def life_on(found: Life, line: SNCurve) -> Life:
    loads = tuple(
        road(one.name, 1.0, Cycles(one.cycles.range, one.cycles.mean, 1000.0 * one.cycles.count))
        for one in found.roads
    )
    return life(loads, StressedPart("bar", "bar", 1.0), line, LifeTarget(distance=2e8))


def test_stress_along_the_bar() -> None:
    beam = stabiliser_beam(StabiliserBar())
    chart = bar_stress_chart(beam, 0.05, beam)
    whole = chart.curves[-1]
    assert np.array_equal(whole.y, beam.stress.scaled(0.05).von_mises)
    assert whole.x[0] == 0.0
    assert whole.x[-1] == pytest.approx(beam.length / 2)
    assert [mark.label for mark in chart.marks] == ["bush"]
    assert chart.marks[0].x == pytest.approx(StabiliserBar().bush.position)


def test_all_can_be_drawn_and_tabled(found: Life) -> None:
    still = life((road("still", 1.0, count_cycles(np.ones(3))),), StressedPart("bar", "bar", 1.0), LINE)
    beam = bar_stress_chart(stabiliser_beam(StabiliserBar()), 0.05)
    for chart in (exceedance_chart(found), damage_chart(found), sn_chart(found), beam):
        assert figure_bytes(chart, "svg", METRIC).startswith(b"<?xml")
        assert chart.title in table_text(chart, METRIC)
    for chart in (exceedance_chart(still), damage_chart(still), sn_chart(still)):
        assert figure_bytes(chart, "svg", METRIC)
