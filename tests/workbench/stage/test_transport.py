"""Playback controls move the one cursor."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QLabel, QSlider, QSpinBox, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from models.units import METRIC
from workbench.cursor import SPEEDS, TimeCursor
from workbench.stage import Transport
from workbench.theme import DARK


@pytest.fixture
def transport(qtbot: QtBot) -> tuple[Transport, TimeCursor]:
    cursor = TimeCursor()
    cursor.set_duration(4.0)
    widget = Transport(cursor)
    qtbot.addWidget(widget)
    return widget, cursor


def button(transport: Transport, name: str) -> QToolButton:
    return next(b for b in transport.findChildren(QToolButton) if b.accessibleName() == name)


def test_play_button_plays_and_pauses(qtbot: QtBot, transport: tuple[Transport, TimeCursor]) -> None:
    widget, cursor = transport
    play = button(widget, "Play")
    still = play.icon().pixmap(24, 24).toImage()
    qtbot.mouseClick(play, Qt.MouseButton.LeftButton)
    assert cursor.playing
    assert play.accessibleName() == "Pause"
    assert play.icon().pixmap(24, 24).toImage() != still
    qtbot.mouseClick(play, Qt.MouseButton.LeftButton)
    assert not cursor.playing


def test_a_step_is_one_frame_at_the_speed_of_playback(transport: tuple[Transport, TimeCursor]) -> None:
    widget, cursor = transport
    cursor.move_to(1.0)
    cursor.play()
    widget.step_forward()
    assert not cursor.playing
    assert cursor.time == pytest.approx(1.0 + 1 / 60)
    cursor.speed = 0.1
    widget.step_back()
    assert cursor.time == pytest.approx(1.0 + 0.9 / 60)


def test_slider_and_cursor_follow_each_other(qtbot: QtBot, transport: tuple[Transport, TimeCursor]) -> None:
    widget, cursor = transport
    slider = widget.findChild(QSlider)
    assert slider.maximum() == 4000
    slider.setValue(1500)
    assert cursor.time == 1.5
    moves: list[float] = []
    cursor.moved.connect(moves.append)
    # The slider has whole milliseconds; it must not push the cursor to one of them.
    cursor.move_to(2.12345)
    assert moves == [2.12345]
    assert slider.value() == 2123
    assert cursor.time == 2.12345


def test_duration_of_another_run_is_taken_over(transport: tuple[Transport, TimeCursor]) -> None:
    widget, cursor = transport
    cursor.move_to(3.0)
    cursor.set_duration(2.0)
    assert widget.findChild(QSlider).maximum() == 2000
    assert widget.findChild(QLabel).text() == "0.000 / 2.000 s"
    widget.set_units({**METRIC, "time": "ms"})
    assert widget.findChild(QLabel).text() == "0 / 2000 ms"


def test_speeds_are_told_as_fractions(transport: tuple[Transport, TimeCursor]) -> None:
    widget, cursor = transport
    box = widget.findChild(QComboBox)
    assert [box.itemText(row) for row in range(box.count())] == ["1/10 ×", "1/4 ×", "1/2 ×", "1 ×"]
    box.setCurrentIndex(0)
    assert cursor.speed == SPEEDS[0]


def test_exaggeration_is_announced(qtbot: QtBot, transport: tuple[Transport, TimeCursor]) -> None:
    widget, _ = transport
    with qtbot.waitSignal(widget.exaggeration_changed) as signal:
        widget.findChild(QSpinBox).setValue(10)
    assert signal.args == [10.0]
    assert widget.exaggeration == 10.0


def test_loop_button_sets_the_loop(qtbot: QtBot, transport: tuple[Transport, TimeCursor]) -> None:
    widget, cursor = transport
    qtbot.mouseClick(button(widget, "Loop"), Qt.MouseButton.LeftButton)
    assert not cursor.loop


def test_every_control_has_a_name_a_tip_and_the_focus(transport: tuple[Transport, TimeCursor]) -> None:
    widget, _ = transport
    widget.set_shortcuts({"play": "Ctrl+Space"})
    widget.set_theme(DARK)
    controls: list[QWidget] = [
        *widget.findChildren(QToolButton),
        *(widget.findChild(kind) for kind in (QSlider, QComboBox, QSpinBox)),
    ]
    for control in controls:
        assert control.accessibleName()
        assert control.toolTip()
        assert control.focusPolicy() & Qt.FocusPolicy.TabFocus
    assert button(widget, "Play").toolTip() == "Play or pause (Ctrl+Space)"
