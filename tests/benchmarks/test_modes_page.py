"""Time to refresh the page of the modes in a drag; run with --benchmark-only in a real window (xvfb-run)."""

from __future__ import annotations

from itertools import cycle

from pytest_benchmark.fixture import BenchmarkFixture
from pytestqt.qtbot import QtBot

from models.analysis import analyse
from models.fields import replaced
from models.project import new_project
from models.run import Run
from models.vehicle import Side, TorsionCoupling, Vehicle
from tests.benchmarks.limits import on_time
from workbench.document import Document
from workbench.pages.modes import ModesPage
from workbench.runner import Runner


def test_refresh(qtbot: QtBot, benchmark: BenchmarkFixture) -> None:
    """Target: median 1 ms, as it comes on top of the frame of a drag."""
    page = ModesPage(Document(new_project()), Runner())
    qtbot.addWidget(page)
    page.resize(900, 600)
    with qtbot.waitExposed(page):
        page.show()
    run = Run(duration=0.5)
    rate = ("left", "coupling", "bar_rate")
    joined = replaced(Vehicle(), ("left",), Side(coupling=TorsionCoupling(bar_rate=500.0)))
    cars = cycle([analyse(replaced(joined, rate, 500.0 + 50 * n), run, compiled=False) for n in range(10)])
    baseline = analyse(Vehicle(), run, compiled=False)
    benchmark(lambda: page.show_results(next(cars), baseline))
    on_time("page of the modes", benchmark.stats.stats.median, 1e-3)
