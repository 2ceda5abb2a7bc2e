"""The line on the quality of the run: numbers, then words where they matter, found after a drag."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.run import Run
from models.vehicle import Axle, DamperPoint, TabulatedDamper, Vehicle
from workbench.runner import Runner
from workbench.theme import DARK, LIGHT
from workbench.window.run_quality import RunQualityLine

RUN = Run(duration=0.6)
SHORT = TabulatedDamper(
    points=tuple(DamperPoint(speed=v, force=f) for v, f in ((-0.02, -60), (0, 0), (0.02, 40)))
)


@pytest.fixture(scope="module")
def good() -> Analysis:
    return analyse(Vehicle(), RUN)


@pytest.fixture(scope="module")
def past_its_curve() -> Analysis:
    return analyse(Vehicle(front=Axle(damper=SHORT)), RUN)


@pytest.fixture
def line(qtbot: QtBot) -> Iterator[RunQualityLine]:
    runner = Runner()
    line = RunQualityLine(runner)
    qtbot.addWidget(line)
    line.resize(900, 20)
    line.show()
    yield line
    runner.stop()


def test_numbers_first_the_step_when_it_is_known(line: RunQualityLine, good: Analysis, qtbot: QtBot) -> None:
    with qtbot.waitSignal(line.audited):
        line.show_results(good, None)
        assert line.text().startswith("nonlinear · energy ")
        assert "step …" in line.text()
    assert "…" not in line.text()
    assert line.text().split(" · ")[-1] == "laws 0"
    assert LIGHT.faint in line.styleSheet()
    assert "Energy: work of the road" in line.toolTip()


def test_a_newer_result_makes_the_older_audit_stale(
    line: RunQualityLine, good: Analysis, qtbot: QtBot
) -> None:
    other = analyse(replaced(Vehicle(), ("front", "spring", "rate"), 30e3), RUN)
    with qtbot.waitSignal(line.audited):
        line.show_results(good, None)
        line.show_results(other, None)
    assert list(line._steps) == [other]


def test_the_baseline_is_audited_once(line: RunQualityLine, good: Analysis, qtbot: QtBot) -> None:
    first, second = (replace(good) for _ in range(2))
    with qtbot.waitSignal(line.audited):
        line.show_results(first, good)
    known = line._steps[good]
    with qtbot.waitSignal(line.audited):
        line.show_results(second, good)
    assert line._steps[good] is known
    assert set(line._steps) == {second, good}


def test_warnings_of_both_runs_in_words_and_colour(
    line: RunQualityLine, good: Analysis, past_its_curve: Analysis
) -> None:
    line.set_theme(DARK)
    line.show_results(past_its_curve, None)
    assert "Past the end of its curve, where that goes on straight: front left damper" in line.whole_text
    assert DARK.mark in line.styleSheet()
    line.show_results(good, past_its_curve, ("Soft", "<b>Firm</b>"))
    assert "<b>Firm</b>: Past the end of its curve" in line.whole_text
    assert "&lt;b&gt;Firm" in line.toolTip()
    assert DARK.mark in line.styleSheet()
    line.show_results(good, None)
    assert DARK.faint in line.styleSheet()


def test_a_narrow_line_is_cut_but_told_whole(line: RunQualityLine, past_its_curve: Analysis) -> None:
    line.resize(150, 20)
    line.show_results(past_its_curve, None)
    assert line.text().endswith("…")
    assert line.fontMetrics().horizontalAdvance(line.text()) <= 150
    assert "goes on straight" in line.accessibleDescription()


def test_linear_on_wish_is_no_warning(line: RunQualityLine, good: Analysis) -> None:
    line.show_results(analyse(Vehicle(), replaced(RUN, ("laws",), "linear")), None)
    assert line.text() == "linear"
    assert LIGHT.faint in line.styleSheet()
    line.show_results(analyse(Vehicle(), RUN, compiled=False), None)
    assert line.text() == "linear  Linear only, until the nonlinear run is ready."
    assert LIGHT.mark in line.styleSheet()
