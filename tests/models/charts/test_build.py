"""Charts from results: which curves, which numbers, which marks."""

from __future__ import annotations

import numpy as np
import pytest

from models.analysis import Analysis
from models.charts import CHART_CHOICES, build
from models.charts.legend import legend
from models.charts.limits import extent, y_limits
from models.comfort.filters import weighted
from models.comfort.weighting import weighting
from models.ride.channels import channel_index
from models.units import METRIC


@pytest.mark.parametrize("key", CHART_CHOICES)
def test_every_choice_builds_and_has_a_unit(key: str, candidate: Analysis, baseline: Analysis) -> None:
    chart = build(key, candidate, baseline)
    assert chart.key == key
    compared = key.startswith(("difference-", "ratio-"))
    assert {curve.role for curve in chart.curves} == (
        {"candidate"} if compared else {"candidate", "baseline"}
    )
    assert all(curve.x.shape == curve.y.shape and np.isfinite(curve.y).all() for curve in chart.curves)
    assert chart.y.display(METRIC)[1] in chart.y.title(METRIC)
    assert chart.over_time == key.startswith(("time-", "difference-"))


def test_difference_and_ratio_are_of_candidate_and_baseline(candidate: Analysis, baseline: Analysis) -> None:
    row = channel_index("pitch")
    (less,) = build("difference-time-pitch", candidate, baseline, ("Soft", "Firm")).curves
    np.testing.assert_array_equal(less.y, candidate.time.y[row] - baseline.time.y[row])
    assert less.name == "Soft − Firm"
    (spectrum,) = build("ratio-psd-pitch", candidate, baseline, ("Soft", "Firm")).curves
    np.testing.assert_allclose(spectrum.y * baseline.ride.psd[row], candidate.ride.psd[row], rtol=1e-12)
    assert spectrum.name == "Soft / Firm"
    chart = build("ratio-gain-travel", candidate, baseline)
    for curve, corner in zip(chart.curves, ("FL", "RL"), strict=True):
        gain = [
            abs(one.response.travelling[:, channel_index(f"travel_{corner}")])
            for one in (candidate, baseline)
        ]
        np.testing.assert_allclose(curve.y, gain[0] / gain[1], rtol=1e-12)
    assert chart.y.display(METRIC) == (1.0, "1")


def test_a_car_differs_from_itself_by_nothing(candidate: Analysis) -> None:
    (less,) = build("difference-time-pitch", candidate).curves
    assert not less.y.any()
    chart = build("ratio-psd-pitch", candidate)
    assert (chart.curves[0].y == 1).all()
    low, high = y_limits(chart.y, *extent(chart, "y", METRIC), METRIC)
    assert low < 0 < high


def test_any_number_of_variants_is_overlaid_each_in_its_own_shade(
    candidate: Analysis, baseline: Analysis, one_sided: Analysis
) -> None:
    others = (("Third", one_sided), ("Fourth", baseline))
    chart = build("time-travel", candidate, baseline, ("Soft", "Firm"), others)
    # One of them moves on one side only, so both sides of all are drawn.
    assert len(chart.curves) == 16
    assert [key.text for key in legend(chart)][:4] == ["Soft", "Firm", "Third", "Fourth"]
    assert {(curve.variant, curve.shade) for curve in chart.curves if curve.role == "other"} == {
        ("Third", 0),
        ("Fourth", 1),
    }
    assert chart.curves[-1].role == "candidate"


def test_numbers_are_those_of_the_results(candidate: Analysis) -> None:
    row = channel_index("heave_acceleration")
    (over_time,) = build("time-heave-acceleration", candidate).curves
    assert np.array_equal(over_time.x, candidate.time.t)
    assert np.array_equal(over_time.y, candidate.time.y[row])
    (spectrum,) = build("psd-heave-acceleration", candidate).curves
    assert np.array_equal(spectrum.y, candidate.ride.psd[row])
    (gain,) = build("gain-heave-acceleration", candidate).curves
    assert np.array_equal(gain.x, candidate.response.frequency)
    assert np.array_equal(gain.y, np.abs(candidate.response.travelling[:, row]))


def test_equal_sides_are_drawn_once(candidate: Analysis) -> None:
    curves = build("time-travel", candidate).curves
    assert [(curve.place, curve.side, curve.label) for curve in curves] == [
        ("front", "", "front"),
        ("rear", "", "rear"),
    ]


def test_unequal_sides_are_drawn_both_and_for_both_variants(candidate: Analysis, one_sided: Analysis) -> None:
    labels = [curve.label for curve in build("time-travel", one_sided).curves]
    assert labels == ["front left", "front right", "rear left", "rear right"]
    assert len(build("time-travel", one_sided, candidate).curves) == 8
    assert [curve.side for curve in build("time-twist", one_sided).curves] == ["left", "right"]


def test_candidate_lies_on_top_and_names_are_kept(candidate: Analysis, baseline: Analysis) -> None:
    curves = build("time-pitch", candidate, baseline, ("Soft", "Firm")).curves
    assert [(curve.role, curve.name) for curve in curves] == [("baseline", "Firm"), ("candidate", "Soft")]


def test_bounce_and_pitch_of_the_candidate_are_marked_in_spectra(candidate: Analysis) -> None:
    marks = {mark.label: mark.x for mark in build("psd-pitch", candidate).marks}
    modes = candidate.modes
    assert marks == {name: modes.frequency[modes.index(name)] for name in ("bounce", "pitch")}
    assert build("time-pitch", candidate).marks == ()


def test_weighted_seat_is_drawn_behind_its_weighting(candidate: Analysis) -> None:
    row = channel_index("seat_acceleration")
    (spectrum,) = build("psd-weighted-seat-acceleration", candidate).curves
    gain = np.abs(weighting("Wk", candidate.response.frequency))
    np.testing.assert_allclose(spectrum.y, gain**2 * candidate.ride.psd[row])
    (over_time,) = build("time-weighted-seat-acceleration", candidate).curves
    step = candidate.time.t[1] - candidate.time.t[0]
    np.testing.assert_allclose(over_time.y, weighted("Wk", candidate.time.y[row], step), atol=1e-9)
