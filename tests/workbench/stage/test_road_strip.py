"""The drawn road is the road that the wheels met."""

from __future__ import annotations

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.roads import (
    Event,
    HalfSine,
    MeasuredRoad,
    OneMinusCosine,
    Ramp,
    RandomRoad,
    SineSweep,
    Step,
    Washboard,
)
from models.run import Run
from models.vehicle import Vehicle
from workbench.stage.road_strip import event_extent, road_strip
from workbench.stage.scene import stage_frame


@pytest.mark.parametrize(
    ("event", "tolerance"),
    [
        # Sagitta between strip samples of 20 mm, y'' d²/8: 3e-6 m on this bump.
        (OneMinusCosine(height=0.08, length=5.0), 4e-6),
        # Samples of the random road stand 25 mm apart; a bend of its straight pieces may fall between
        # two points of the strip, where slopes change by some 0.1 at most: 0.1 * 20 mm / 4.
        (RandomRoad(), 5e-4),
        # Points of the measured road stand 0.5 m apart; slopes change by 0.16 at most: 0.16 * 20 mm / 4.
        (MeasuredRoad(step=0.5, left="0 40 20 0 10 0", right="0 10 30 0 -20 0", passes=5), 8e-4),
    ],
)
@pytest.mark.parametrize("model", ["full car", "half car"])
def test_strip_and_wheels_agree(event: Event, tolerance: float, model: str) -> None:
    analysis = analyse(Vehicle(), Run.model_validate({"event": event, "duration": 1.0, "model": model}))
    strip = road_strip(analysis)
    for time in (0.1, 0.3, 0.47, 0.9):
        frame = stage_frame(analysis, time)
        distance, heights = strip.window(frame.distance - 10.0, frame.distance + 10.0)
        for row, flank in ((0, frame.far), (1, frame.near)):
            for wheel in (flank.front, flank.rear):
                road = np.interp(frame.distance + wheel.centre.x, distance, heights[row])
                assert wheel.road == pytest.approx(road, abs=tolerance)


def test_window_holds_what_was_asked_for(joined: Analysis) -> None:
    distance, heights = road_strip(joined).window(3.0, 9.0)
    assert distance[0] <= 3.0 <= distance[1]
    assert distance[-2] <= 9.0 <= distance[-1] + 1e-9
    assert heights.shape == (2, len(distance))


def test_the_same_road_is_sampled_once(joined: Analysis, separate: Analysis) -> None:
    assert road_strip(joined) is road_strip(separate)


def test_camera_stays_still_over_a_bump_and_follows_a_ramp() -> None:
    bump = road_strip(analyse(Vehicle(), Run(event=HalfSine(height=0.05, length=0.5), duration=1.0)))
    assert all(bump.camera_height(distance, 5.0) == 0.0 for distance in np.arange(0.0, 22.0, 0.5))
    ramp = road_strip(analyse(Vehicle(), Run(event=Ramp(height=0.2), duration=2.0)))
    assert ramp.camera_height(0.0, 5.0) == 0.0
    # Far up the ramp's end the road stays within the band of 0.1 m that does not move the camera.
    assert ramp.camera_height(40.0, 5.0) == pytest.approx(5.0 * 0.2 - 0.1)


@pytest.mark.parametrize(
    ("event", "extent"),
    [
        (Step(start=4.0), (4.0, 4.0)),
        (OneMinusCosine(start=4.0, length=3.0), (4.0, 7.0)),
        (Washboard(start=4.0, wavelength=2.0, length=7.1), (4.0, 12.0)),
        (MeasuredRoad(start=4.0, step=0.5, left="0 1 0", right="0 1 2", passes=3), (4.0, 7.0)),
        (RandomRoad(), None),
        (SineSweep(), None),
    ],
)
def test_extent_of_events(event: Event, extent: tuple[float, float] | None) -> None:
    assert event_extent(event) == extent


def test_car_stands_on_the_posts_of_a_sweep() -> None:
    sweep = SineSweep(mode="pitch", start_frequency=1.0, duration=2.0, start_amplitude=0.03)
    analysis = analyse(Vehicle(), Run(event=sweep, duration=2.0))
    frame = stage_frame(analysis, 0.8)
    assert frame.distance == 0.0
    assert frame.near.front.road == pytest.approx(-frame.near.rear.road)
    assert abs(frame.near.front.road) > 1e-4
