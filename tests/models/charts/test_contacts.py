"""Spans of lift-off and stop contact: from the motion itself, few labels, gaps closed."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.charts import build
from models.charts.chart import Span
from models.charts.contacts import MOST_ROWS, contact_spans
from models.charts.figure import figure
from models.charts.span_rows import span_rows
from models.charts.table import table_text
from models.fields import replaced
from models.ride.channels import channel_index
from models.roads import Washboard
from models.run import Run
from models.units import METRIC
from models.vehicle import Axle, Stop, Vehicle

STOPPED = Axle(
    bump_stop=Stop(gap=0.03, rate=60e3, growth=2e6), rebound_stop=Stop(gap=0.05, rate=60e3, growth=2e6)
)
HARD = replaced(replaced(Run(), ("event", "height"), 0.1), ("speed",), 14.0)


@pytest.fixture(scope="module")
def one_sided_hit() -> Analysis:
    return analyse(Vehicle(front=STOPPED), replaced(HARD, ("event", "side"), "left"))


@pytest.fixture(scope="module")
def hard_hit() -> Analysis:
    return analyse(Vehicle(front=STOPPED, rear=STOPPED), HARD)


def covered(spans: tuple[Span, ...], label: str, t: np.ndarray) -> np.ndarray:
    return np.any([(t >= span.start) & (t <= span.end) for span in spans if span.label == label], axis=0)


def test_spans_are_where_the_travel_passes_the_gap(one_sided_hit: Analysis) -> None:
    """Travel counts from the equilibrium, which is design trim here; 1 N on the stop is 1 / 60e3 m."""
    spans = contact_spans(one_sided_hit, None)
    time = one_sided_hit.time
    travel = time.y[channel_index("travel_FL")]
    closed = 0.004 * time.t[-1]
    for label, touched in (
        ("front left bump stop", travel > 0.03 + 1 / 60e3),
        ("front left rebound stop", travel < -0.05 - 1 / 60e3),
    ):
        shown = covered(spans, label, time.t)
        assert touched.any()
        assert shown[touched].all()
        # What is shown beyond that are gaps too short to see.
        assert (shown & ~touched).sum() * (time.t[1] - time.t[0]) <= 3 * closed


def test_a_wheel_off_the_road_has_no_tyre_load(hard_hit: Analysis) -> None:
    spans = contact_spans(hard_hit, None)
    off = np.any([load <= 0 for load in hard_hit.tyre_load], axis=0)
    labels = {span.label for span in spans if "off the road" in span.label}
    assert off.any() == bool(labels)
    shown = np.any([covered(spans, label, hard_hit.time.t) for label in labels], axis=0)
    assert shown[off].all()


def test_sides_that_are_alike_share_a_label(hard_hit: Analysis, one_sided_hit: Analysis) -> None:
    labels = {span.label for span in contact_spans(hard_hit, None)}
    assert labels
    assert not any("left" in label or "right" in label for label in labels)
    assert "front left bump stop" in {span.label for span in contact_spans(one_sided_hit, None)}


def test_rows_stay_few(hard_hit: Analysis, one_sided_hit: Analysis) -> None:
    spans = contact_spans(one_sided_hit, hard_hit)
    assert len(span_rows(spans)) <= MOST_ROWS
    assert {span.role for span in spans} == {"candidate", "baseline"}


def test_chatter_becomes_one_bar() -> None:
    """Stops that touch at every wave of a washboard are bars, not dust."""
    axle = Axle(bump_stop=Stop(gap=0.0, rate=20e3))
    run = Run(event=Washboard(), speed=25.0)
    hit = analyse(Vehicle(front=axle), run)
    assert hit.nonlinear is not None
    touched = hit.nonlinear.response.stop_contact.any(axis=0)
    raw = int((touched[1:] & ~touched[:-1]).sum())
    spans = contact_spans(hit, None)
    assert 1 <= len(spans) <= max(raw, 1)
    gaps = [after.start - before.end for before, after in pairwise(spans)]
    assert all(gap > 0.004 * hit.time.t[-1] for gap in gaps)


def test_linear_runs_and_spectra_have_none(hard_hit: Analysis) -> None:
    linear = analyse(hard_hit.vehicle, replaced(HARD, ("laws",), "linear"))
    assert contact_spans(linear, None) == ()
    assert build("psd-pitch", hard_hit).spans == ()
    assert build("time-pitch", hard_hit).spans == contact_spans(hard_hit, None)


def test_figure_and_table_tell_them(hard_hit: Analysis, one_sided_hit: Analysis) -> None:
    chart = build("time-travel", hard_hit, one_sided_hit, ("Hard", "One side"))
    labels = [row.label for row in span_rows(chart.spans)]
    texts = [text.get_text() for text in figure(chart, METRIC).axes[0].texts]
    assert sorted(texts) == sorted(labels)  # each once
    comments = [line for line in table_text(chart, METRIC).splitlines() if line.startswith("#")]
    first = chart.spans[0]
    line = next(line for line in comments if line.startswith(f"# {first.label}, "))
    assert f"{first.start:.6g} to {first.end:.6g}" in line
    assert line.endswith(" s")
    columns = table_text(chart, METRIC).splitlines()[len(comments)]
    assert columns.startswith("Time (s),")
