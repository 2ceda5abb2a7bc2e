"""Time of one repaint of the stage at 1600×300; run with --benchmark-only."""

from __future__ import annotations

from itertools import cycle
from typing import Any

import pytest
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from models.analysis import analyse
from models.roads import OneMinusCosine, RandomRoad
from models.run import Run
from models.vehicle import Axle, Side, Spring, TorsionCoupling, TrimSpring, Vehicle
from workbench.cursor import TimeCursor
from workbench.stage import StageView


@pytest.mark.parametrize("event", [OneMinusCosine(), RandomRoad()], ids=lambda event: event.kind)
def test_repaint(qtbot: QtBot, benchmark: Any, event: object) -> None:
    soft = Axle(spring=Spring(rate=0.0))
    side = Side(coupling=TorsionCoupling(bar_rate=1100.0), trim=TrimSpring(bar_rate=250.0))
    run = Run.model_validate({"event": event})
    view, cursor = StageView(), TimeCursor()
    qtbot.addWidget(view)
    view.resize(1600, 300)
    cursor.set_duration(run.duration)
    view.set_cursor(cursor)
    view.set_analyses(analyse(Vehicle(front=soft, rear=soft, left=side), run), analyse(Vehicle(), run))
    image = QImage(1600, 300, QImage.Format.Format_RGB32)
    places = cycle([0.2 + 0.004 * number for number in range(200)])

    def repaint() -> None:
        cursor.move_to(next(places))
        view.render(image)

    benchmark(repaint)
