"""Angles of levers and drop links on the stage."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QFont, QImage, QPainter
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.hardware import Hardware
from models.hardware.stabiliser_bar import StabiliserBar
from models.judge.links import chain_links
from models.levers import lever
from models.linkage import RockerPushrod, TrailingArmBellCrank, WishboneDropLink
from models.roads import OneMinusCosine
from models.run import Run
from models.units import METRIC
from models.vehicle import Axle, Packaging, Side, Stabiliser, TorsionCoupling, TrimSpring, Vehicle
from workbench.cursor import TimeCursor
from workbench.stage import StageView, ViewOptions, angles
from workbench.stage.angle_painter import draw_angles
from workbench.stage.angles import angle_marks
from workbench.stage.camera import fitted
from workbench.stage.pens import Pens
from workbench.stage.scene import stage_frame
from workbench.stage.silhouette import silhouette
from workbench.theme import DARK, LIGHT, Theme

RUN = Run(event=OneMinusCosine(), duration=0.6)
PUSHED = Axle(stabiliser=Stabiliser(bar_rate=500.0, linkage=WishboneDropLink()))
CRANKED = TorsionCoupling(bar_rate=1500.0, front_lever_angle=radians(12), rear_linkage=TrailingArmBellCrank())
CAR = Vehicle(
    front=PUSHED, left=Side(coupling=CRANKED, trim=TrimSpring(bar_rate=200.0, linkage=RockerPushrod()))
)
TIGHT = Packaging(lever_angle_limit=radians(5), link_angle_limit=radians(89.9))


@pytest.fixture(scope="module")
def chained() -> Analysis:
    return analyse(CAR, RUN, compiled=False)


def test_levers_and_links_of_the_near_side_have_marks(chained: Analysis) -> None:
    """A stabiliser's lever and link, both ends of the bar, two links of the crank, a trim spring with two."""
    frame = stage_frame(chained, 0.3, 4.0)
    marks = angle_marks(chained, frame)
    assert [mark.kind for mark in marks].count("lever") == 4
    assert [mark.kind for mark in marks].count("link") == 5
    front, rear = marks[0], marks[1]
    travel = frame.near.front.travel
    assert abs(travel) > 1e-3
    plain = lever(1, CRANKED.front_lever_ratio, CRANKED.front_lever_angle)
    assert front.angle == pytest.approx(radians(12) + float(plain.turn(travel).angle), abs=1e-12)
    behind = lever(3, 0.0, 0.0, TrailingArmBellCrank())
    assert rear.angle == pytest.approx(float(behind.turn(frame.near.rear.travel).angle), abs=1e-12)
    assert not any(mark.beyond for mark in marks)


def test_a_link_shows_the_lesser_of_its_angles_at_the_moment(chained: Analysis) -> None:
    """As the checks have it over travel; between their 65 samples and the table's 257 lie 1e-3 rad."""
    ends = np.full(4, -0.1), np.full(4, 0.1)
    swings = [link for link in chain_links(CAR, ends) if link.place == "FR" and "Stab" in link.name]
    for time in (0.0, 0.25, 0.3, 0.5):
        frame = stage_frame(chained, time)
        mark = next(
            mark
            for mark in angle_marks(chained, frame)
            if mark.kind == "link" and mark.apex in frame.near.front.chains[0].links[0]
        )
        least = min(np.interp(frame.near.front.travel, link.travel, link.angle) for link in swings)
        assert mark.angle == pytest.approx(least, abs=2e-3)


def test_limits_tell_what_is_beyond(chained: Analysis) -> None:
    car = replaced(CAR, ("packaging",), TIGHT)
    tight = analyse(car, RUN, compiled=False)
    marks = angle_marks(tight, stage_frame(tight, 0.3))
    for mark in marks:
        assert mark.beyond == (
            abs(mark.angle) > TIGHT.lever_angle_limit
            if mark.kind == "lever"
            else mark.angle < TIGHT.link_angle_limit
        )
    assert {mark.kind for mark in marks if mark.beyond} == {"lever", "link"}


def test_end_links_of_stabilisers_in_steel_have_marks() -> None:
    """By the triangle of lever, link and far joint, with the bar's own sizes."""
    axle = Axle(stabiliser=Stabiliser(bar_rate=500.0))
    car = analyse(Vehicle(front=axle, rear=axle), RUN, compiled=False)
    frame = stage_frame(car, 0.3, 4.0)
    bar = StabiliserBar()
    assert angle_marks(car, frame) == ()
    (mark,) = angle_marks(car, frame, Hardware(rear_stabiliser=bar))
    bend, end, far = bar.points[-2], bar.points[-1], bar.link
    joint = np.array([end.x - bend.x, end.z - bend.z])
    way = np.array([far.x - end.x, far.y - end.y, far.z - end.z])
    assert frame.near.rear.travel != 0.0
    lifted = np.array([far.x - bend.x, far.z - bend.z + far.ratio * frame.near.rear.travel])
    ahead = (
        lifted @ lifted + joint @ joint + way[1] ** 2 - way @ way
    ) / 2  # lever along the way to the joint
    turned = (ahead - joint @ joint) / (np.linalg.norm(way) * np.linalg.norm(joint))
    assert mark.angle == pytest.approx(np.arccos(abs(turned)), abs=1e-12)
    assert not mark.beyond


def test_without_bars_there_are_no_marks() -> None:
    bare = analyse(Vehicle(), RUN, compiled=False)
    assert angle_marks(bare, stage_frame(bare, 0.2)) == ()


def test_words_keep_clear_of_each_other(qtbot: QtBot, chained: Analysis) -> None:
    image = QImage(1200, 280, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    camera = fitted(1200.0, 280.0, (silhouette(CAR),))
    letters = QFont()
    letters.setPixelSize(11)
    other = [QRectF(camera.x, camera.y - 80, 60, 14)]
    pens = Pens(LIGHT, camera.scale, 1.0, LIGHT.candidate)
    marks = angle_marks(chained, stage_frame(chained, 0.3))
    words = draw_angles(painter, marks, camera, 0.0, pens, METRIC, letters, other)
    painter.end()
    assert len(words) == len(marks)
    boxes = [*words, *other]
    assert not any(one.intersects(two) for n, one in enumerate(boxes) for two in boxes[:n])


def shown(qtbot: QtBot, analysis: Analysis, theme: Theme = LIGHT) -> StageView:
    view, cursor = StageView(), TimeCursor()
    qtbot.addWidget(view)
    view.resize(1200, 280)
    cursor.set_duration(0.6)
    view.set_cursor(cursor)
    view.set_theme(theme)
    view.set_analyses(analysis, None)
    cursor.move_to(0.3)
    return view


def test_nothing_is_looked_up_while_hidden(qtbot: QtBot, chained: Analysis) -> None:
    angles._table.cache_clear()
    view = shown(qtbot, chained)
    view.grab()
    assert angles._table.cache_info().misses == 0
    view.options = replace(view.options, room=True)
    view.grab()
    assert angles._table.cache_info().misses == 3


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_what_is_beyond_is_in_the_warning_colour(qtbot: QtBot, chained: Analysis, theme: Theme) -> None:
    counts = []
    for car in (CAR, replaced(CAR, ("packaging",), TIGHT.model_copy(update={"points": ()}))):
        view = shown(qtbot, analyse(car, RUN, compiled=False), theme)
        view.options = ViewOptions(room=True, horizon=False)
        image = view.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
        pixels = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.width(), 4)
        mark = np.array(QColor(theme.mark).getRgb()[:3])
        counts.append(int((np.abs(pixels[80:, :, 2::-1].astype(int) - mark).max(axis=2) < 12).sum()))
    assert counts[1] > counts[0] + 200
