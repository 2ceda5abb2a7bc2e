"""Work in the other thread: results come back, stale and cancelled ones do not."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QObject, QThread
from pytestqt.qtbot import QtBot

from workbench.runner import Cancelled, Job, Runner


@pytest.fixture
def runner(qtbot: QtBot) -> Iterator[Runner]:
    runner = Runner()
    yield runner
    runner.stop()


def no_failure(error: Exception) -> None:
    raise AssertionError(error)


def test_result_arrives_in_the_thread_of_the_caller(runner: Runner, qtbot: QtBot) -> None:
    threads: list[bool] = []
    here = QThread.currentThread()

    def work(job: Job) -> int:
        threads.append(QThread.currentThread() is here)
        return 7

    def done(result: int) -> None:
        threads.append(QThread.currentThread() is here)
        results.append(result)

    results: list[int] = []
    runner.start("lane", "Work", work, done, no_failure)
    qtbot.waitUntil(lambda: results == [7])
    assert threads == [False, True]


def test_newer_job_of_a_lane_makes_the_older_stale(runner: Runner, qtbot: QtBot) -> None:
    release = threading.Event()
    results: list[str] = []

    def slow(job: Job) -> str:
        release.wait(5)
        return "old"

    runner.start("lane", "Old", slow, results.append, no_failure)
    runner.start("lane", "New", lambda job: "new", results.append, no_failure)
    release.set()
    qtbot.waitUntil(lambda: "new" in results)
    assert results == ["new"]


def test_cancelled_work_stops_at_its_next_report(runner: Runner, qtbot: QtBot) -> None:
    started, stopped = threading.Event(), threading.Event()
    results: list[object] = []

    def work(job: Job) -> None:
        started.set()
        try:
            while True:
                job.report(0.5)
        finally:
            stopped.set()

    runner.start("lane", "Endless", work, results.append, no_failure)
    assert started.wait(5)
    runner.cancel("lane")
    assert stopped.wait(5)
    assert results == []


def test_failure_is_handed_over(runner: Runner, qtbot: QtBot) -> None:
    errors: list[str] = []

    def work(job: Job) -> None:
        raise ValueError("no such road")

    runner.start("lane", "Work", work, lambda result: None, lambda error: errors.append(str(error)))
    qtbot.waitUntil(lambda: errors == ["no such road"])


def test_title_shows_while_busy(runner: Runner, qtbot: QtBot) -> None:
    titles: list[str] = []
    runner.busy_changed.connect(titles.append)
    runner.start("lane", "Work", lambda job: None, lambda result: None, no_failure)
    qtbot.waitUntil(lambda: titles == ["Work", ""])


def test_nothing_starts_after_the_end(runner: Runner) -> None:
    """What a timer still asks for while the window goes must not run on without it."""
    asked: list[str] = []
    runner.stop()
    job = runner.start("lane", "Late", lambda job: asked.append("ran"), asked.append, no_failure)
    assert job.cancelled
    with pytest.raises(Cancelled):
        runner.wait_for("Late", lambda job: asked.append("waited"))
    assert asked == []


def test_what_waits_in_line_when_it_is_cancelled_never_runs(runner: Runner, qtbot: QtBot) -> None:
    release = threading.Event()
    ran: list[str] = []
    runner.start("first", "", lambda job: release.wait(5), lambda result: None, no_failure)
    runner.start("second", "", lambda job: ran.append("second"), ran.append, no_failure)
    runner.cancel("second")
    runner.start("third", "", lambda job: "third", ran.append, no_failure)
    release.set()
    qtbot.waitUntil(lambda: ran == ["third"])


def test_a_runner_that_is_deleted_over_its_work_hangs_nothing(qtbot: QtBot) -> None:
    release, ended = threading.Event(), threading.Event()

    def work(job: Job) -> None:
        release.wait(5)
        ended.set()

    owner = QObject()
    Runner(owner).start("lane", "Work", work, lambda result: None, no_failure)
    with qtbot.waitSignal(owner.destroyed):
        owner.deleteLater()
    assert not ended.is_set()
    release.set()
    assert ended.wait(5)


def test_work_in_pieces_that_follow_each_other_is_announced_once(runner: Runner, qtbot: QtBot) -> None:
    """Else the button that cancels it would be hidden and shown under the mouse."""
    titles: list[str] = []
    runner.busy_changed.connect(titles.append)
    left = [3]

    def piece() -> None:
        runner.start("lane", "Work", lambda job: None, lambda result: done(), no_failure)

    def done() -> None:
        left[0] -= 1
        if left[0]:
            piece()

    piece()
    qtbot.waitUntil(lambda: runner.idle)
    assert left == [0]
    assert titles == ["Work", ""]
