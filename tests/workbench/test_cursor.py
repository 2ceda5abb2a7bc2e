"""The time cursor: real changes only, loop or stop at the end."""

from __future__ import annotations

from itertools import pairwise

from pytestqt.qtbot import QtBot

from workbench.cursor import TimeCursor


def test_only_real_changes_are_told(qtbot: QtBot) -> None:
    cursor, moves, lengths = TimeCursor(), [], []
    cursor.moved.connect(moves.append)
    cursor.duration_changed.connect(lengths.append)
    cursor.set_duration(2.0)
    cursor.set_duration(2.0)
    for place in (1.5, 1.5, 9.0, -1.0):
        cursor.move_to(place)
    assert moves == [1.5, 2.0, 0.0]
    assert lengths == [2.0]


def test_playback_loops(qtbot: QtBot) -> None:
    cursor = TimeCursor()
    cursor.set_duration(0.05)
    moves: list[float] = []
    cursor.moved.connect(moves.append)
    cursor.play()
    qtbot.waitUntil(lambda: any(later < sooner for sooner, later in pairwise(moves)))
    assert cursor.playing
    cursor.pause()


def test_playback_without_loop_stops_at_the_end_and_begins_anew(qtbot: QtBot) -> None:
    cursor = TimeCursor()
    cursor.set_duration(0.05)
    cursor.loop = False
    cursor.play()
    qtbot.waitUntil(lambda: not cursor.playing)
    assert cursor.time == 0.05
    cursor.play()
    assert cursor.time == 0.0
    cursor.pause()
