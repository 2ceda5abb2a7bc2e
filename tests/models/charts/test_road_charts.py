"""Charts of a road."""

from __future__ import annotations

import numpy as np
import pytest

from models.charts.figure import figure_bytes
from models.charts.roads import profile_chart, spectrum_chart
from models.charts.table import table_text
from models.judge.roads import road_figures
from models.roads import MeasuredRoad, OneMinusCosine, RandomRoad, RoughSurface, SineSweep
from models.roads.report import RoadReport, road_report
from models.units import INCH_POUND, METRIC


@pytest.fixture(scope="module")
def random() -> RoadReport:
    return road_report(RandomRoad(), RoughSurface(), 1.5)


def test_profile_has_a_curve_for_each_track(random: RoadReport) -> None:
    chart = profile_chart(random)
    assert [curve.label for curve in chart.curves] == ["left", "right"]
    np.testing.assert_array_equal(chart.curves[1].y, random.heights[1])
    assert chart.x.title(METRIC) == "Distance (m)"


def test_tracks_that_are_alike_are_one_curve() -> None:
    chart = profile_chart(road_report(OneMinusCosine(), RoughSurface(), 1.5))
    assert [curve.label for curve in chart.curves] == [""]


@pytest.mark.parametrize(("mode", "curves"), [("heave", 1), ("roll", 2), ("pitch", 2), ("warp", 2)])
def test_sweep_is_drawn_over_time_with_one_curve_for_wheels_that_move_alike(mode: str, curves: int) -> None:
    chart = profile_chart(road_report(SineSweep.model_validate({"mode": mode}), RoughSurface(), 1.5))
    assert chart.over_time
    assert len(chart.curves) == curves


def test_spectrum_shows_the_classes_near_it_and_the_fit(random: RoadReport) -> None:
    chart = spectrum_chart(random)
    assert random.fit is not None
    classes = {curve.label: curve for curve in chart.curves if curve.variant == "class limits"}
    # The upper limit of class C, 512 cm³, lies above the road of 256 cm³, that of B, 128 cm³, below it.
    for letter, limit in (("B", 128e-6), ("C", 512e-6)):
        line = classes[letter]
        assert np.exp(np.interp(np.log(0.1), np.log(line.x), np.log(line.y))) == pytest.approx(limit)
    fit = next(curve for curve in chart.curves if curve.label == "fit")
    assert np.exp(np.interp(np.log(0.1), np.log(fit.x), np.log(fit.y))) == pytest.approx(random.fit.roughness)
    assert [curve.label for curve in chart.curves][-2:] == ["left", "right"]
    assert chart.y.title(METRIC) == "Height PSD (cm³)"


def test_road_without_a_spectrum_has_an_empty_chart() -> None:
    assert spectrum_chart(road_report(MeasuredRoad(), RoughSurface(), 1.5)).curves == ()


def test_charts_are_written_like_all_others(random: RoadReport) -> None:
    for chart in (profile_chart(random), spectrum_chart(random)):
        for units in (METRIC, INCH_POUND):
            assert figure_bytes(chart, "svg", units).startswith(b"<?xml")
            assert len(table_text(chart, units).splitlines()) > 10


def test_figures_are_those_of_the_report(random: RoadReport) -> None:
    assert random.fit is not None
    assert random.iri is not None
    values = {figure.key: figure.value for figure in road_figures(random)}
    assert values["road_roughness"] == random.fit.roughness
    assert values["road_iri_right"] == random.iri[1]
    assert values["road_rms_left"] == pytest.approx(np.std(random.heights[0]))
    assert values["road_length"] == pytest.approx(1000.0)
    short = {figure.key for figure in road_figures(road_report(MeasuredRoad(), RoughSurface(), 1.5))}
    assert "road_roughness" not in short
    assert "road_iri_left" not in short
