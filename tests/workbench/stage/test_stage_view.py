"""Painting the stage: both themes, the ghost, one repaint per move of the cursor."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.roads import OneMinusCosine, RandomRoad, SineSweep, Step
from models.run import Run
from models.units import INCH_POUND
from models.vehicle import Vehicle
from tests.cars import EVERYTHING
from tests.screen import show
from workbench.cursor import TimeCursor
from workbench.stage import StageView
from workbench.theme import DARK, LIGHT, Theme

SMOOTHING = 12


class PaintCount(QObject):
    """Counts the paint events of what it watches."""

    def __init__(self) -> None:
        super().__init__()
        self.count = 0

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        self.count += event.type() == QEvent.Type.Paint
        return False


@pytest.fixture
def stage(qtbot: QtBot, joined: Analysis, separate: Analysis) -> tuple[StageView, TimeCursor]:
    view, cursor = StageView(), TimeCursor()
    qtbot.addWidget(view)
    view.resize(1000, 240)
    cursor.set_duration(1.0)
    view.set_cursor(cursor)
    view.set_analyses(joined, separate)
    return view, cursor


def picture(view: StageView) -> NDArray[np.int16]:
    """(height, width, 3) red, green and blue of what is drawn."""
    image = view.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).astype(np.int16)


def pixels(view: StageView, colour: str) -> int:
    """How many pixels have this colour, but for what smoothing takes off a thin line."""
    wanted = QColor(colour).getRgb()[:3]
    return int(np.all(np.abs(picture(view) - wanted) <= SMOOTHING, axis=2).sum())


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_both_themes_show_cars_road_and_words(stage: tuple[StageView, TimeCursor], theme: Theme) -> None:
    view, cursor = stage
    view.set_theme(theme)
    cursor.move_to(0.4)
    assert pixels(view, theme.paper) > 0.3 * view.width() * view.height()
    for colour in (theme.candidate, theme.baseline, theme.road, theme.ink, theme.mark):
        assert pixels(view, colour) > 20, colour


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_focus_puts_a_frame_around_the_picture_and_nothing_over_it(
    stage: tuple[StageView, TimeCursor], theme: Theme, qtbot: QtBot
) -> None:
    view, _ = stage
    view.set_theme(theme)
    show(qtbot, view)
    view.clearFocus()
    without = picture(view)
    view.setFocus()
    assert view.hasFocus()
    within = picture(view)
    assert np.array_equal(within[1:-1, 1:-1], without[1:-1, 1:-1])
    assert np.all(within[0] == QColor(theme.candidate).getRgb()[:3])


def test_ghost_can_be_hidden(stage: tuple[StageView, TimeCursor]) -> None:
    view, cursor = stage
    cursor.move_to(0.4)
    assert view.ghost_visible
    shown = picture(view)
    view.ghost_visible = False
    hidden = picture(view)
    # Below the words, the outline of a car 400 px long is gone.
    assert np.any(shown != hidden, axis=2)[100:].sum() > 400


def test_each_move_of_the_cursor_repaints_once(qtbot: QtBot, stage: tuple[StageView, TimeCursor]) -> None:
    view, cursor = stage
    show(qtbot, view)
    counter = PaintCount()
    view.installEventFilter(counter)
    # Several moves before the screen is drawn are one repaint, and a move to the same place is none.
    for place in (0.1, 0.2, 0.3):
        cursor.move_to(place)
    qtbot.waitUntil(lambda: counter.count > 0)
    for number, place in enumerate((0.4, 0.5, 0.6), start=2):
        cursor.move_to(place)
        cursor.move_to(place)
        qtbot.waitUntil(lambda number=number: counter.count >= number)
    assert counter.count == 4


def test_an_old_cursor_is_let_go(qtbot: QtBot, stage: tuple[StageView, TimeCursor]) -> None:
    view, old = stage
    new = TimeCursor()
    view.set_cursor(new)
    before = picture(view)
    old.move_to(0.5)
    assert np.array_equal(picture(view), before)
    new.move_to(0.5)
    assert not np.array_equal(picture(view), before)


def test_exaggeration_stays_in_its_range(stage: tuple[StageView, TimeCursor]) -> None:
    view, _ = stage
    view.set_exaggeration(400.0)
    assert view.exaggeration == 20.0
    view.set_exaggeration(0.0)
    assert view.exaggeration == 1.0
    # Nothing is exaggerated now, so nothing is said about it, and no other mark stands in this corner.
    mark = QColor(LIGHT.mark).getRgb()[:3]
    assert not np.any(np.all(picture(view)[:70, 600:] == mark, axis=2))


def test_an_empty_stage_says_what_to_do(qtbot: QtBot) -> None:
    view = StageView()
    qtbot.addWidget(view)
    view.resize(1000, 240)
    assert pixels(view, LIGHT.faint) > 100
    view.set_analyses(None, None)
    assert pixels(view, LIGHT.candidate) == 0


@pytest.mark.parametrize("event", [RandomRoad(), Step(height=-0.1), OneMinusCosine(side="left")])
def test_every_part_and_road_can_be_drawn(qtbot: QtBot, event: object) -> None:
    view, cursor = StageView(), TimeCursor()
    qtbot.addWidget(view)
    view.resize(700, 200)
    view.set_units(INCH_POUND)
    view.set_cursor(cursor)
    run = Run.model_validate({"event": event, "duration": 1.0})
    view.set_analyses(analyse(EVERYTHING, run), None)
    cursor.move_to(0.7)
    assert pixels(view, LIGHT.candidate) > 500


def test_posts_of_a_sweep_stand_in_place_of_the_road_line(stage: tuple[StageView, TimeCursor]) -> None:
    view, cursor = stage
    line = pixels(view, LIGHT.road)
    run = Run(event=SineSweep(start_frequency=2.0, duration=2.0), duration=2.0)
    view.set_analyses(analyse(Vehicle(), run), None)
    assert 0 < pixels(view, LIGHT.road) < line / 2
    before = picture(view)
    cursor.set_duration(2.0)
    cursor.move_to(0.37)
    assert np.any(picture(view) != before)
