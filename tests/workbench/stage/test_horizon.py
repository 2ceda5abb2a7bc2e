"""What the driver sees of the car's motion, against a pinhole camera turned in space."""

from __future__ import annotations

import math

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.ride.channels import VIEW_DISTANCE
from models.roads import OneMinusCosine
from models.run import Run
from models.vehicle import Load, LoadCase, Vehicle
from tests.cars import EVERYTHING
from workbench.stage.horizon import HALF_LANE, View, round_mark, view_of
from workbench.stage.scene import Frame, stage_frame

EYE, ASIDE, TIME = 1.2, 0.35, 0.45


@pytest.fixture(scope="module")
def one_sided() -> Analysis:
    return analyse(EVERYTHING, Run(event=OneMinusCosine(side="left", height=0.08), duration=1.0))


def seen(frame: Frame, point: tuple[float, float, float]) -> tuple[float, float]:
    """Direction right and up of a point (ahead, left, up of the eye at rest) from the eye of a turned car.

    The rotation of the body about x (roll) and y (pitch) with ISO signs, and the rise of the eye.
    """
    roll, pitch = frame.roll, frame.pitch
    about_x = np.array([[1, 0, 0], [0, math.cos(roll), -math.sin(roll)], [0, math.sin(roll), math.cos(roll)]])
    about_y = np.array(
        [[math.cos(pitch), 0, math.sin(pitch)], [0, 1, 0], [-math.sin(pitch), 0, math.cos(pitch)]]
    )
    ahead, left, up = (about_y @ about_x).T @ (np.array(point) - [0.0, 0.0, frame.seat_heave])
    return -left / ahead, up / ahead


def close(direction: tuple[float, float], wanted: tuple[float, float]) -> None:
    # Angles of a hundredth of a radian: what the small-angle view leaves out is of their square.
    assert direction == pytest.approx(wanted, abs=3e-4)


def test_horizon_and_road_are_where_a_pinhole_camera_sees_them(one_sided: Analysis) -> None:
    frame = stage_frame(one_sided, TIME)
    assert abs(frame.pitch) > 2e-3
    assert abs(frame.roll) > 2e-3
    view = view_of(frame, EYE, ASIDE)
    far = 1e6
    close(view.centre, seen(frame, (far, 0.0, 0.0)))
    right = seen(frame, (far, -0.3 * far, 0.0))
    close((right[0], view.centre[1] + view.tilt * right[0]), right)
    for direction, side in zip(view.near, (HALF_LANE, -HALF_LANE), strict=True):
        close(direction, seen(frame, (VIEW_DISTANCE, side - ASIDE, -EYE)))


def test_edges_of_the_lane_run_through_its_points(one_sided: Analysis) -> None:
    view = view_of(stage_frame(one_sided, TIME), EYE, ASIDE)
    for edge, near in zip((view.left_edge, view.right_edge), view.near, strict=True):
        across, up = near[0] - view.centre[0], near[1] - view.centre[1]
        assert across * edge[1] == pytest.approx(up * edge[0], abs=1e-12)
        assert up * edge[1] > 0


def test_nose_down_lifts_the_horizon_and_exaggeration_multiplies_it(one_sided: Analysis) -> None:
    views = [view_of(stage_frame(one_sided, TIME, factor), EYE, ASIDE) for factor in (1.0, 5.0)]
    assert views[1].centre[1] == pytest.approx(5.0 * views[0].centre[1])
    pitch = one_sided.time.channel("pitch")
    at = int(np.argmax(pitch))
    assert view_of(stage_frame(one_sided, float(one_sided.time.t[at])), EYE, ASIDE).centre[1] > 0


def test_the_line_ahead_moves_as_the_channel_of_the_horizon(one_sided: Analysis) -> None:
    def level(time: float) -> float:
        view = view_of(stage_frame(one_sided, time), EYE, ASIDE)
        left, right = view.near
        # Straight ahead of the driver: roll turns the line about the middle of the view.
        share = (0.0 - left[0]) / (right[0] - left[0])
        return left[1] + share * (right[1] - left[1])

    moved = level(TIME) - level(0.0)
    channel = float(np.interp(TIME, one_sided.time.t, one_sided.time.channel("horizon")))
    assert abs(channel) > 1e-3
    # Turned by the roll angle φ, the line is 1/cos φ as far below the horizon: φ²/2 of its depth.
    roll = float(np.interp(TIME, one_sided.time.t, one_sided.time.channel("roll")))
    assert moved == pytest.approx(channel, abs=0.6 * roll**2 * EYE / VIEW_DISTANCE)


def test_a_load_does_not_move_the_horizon_before_the_run() -> None:
    case = LoadCase(name="boot", loads=(Load(mass=200.0, x=-3.4),))
    frame = stage_frame(analyse(Vehicle(), Run(duration=0.5), case), 0.0, 5.0)
    assert frame.rest.pitch < 0
    assert view_of(frame, EYE, 0.0) == View(
        centre=(0.0, 0.0),
        tilt=0.0,
        left_edge=(-HALF_LANE, -EYE),
        right_edge=(HALF_LANE, -EYE),
        near=(
            (-HALF_LANE / VIEW_DISTANCE, -EYE / VIEW_DISTANCE),
            (HALF_LANE / VIEW_DISTANCE, -EYE / VIEW_DISTANCE),
        ),
    )


@pytest.mark.parametrize(("most", "mark"), [(1.9, 1.0), (2.0, 2.0), (0.07, 0.05), (0.01, 0.05), (70.0, 50.0)])
def test_marks_are_round(most: float, mark: float) -> None:
    assert round_mark(most) == mark
