"""A run too long for a frame: off the GUI thread, with progress, Cancel, and no stale result."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from PySide6.QtCore import QThread, QTimer
from pytestqt.qtbot import QtBot

import workbench.engine
from models.analysis import Analysis, begin_analysis
from models.roads import RandomRoad
from models.vehicle import Friction, Vehicle
from tests.gui.hands import Hands
from workbench.window.main_window import MainWindow


class Gate:
    """Stands in for the analysis: notes the thread, and waits where it is told to."""

    def __init__(self) -> None:
        self.open = threading.Event()
        self.open.set()
        self.waiting = threading.Event()
        self.in_gui_thread: list[bool] = []
        self._gui_thread = QThread.currentThread()

    def __call__(self, vehicle: Vehicle, *args: Any, **options: Any) -> Callable[[], Analysis]:
        self.in_gui_thread.append(QThread.currentThread() is self._gui_thread)
        self.waiting.set()
        assert self.open.wait(20)
        return begin_analysis(vehicle, *args, **options)


@pytest.fixture
def gate(monkeypatch: pytest.MonkeyPatch) -> Iterator[Gate]:
    gate = Gate()
    monkeypatch.setattr(workbench.engine, "begin_analysis", gate)
    yield gate
    gate.open.set()  # the worker thread must not hang


def ask_for_a_long_run(window: MainWindow, gate: Gate, qtbot: QtBot) -> None:
    """A minute of a random road; the worker is then inside the analysis."""
    document = window.document
    document.edit(("run", "event"), RandomRoad())
    qtbot.waitUntil(lambda: not window.engine.stale)
    gate.open.clear()
    gate.in_gui_thread.clear()
    gate.waiting.clear()
    document.edit(("run", "duration"), 60.0)
    qtbot.waitUntil(gate.waiting.is_set)


def test_a_long_run_leaves_the_window_alive(
    window: MainWindow, hands: Hands, gate: Gate, qtbot: QtBot
) -> None:
    ask_for_a_long_run(window, gate, qtbot)
    assert hands.in_sight(window._progress)
    assert hands.in_sight(window._cancel)
    assert "run" in window.busy.text()
    beats: list[int] = []
    heart = QTimer(interval=1)
    heart.timeout.connect(lambda: beats.append(1))
    heart.start()
    qtbot.waitUntil(lambda: len(beats) > 20)  # while the analysis goes on
    assert window.engine.stale
    gate.open.set()
    hands.settle()
    assert gate.in_gui_thread
    assert not any(gate.in_gui_thread)
    assert window.time_cursor.duration == pytest.approx(60.0)
    qtbot.waitUntil(lambda: not window._progress.isVisible())


def test_a_newer_edit_drops_the_stale_result(
    window: MainWindow, hands: Hands, gate: Gate, qtbot: QtBot
) -> None:
    ask_for_a_long_run(window, gate, qtbot)
    shown: list[tuple[float, float]] = []

    def note() -> None:
        candidate = window.engine.candidate
        assert candidate is not None
        shown.append((candidate.run.duration, candidate.run.speed))

    window.engine.results_changed.connect(note)
    window.document.edit(("run", "speed"), 30.0)
    gate.open.set()
    hands.settle()
    assert shown == [(60.0, 30.0)]


def test_cancel_says_that_the_plots_are_of_before(
    window: MainWindow, hands: Hands, gate: Gate, qtbot: QtBot
) -> None:
    before = window.engine.candidate
    ask_for_a_long_run(window, gate, qtbot)
    shown = window.engine.candidate
    window._cancel.click()
    assert not window._progress.isVisible()
    assert "Cancelled" in window.notice.text.text()
    assert window.engine.candidate is shown is not before
    gate.open.set()
    hands.answer("Compute now")
    hands.settle()
    assert window.time_cursor.duration == pytest.approx(60.0)


def test_a_short_run_is_shown_in_the_same_turn(window: MainWindow, gate: Gate, hands: Hands) -> None:
    gate.in_gui_thread.clear()
    hands.type_into(hands.at_hand("Front spring rate"), "17")
    assert gate.in_gui_thread == [True]


def test_a_run_of_many_steps_is_off_the_gui_thread_however_short(
    window: MainWindow, hands: Hands, gate: Gate, qtbot: QtBot
) -> None:
    """A friction of 50 N within 0.1 mm/s is so stiff a damper that a sample takes ten steps and more."""
    with qtbot.waitSignal(window.engine.results_changed, timeout=60_000):  # a first run of all compiles
        window.engine.prepare()
    hands.settle()
    place = (*window.document.candidate_path(), "front", "friction")
    gate.in_gui_thread.clear()
    window.document.edit(place, Friction(force=50.0, width=1e-4))
    hands.settle()
    # Refused in the GUI thread before any step, then computed in the worker.
    assert gate.in_gui_thread == [True, False]
    candidate = window.engine.candidate
    assert candidate is not None
    assert candidate.nonlinear is not None
    assert candidate.vehicle.front.friction.width == 1e-4


def test_a_drag_of_a_long_run_shows_results_as_they_come(
    window: MainWindow, hands: Hands, gate: Gate, qtbot: QtBot
) -> None:
    ask_for_a_long_run(window, gate, qtbot)
    gate.open.set()
    hands.settle()
    rates: list[float] = []

    def note() -> None:
        candidate = window.engine.candidate
        assert candidate is not None
        rates.append(candidate.vehicle.front.spring.rate)

    window.engine.results_changed.connect(note)
    gate.open.clear()
    gate.waiting.clear()
    place = (*window.document.candidate_path(), "front", "spring", "rate")
    window.document.edit(place, 1300.0)
    qtbot.waitUntil(gate.waiting.is_set)
    window.document.edit(place, 1400.0)
    window.document.edit(place, 1500.0)
    window.engine.update_now()
    gate.open.set()
    hands.settle()
    assert rates == [1300.0, 1500.0]
