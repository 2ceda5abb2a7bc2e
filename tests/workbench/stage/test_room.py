"""Travel to the stops and ground clearance on the stage."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.judge.clearance import clearance_in_run
from models.roads import OneMinusCosine
from models.run import Run
from models.vehicle import AS_DESIGNED, Axle, ClearancePoint, Load, LoadCase, Packaging, Stop, Vehicle
from workbench.cursor import TimeCursor
from workbench.stage import StageView, ViewOptions
from workbench.stage.actor import Actor
from workbench.stage.room import clearance_marks, travel_gauges
from workbench.stage.scene import sample_at, stage_frame
from workbench.theme import LIGHT

AXLE = Axle(bump_stop=Stop(gap=0.05, rate=4e4), rebound_stop=Stop(gap=0.07, rate=4e4))
CAR = Vehicle(front=AXLE, rear=AXLE)
RUN = Run(event=OneMinusCosine(), duration=0.6)
BOOT = LoadCase(name="boot", loads=(Load(mass=150.0, x=-3.2, y=-0.2),))


@pytest.fixture(scope="module")
def loaded() -> Analysis:
    return analyse(CAR, RUN, BOOT, compiled=False)


def test_gauges_show_what_is_left_to_the_stops(loaded: Analysis) -> None:
    """The drawn way from the wheel to an end is the travel left, times the exaggeration."""
    for exaggeration in (1.0, 4.0):
        frame = stage_frame(loaded, 0.3, exaggeration)
        for gauge, wheel in zip(
            travel_gauges(loaded, frame), (frame.near.front, frame.near.rear), strict=True
        ):
            assert gauge.jounce is not None
            assert gauge.rebound is not None
            assert gauge.jounce.left == pytest.approx(0.05 - wheel.travel, abs=1e-12)
            assert gauge.rebound.left == pytest.approx(0.07 + wheel.travel, abs=1e-12)
            up, down = (end.place.z - gauge.wheel.z for end in (gauge.jounce, gauge.rebound))
            assert up == pytest.approx(exaggeration * gauge.jounce.left)
            assert down == pytest.approx(-exaggeration * gauge.rebound.left)
            assert (gauge.wheel.x - wheel.centre.x) * wheel.outward > wheel.radius


def test_the_body_carries_the_gauges(loaded: Analysis) -> None:
    """Their ends stand still against the body while the wheel moves between them: height of the body over the
    wheel plus gap, from the wheel centre at design trim."""
    for time in (0.0, 0.25, 0.4):
        frame = stage_frame(loaded, time)
        for gauge, wheel in zip(
            travel_gauges(loaded, frame), (frame.near.front, frame.near.rear), strict=True
        ):
            body = frame.near.pose.lift + frame.near.pose.slope * wheel.centre.x
            assert gauge.jounce is not None
            assert gauge.jounce.place.z == pytest.approx(0.31 + body + 0.05, abs=1e-9)


def test_without_a_stop_there_is_no_end(separate: Analysis) -> None:
    gauges = travel_gauges(separate, stage_frame(separate, 0.2))
    assert all(gauge.jounce is None and gauge.rebound is None for gauge in gauges)


def test_marks_show_the_clearance_of_the_moment(loaded: Analysis) -> None:
    found = clearance_in_run(loaded)
    assert found is not None
    frame = stage_frame(loaded, 0.35, 3.0)
    sample = sample_at(loaded, 0.35)
    marks = clearance_marks(loaded, frame, found)
    points = CAR.packaging.points
    assert [mark.name for mark in marks] == [point.name for point in points]
    for number, (mark, point) in enumerate(zip(marks, points, strict=True)):
        assert mark.clearance == found.clearance[number, sample]
        assert mark.short == (mark.clearance < point.required)
        drawn = mark.point.z - mark.ground.z
        assert drawn == pytest.approx(point.height + 3 * (mark.clearance - point.height))
    assert clearance_marks(loaded, frame, None) == ()


@pytest.fixture
def stage(qtbot: QtBot, loaded: Analysis) -> StageView:
    view, cursor = StageView(), TimeCursor()
    qtbot.addWidget(view)
    view.resize(1200, 260)
    cursor.set_duration(0.6)
    view.set_cursor(cursor)
    view.set_analyses(loaded, None)
    cursor.move_to(0.3)
    return view


def seen(view: StageView) -> np.ndarray:
    image = view.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    pixels = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.width(), 4)
    return pixels[..., 2::-1].astype(int)


def test_nothing_is_computed_until_it_is_shown(stage: StageView) -> None:
    seen(stage)
    actor = stage.picture.candidate
    assert isinstance(actor, Actor)
    assert "clearance" not in vars(actor)
    stage.room_visible = True
    seen(stage)
    assert "clearance" in vars(actor)


def test_the_room_is_drawn_about_the_car_only(stage: StageView) -> None:
    before = seen(stage)
    stage.options = replace(stage.options, room=True)
    where = np.any(seen(stage) != before, axis=2)
    assert where.sum() > 500
    columns = np.flatnonzero(where.any(axis=0))
    assert columns[0] > 256  # clear of the words at the left
    stage.options = replace(stage.options, room=False)
    assert (seen(stage) == before).all()


def test_what_is_short_is_in_the_warning_colour(qtbot: QtBot, stage: StageView) -> None:
    def warned(view: StageView) -> int:
        mark = np.array(QColor(LIGHT.mark).getRgb()[:3])
        return int((np.abs(seen(view)[100:] - mark).max(axis=2) < 12).sum())

    view, cursor = StageView(), TimeCursor()
    qtbot.addWidget(view)
    view.resize(1200, 260)
    cursor.set_duration(0.6)
    view.set_cursor(cursor)
    view.options = ViewOptions(room=True, horizon=False)
    counts = []
    for required in (0.05, 0.25):
        points = (ClearancePoint(name="floor", x=-1.45, height=0.17, required=required),)
        car = replaced(CAR, ("packaging",), Packaging(points=points))
        view.set_analyses(analyse(car, RUN, AS_DESIGNED, compiled=False), None)
        counts.append(warned(view))
    assert counts[1] > counts[0] + 40
