"""Time of a frame of four charts; run with --benchmark-only in a real window (xvfb-run)."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import cycle
from typing import Any

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication, QGridLayout, QWidget
from pytestqt.qtbot import QtBot

from models.charts import Axis, Chart, Curve, Mark
from models.charts.chart import Array, Place, Role
from workbench.cursor import TimeCursor
from workbench.plots import ChartView

POINTS = 2000
TIME = np.linspace(0.0, 4.0, POINTS)
FREQUENCY = np.geomspace(0.1, 50.0, POINTS)
ROLES: tuple[Role, ...] = ("baseline", "candidate")


def curves(x: Array, y: Array, places: tuple[Place, ...]) -> tuple[Curve, ...]:
    return tuple(
        Curve(role, place, x, y * (1 - 0.2 * number), role, place)
        for role in ROLES
        for number, place in enumerate(places)
    )


def four_charts(step: int) -> list[Chart]:
    """Two over time and two on log axes, of two and four curves; each step has other numbers."""
    wave = 0.02 * np.exp(-TIME) * np.sin(2 * np.pi * 1.2 * TIME + 0.02 * step)
    peak = 0.02 / (1e-2 + (FREQUENCY - 1.2) ** 2 + 1e-3 * np.sin(0.02 * step))
    time, pitch = Axis("Time", "time"), Axis("Pitch angle", "angle", sign="nose down +")
    frequency = Axis("Frequency", "frequency", log=True)
    spectrum = Axis("Heave acceleration PSD", "acceleration", form="psd", log=True)
    marks = (Mark(1.2 + 1e-3 * step, "bounce"), Mark(0.5, "pitch"))
    return [
        Chart("a", "", time, pitch, curves(TIME, wave, ("body",))),
        Chart("b", "", time, pitch, curves(TIME, wave, ("front", "rear"))),
        Chart("c", "", frequency, spectrum, curves(FREQUENCY, peak, ("body",)), marks),
        Chart("d", "", frequency, spectrum, curves(FREQUENCY, peak, ("front", "rear")), marks),
    ]


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[tuple[list[ChartView], TimeCursor]]:
    window, cursor = QWidget(), TimeCursor()
    cursor.set_duration(4.0)
    qtbot.addWidget(window)
    grid, views = QGridLayout(window), []
    for number in range(4):
        view = ChartView(window)
        view.set_cursor(cursor)
        grid.addWidget(view, number // 2, number % 2)
        views.append(view)
    window.resize(1600, 900)
    with qtbot.waitExposed(window):
        window.show()
    yield views, cursor
    window.close()


def test_four_charts_with_new_numbers(window: tuple[list[ChartView], TimeCursor], benchmark: Any) -> None:
    """Target: median 8 ms."""
    views, _ = window
    frames = cycle([four_charts(step) for step in range(50)])

    def frame() -> None:
        for view, chart in zip(views, next(frames), strict=True):
            view.set_chart(chart)
        QApplication.processEvents()

    benchmark(frame)
    assert all(view.chart is not None for view in views)


def test_time_cursor_over_four_charts(window: tuple[list[ChartView], TimeCursor], benchmark: Any) -> None:
    """Target: median 3 ms, as the stage moves in the same frame."""
    views, cursor = window
    for view, chart in zip(views, four_charts(0), strict=True):
        view.set_chart(chart)
    places = cycle(np.linspace(0.0, 4.0, 101))

    def frame() -> None:
        cursor.move_to(float(next(places)))
        QApplication.processEvents()

    benchmark(frame)
    assert views[0].readout != ""
