from __future__ import annotations

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.comfort.axes import AXES, HEIGHTS, hip_over_cg, seat_axes
from models.fields import replaced
from models.ride.channels import HEELS_AHEAD
from models.roads import OneMinusCosine
from models.run import Run
from models.vehicle import Load, LoadCase, Vehicle
from tests.cars import EVERYTHING

TALL = replaced(EVERYTHING, ("seat", "height"), 0.8)
RUN = Run(event=OneMinusCosine(side="left"), duration=1.0, laws="linear")


@pytest.fixture(scope="module")
def analysis() -> Analysis:
    return analyse(TALL, RUN)


def test_keys_are_unique() -> None:
    assert len({axis.key for axis in AXES}) == len(AXES)


@pytest.mark.parametrize("place", ["seat", "back", "head"])
def test_horizontal_motion_is_that_of_a_point_of_a_turning_body(analysis: Analysis, place: str) -> None:
    """ω̇ × r, with ω̇ = (φ̈, θ̈, 0) and r the point from the CG: its x and y parts."""
    time = analysis.time
    turning = np.stack([time.channel("roll_acceleration"), time.channel("pitch_acceleration"), 0 * time.t], 1)
    height = 0.8 + HEIGHTS[place] - TALL.body.cg_height  # type: ignore[index]
    acceleration = np.cross(turning, np.array([TALL.seat.x, TALL.seat.y, height]))
    axes = seat_axes(analysis)
    np.testing.assert_allclose(axes[f"{place} x"].history, acceleration[:, 0], rtol=1e-12)
    np.testing.assert_allclose(axes[f"{place} y"].history, acceleration[:, 1], rtol=1e-12)
    np.testing.assert_allclose(
        axes[f"{place} z"].history if place != "head" else axes["back z"].history,
        time.channel("heave_acceleration") + acceleration[:, 2],
        rtol=1e-9,
        atol=1e-12,
    )


def test_floor_at_the_feet_is_ahead_of_the_seat(analysis: Analysis) -> None:
    time = analysis.time
    floor = time.channel("seat_acceleration") - HEELS_AHEAD * time.channel("pitch_acceleration")
    np.testing.assert_allclose(seat_axes(analysis)["feet z"].history, floor, rtol=1e-9, atol=1e-12)


@pytest.mark.parametrize("laws", ["linear", "nonlinear"])
def test_both_kinds_of_time_response_have_the_floor(laws: str) -> None:
    found = analyse(TALL, replaced(RUN, ("laws",), laws))
    assert np.abs(seat_axes(found)["feet z"].history).max() > 0.1


def test_spectra_go_with_the_square(analysis: Analysis) -> None:
    height = 0.8 + HEIGHTS["head"] - TALL.body.cg_height
    expected = height**2 * analysis.ride.channel("pitch_acceleration")
    np.testing.assert_allclose(seat_axes(analysis)["head x"].psd, expected, rtol=1e-12)


def test_heights_are_over_the_cg_of_the_load_case() -> None:
    roof = LoadCase(name="roof", loads=(Load(mass=80.0, x=-1.4, y=0.0, z=1.7),))
    loaded = analyse(Vehicle(), replaced(RUN, ("duration",), 0.2), roof)
    body = Vehicle().body
    cg = (body.mass * body.cg_height + 80.0 * 1.7) / (body.mass + 80.0)
    assert hip_over_cg(loaded) == pytest.approx(Vehicle().seat.height - cg, rel=1e-12)
