"""Roads judged."""

import numpy as np
import pytest

from models.roads import (
    Event,
    HalfSine,
    MeasuredRoad,
    OneMinusCosine,
    Ramp,
    RandomRoad,
    RoughSurface,
    SineSweep,
    Step,
    Washboard,
)
from models.roads.iri import iri
from models.roads.report import road_report
from models.roads.samples import samples_of
from models.roads.synthesis import random_heights

SURFACE = RoughSurface(roughness=64e-6, waviness=2.2)


def test_random_road_is_judged_over_a_kilometre() -> None:
    report = road_report(RandomRoad(seed=3), SURFACE, 1.5)
    assert report.length == pytest.approx(1000.0)
    assert report.fit is not None
    assert report.fit.letter == "B"
    assert report.fit.waviness_interval[0] < 2.2 < report.fit.waviness_interval[1]
    assert report.iri is not None
    # 0.54 sqrt(64) = 4.3 m/km at waviness 2, a little off it here
    assert np.all((report.iri > 3e-3) & (report.iri < 6e-3))
    assert len(report.octaves) == 2


def test_measured_road_is_judged_as_measured() -> None:
    heights = random_heights(SURFACE, 1, 10 + 0.1 * np.arange(3000), 1.5)
    road = MeasuredRoad(
        step=0.1, left=samples_of(heights[0]), right=samples_of(heights[1]), start=50.0, blend=40.0, passes=3
    )
    report = road_report(road, RoughSurface(), 1.5)
    np.testing.assert_allclose(report.heights, heights, atol=0.51e-6)
    np.testing.assert_allclose(report.iri, iri(heights, 0.1) / 1e3, rtol=1e-3)
    np.testing.assert_allclose(report.rms, heights.std(axis=1), rtol=1e-3)


@pytest.mark.parametrize(
    "event", [Step(), Ramp(), HalfSine(), OneMinusCosine()], ids=lambda event: event.kind
)
def test_single_events_have_no_class(event: Event) -> None:
    report = road_report(event, SURFACE, 1.5)
    assert report.fit is report.iri is None
    assert report.no_fit == report.no_iri == "a single event has no class"
    assert np.ptp(report.heights) > 0.02
    assert report.octaves == ()


def test_washboard_has_an_index() -> None:
    report = road_report(Washboard(amplitude=0.005, wavelength=5.0, length=500.0, start=0.0), SURFACE, 1.5)
    # 4.6594 m/km in the steady state; the car comes in from a flat road.
    assert report.iri == pytest.approx(4.6594e-3, rel=0.05)


def test_sweep_is_over_time() -> None:
    report = road_report(SineSweep(duration=10.0), SURFACE, 1.5)
    assert report.over_time
    assert report.heights.shape == (4, len(report.place))
    assert report.length == 10.0
    assert report.fit is report.iri is None


def test_short_and_flat_roads_say_why_they_have_no_class() -> None:
    flat = road_report(MeasuredRoad(left="0 " * 2000, right="0 " * 2000), SURFACE, 1.5)
    assert "flat" in flat.no_fit
    assert flat.iri == pytest.approx(0.0, abs=1e-12)
    short = road_report(MeasuredRoad(), SURFACE, 1.5)
    assert "longer road" in short.no_fit
    assert "at least 20 m" in short.no_iri
