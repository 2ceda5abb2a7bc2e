"""Faults that show only after thousands of calls."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable

from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from models.charts import Chart
from workbench.cursor import TimeCursor
from workbench.plots import ChartView

ChartMaker = Callable[..., Chart]


def test_void_calls_of_qt_lose_no_reference_to_none() -> None:
    """PySide6 6.12.0 dropped one with each call, until the interpreter aborted."""
    thing = QObject()
    before = sys.getrefcount(None)
    for number in range(1000):
        thing.setObjectName(str(number))
    # On interpreters with immortal objects the count is a constant.
    assert sys.getrefcount(None) > before - 50


def test_thousands_of_redraws_leave_no_items_behind(qtbot: QtBot, pitch_chart: ChartMaker) -> None:
    view = ChartView()
    qtbot.addWidget(view)
    view.resize(300, 200)
    cursor = TimeCursor()
    cursor.set_duration(4.0)
    view.set_cursor(cursor)
    charts = [pitch_chart(amplitude=0.02 + 0.001 * number, points=101) for number in range(10)]
    view.set_chart(charts[0])
    view.grab()
    gc.collect()
    items, nones = len(view._canvas.scene().items()), sys.getrefcount(None)
    for number in range(3000):
        view.set_chart(charts[number % 10])
        cursor.move_to(number % 40 / 10)
        if number % 10 == 0:
            view.grab()
    gc.collect()
    assert len(view._canvas.scene().items()) == items
    assert sys.getrefcount(None) > nones - 50


def test_changes_of_the_curve_set_leave_no_items_behind(qtbot: QtBot, pitch_chart: ChartMaker) -> None:
    view = ChartView()
    qtbot.addWidget(view)
    one, two = pitch_chart(roles=("candidate",)), pitch_chart()
    view.set_chart(one)
    items = len(view._canvas.scene().items())
    for _ in range(50):
        view.set_chart(two)
        view.set_chart(one)
    assert len(view._canvas.scene().items()) == items
