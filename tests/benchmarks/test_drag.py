"""A drag of the interconnection slider in the real window: from the mouse event to the views painted.

Run with ``bash .ci/test tests/benchmarks/test_drag.py --benchmark-only -s``.  Everything is in the measured
span: the mouse event, the edit and its undo step, both the physics and the key figures, and the paint
events of the row, the stage, the four plots and the table, up to the flush to the screen.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QObject, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytest_benchmark.fixture import BenchmarkFixture
from pytestqt.qtbot import QtBot

import workbench.engine
from models.analysis import begin_analysis
from tests.benchmarks.limits import on_time
from tests.screen import show
from workbench.app import first_project, settle_memory
from workbench.editor.quantity_row import QuantityRow
from workbench.settings import Settings
from workbench.window.main_window import MainWindow

STEPS, DRAGS = 300, 3

#: More turns of the event loop than any step takes: a view that is not painted must not hang the test.
_TURNS = 1000

#: One frame of a screen that shows sixty of them a second, s.
FRAME = 16e-3


class _Painted(QObject):
    """Knows which of the watched widgets have not been painted since :meth:`reset`.

    Attributes:
        missing: the widgets that have not.
        others_at: when the last one came due, all others having been painted and sent to the screen; None
            where it came before another.
    """

    def __init__(self, widgets: list[QWidget], last: QWidget) -> None:
        super().__init__()
        self._widgets, self._last = [*widgets, last], last
        for widget in self._widgets:
            widget.installEventFilter(self)
        self.reset()

    def reset(self) -> None:
        self.missing = set(self._widgets)
        self.others_at: float | None = None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint:
            if watched is self._last and self.missing == {self._last}:
                self.others_at = time.perf_counter()
            self.missing.discard(watched)  # type: ignore[arg-type]
        return False


class _Clock:
    """Seconds spent inside a wrapped function and the one it returns, taken step by step."""

    def __init__(self, work: Callable[..., Callable[[], Any]]) -> None:
        self._work = work
        self._spent = 0.0

    def __call__(self, *args: Any, **options: Any) -> Callable[[], Any]:
        rest = self._timed(lambda: self._work(*args, **options))
        return lambda: self._timed(rest)

    def _timed(self, work: Callable[[], Any]) -> Any:
        start = time.perf_counter()
        try:
            return work()
        finally:
            self._spent += time.perf_counter() - start

    def take(self) -> float:
        spent, self._spent = self._spent, 0.0
        return spent


@dataclass(frozen=True)
class _Step:
    """Seconds of one step: until the plots are painted, until the stage is too, and of the physics."""

    plots: float
    whole: float
    physics: float


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    settings = Settings(str(tmp_path / "settings.ini"))
    settings.theme = "light"
    window = MainWindow(first_project(), settings)
    window.resize(1600, 1000)
    show(qtbot, window)
    # As the program does: the nonlinear run compiled, start-up out of the rounds of the garbage collector.
    with qtbot.waitSignal(window.engine.results_changed, timeout=120_000):
        window.engine.prepare()
    settle_memory()
    yield window
    gc.unfreeze()
    window.document.undo_stack.setClean()
    window.close()


def _mouse(slider: QWidget, kind: QEvent.Type, x: float) -> None:
    place = QPointF(x, slider.height() / 2)
    held = Qt.MouseButton.LeftButton
    button = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else held
    buttons = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseButtonRelease else held
    event = QMouseEvent(
        kind, place, slider.mapToGlobal(place), button, buttons, Qt.KeyboardModifier.NoModifier
    )
    QApplication.sendEvent(slider, event)


def _interconnection(window: MainWindow) -> QuantityRow:
    row = next(row for row in window.editor.at_hand.entries if row.label == "Interconnection bar rate")
    assert isinstance(row, QuantityRow)
    return row


def _views(window: MainWindow, row: QuantityRow) -> list[QWidget]:
    canvases = [panel.view._canvas.viewport() for panel in window.plots.panels]
    # Not the table of figures: it is painted before the plots, but only where a cell of it has another text
    # than before.
    return [row.number, row.slider, *canvases]


@pytest.mark.parametrize("playing", [False, True], ids=["paused", "playing"])
def test_drag_of_the_interconnection(
    window: MainWindow,
    benchmark: BenchmarkFixture,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    playing: bool,
) -> None:
    """Target: in 95 of 100 steps all plots are redrawn within a frame, with nothing else on the machine.

    The stage is painted right after them, and the time until then is printed too.  The steps follow each
    other without a pause, so that while the car runs a frame of the playback often falls between the event
    and the paint: then all views within one and a half.  The best of the drags is held against the limit:
    what other programs on the machine add is not ours.
    """
    row = _interconnection(window)
    physics = _Clock(begin_analysis)
    monkeypatch.setattr(workbench.engine, "begin_analysis", physics)
    painted = _Painted(_views(window, row), window.stage)
    (window.time_cursor.play if playing else window.time_cursor.pause)()
    places = np.linspace(row.slider.width() * 0.15, row.slider.width() * 0.85, STEPS + 1)
    drags: list[list[_Step]] = []

    def step(x: float) -> _Step:
        painted.reset()
        physics.take()
        start = time.perf_counter()
        _mouse(row.slider, QEvent.Type.MouseMove, x)
        for _ in range(_TURNS):
            if not painted.missing:
                break
            QApplication.processEvents()
        assert not painted.missing
        end = time.perf_counter()
        return _Step((painted.others_at or end) - start, end - start, physics.take())

    def drag() -> None:
        there_and_back = places if len(drags) % 2 == 0 else places[::-1]
        _mouse(row.slider, QEvent.Type.MouseButtonPress, there_and_back[0])
        QApplication.processEvents()
        drags.append([step(x) for x in there_and_back[1:]])
        _mouse(row.slider, QEvent.Type.MouseButtonRelease, there_and_back[-1])

    benchmark.pedantic(drag, rounds=DRAGS, warmup_rounds=1)
    with capsys.disabled():
        print(f"\n{STEPS} steps of a drag, stage {'playing' if playing else 'paused'}, ms:")
        for steps in drags:
            print("  " + _line(steps))
    assert window.document.undo_stack.count() <= len(drags)
    if playing:
        best = min(_share([step.whole for step in steps], 0.95) for steps in drags)
        on_time("95 of 100 steps of a drag, all views", best, 1.5 * FRAME)
    else:
        best = min(_share([step.plots for step in steps], 0.95) for steps in drags)
        on_time("95 of 100 steps of a drag, all plots", best, FRAME)


def _share(seconds: list[float], share: float) -> float:
    return float(np.quantile(seconds, share))


def _line(steps: list[_Step]) -> str:
    spans = {"plots": [step.plots for step in steps], "all views": [step.whole for step in steps]}
    shares = (("median", 0.5), ("p95", 0.95), ("max", 1.0))
    numbers = "; ".join(
        f"{name} " + " ".join(f"{word} {_share(span, share) * 1e3:.1f}" for word, share in shares)
        for name, span in spans.items()
    )
    physics = float(np.median([step.physics for step in steps])) * 1e3
    drawing = float(np.median([step.whole - step.physics for step in steps])) * 1e3
    return f"{numbers}; of the median: physics {physics:.1f}, edit and drawing {drawing:.1f}"
