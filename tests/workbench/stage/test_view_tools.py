"""Choices of what the stage shows: options, buttons, and the picture that follows."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QToolButton
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.roads import HalfSine
from models.run import Run
from models.vehicle import Vehicle
from tests.screen import show
from workbench.cursor import TimeCursor
from workbench.stage import StageView, Transport, ViewOptions, ViewTools
from workbench.stage.view_options import ARRANGEMENTS, FORCES
from workbench.theme import DARK, LIGHT


@pytest.fixture
def stage(qtbot: QtBot, joined: Analysis, separate: Analysis) -> StageView:
    view = StageView()
    qtbot.addWidget(view)
    view.resize(1200, 260)
    cursor = TimeCursor(view)
    cursor.set_duration(1.0)
    view.set_cursor(cursor)
    view.set_analyses(joined, separate)
    cursor.move_to(0.45)
    return view


@pytest.fixture
def tools(qtbot: QtBot, stage: StageView) -> ViewTools:
    widget = ViewTools(stage)
    qtbot.addWidget(widget)
    return widget


def button(tools: ViewTools, name: str) -> QToolButton:
    return next(b for b in tools.findChildren(QToolButton) if b.accessibleName() == name)


def picture(view: StageView) -> NDArray[np.uint8]:
    image = view.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    return (
        np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.width(), 4)[..., :3].copy()
    )


def blue_green_red(colour: str) -> NDArray[np.int_]:
    """A colour as it lies in a picture."""
    return np.array(QColor(colour).getRgb()[2::-1])


def changed(view: StageView, options: ViewOptions) -> NDArray[np.bool_]:
    """(height, width) where other options change the picture."""
    before = picture(view)
    view.options = options
    return np.any(picture(view) != before, axis=2)


@pytest.mark.parametrize("options", [
    ViewOptions(ghost, arrangement, horizon, trace, forces, room)
    for ghost, arrangement, horizon, trace, forces, room in product(
        (True, False), ARRANGEMENTS, (True, False), (True, False), FORCES, (True, False)
    )
])  # fmt: skip
def test_options_survive_as_words(options: ViewOptions) -> None:
    assert ViewOptions.from_words(options.words()) == options


def test_unknown_words_are_passed_over() -> None:
    assert ViewOptions.from_words(["horizon", "ghost", "hologram"]) == ViewOptions()


def test_buttons_set_the_options(qtbot: QtBot, stage: StageView, tools: ViewTools) -> None:
    for name, options in (
        ("Baseline behind", ViewOptions(arrangement="behind")),
        ("Path of the seat", ViewOptions(arrangement="behind", trace=True)),
        ("Horizon", ViewOptions(arrangement="behind", trace=True, horizon=False)),
        ("Travel and clearance", ViewOptions(arrangement="behind", trace=True, horizon=False, room=True)),
    ):
        with qtbot.waitSignal(stage.options_changed):
            qtbot.mouseClick(button(tools, name), Qt.MouseButton.LeftButton)
        assert stage.options == options
    menu = button(tools, "Forces").menu()
    next(action for action in menu.actions() if action.data() == "whole").trigger()
    assert stage.forces == "whole"
    assert button(tools, "Forces").isChecked()


def test_buttons_follow_the_stage(qtbot: QtBot, stage: StageView, tools: ViewTools) -> None:
    stage.arrangement = "behind"
    stage.horizon_visible = False
    stage.forces = "change"
    assert button(tools, "Baseline behind").isChecked()
    assert not button(tools, "Horizon").isChecked()
    checked = [a.data() for a in button(tools, "Forces").menu().actions() if a.isChecked()]
    assert checked == ["change"]
    stage.ghost_visible = False
    assert not button(tools, "Baseline behind").isEnabled()
    with qtbot.assertNotEmitted(stage.options_changed):
        stage.forces = "change"


def test_film_button_asks_for_the_dialog(qtbot: QtBot, tools: ViewTools) -> None:
    with qtbot.waitSignal(tools.film_wanted):
        qtbot.mouseClick(button(tools, "Film"), Qt.MouseButton.LeftButton)


def test_every_button_has_a_name_a_tip_and_an_icon(tools: ViewTools) -> None:
    tools.set_theme(DARK)
    for tool in tools.findChildren(QToolButton):
        assert tool.accessibleName()
        assert tool.toolTip()
        assert not tool.icon().isNull()


def test_tools_stand_in_the_row_of_the_time(qtbot: QtBot, stage: StageView, tools: ViewTools) -> None:
    row = Transport(TimeCursor(stage))
    qtbot.addWidget(row)
    row.add_tools(tools)
    row.resize(1200, 34)
    show(qtbot, row)
    assert tools.parentWidget() is row
    assert tools.geometry().right() <= row.width()


def test_horizon_stands_at_the_right_only(stage: StageView) -> None:
    stage.resize(1600, 300)
    stage.options = ViewOptions(horizon=False)
    where = changed(stage, ViewOptions())
    assert where.sum() > 2000
    assert not where[:, :1200].any()
    stage.resize(700, 180)
    assert not changed(stage, ViewOptions(horizon=False)).any()  # no room for it, so nothing to hide


def test_trace_lies_behind_the_seat(stage: StageView) -> None:
    where = changed(stage, replace(stage.options, trace=True))
    columns = np.flatnonzero(where.any(axis=0))
    assert columns[0] < 10
    assert len(columns) > 400
    assert columns[-1] < 900


def test_behind_moves_the_baseline_and_tells_how_far(stage: StageView) -> None:
    overlaid = picture(stage)
    graphite = blue_green_red(LIGHT.baseline)

    def left_part(seen: NDArray[np.uint8]) -> int:
        close = np.abs(seen[100:, :400].astype(int) - graphite).max(axis=2) < 12
        return int(close.sum())

    before = left_part(overlaid)
    stage.arrangement = "behind"
    assert left_part(picture(stage)) > before + 500


@pytest.mark.parametrize("forces", ["change", "whole"])
def test_forces_are_drawn_in_ink(stage: StageView, forces: str) -> None:
    where = changed(stage, ViewOptions.from_words(["ghost", "horizon", f"forces {forces}"]))
    assert where.sum() > 300


def test_a_wheel_off_the_road_is_marked(qtbot: QtBot) -> None:
    run = Run(event=HalfSine(height=0.12, length=1.0), speed=20.0, duration=1.0)
    analysis = analyse(Vehicle(), run)
    view, cursor = StageView(), TimeCursor()
    qtbot.addWidget(view)
    view.resize(1200, 260)
    cursor.set_duration(1.0)
    view.set_cursor(cursor)
    view.set_analyses(analysis, None)
    mark = blue_green_red(LIGHT.mark)

    def marked(time: float) -> int:
        cursor.move_to(time)
        seen = picture(view)[90:214].astype(int)  # without the words above and the event's name below
        return int((np.abs(seen - mark).max(axis=2) < 12).sum())

    flying = float(analysis.time.t[np.argmax(analysis.nonlinear.response.lift_off[1])])
    assert flying > 0
    assert marked(0.0) == 0
    assert marked(flying) > 20
