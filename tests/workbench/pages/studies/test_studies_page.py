"""The page of the studies in the hands of its user."""

from __future__ import annotations

import gc
import time
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt, QTimer
from pytestqt.qtbot import QtBot

from models.project import set_study
from models.studies import load_result, local_workers
from models.study import Parameter, ParetoSearch, Situation, Sweep, TunedStart
from tests.study_page import LONG, PROJECT, opened, run, small
from workbench.app import settle_memory
from workbench.pages.studies.definition import KINDS_OF_STUDY, new_study, remade, varied
from workbench.pages.studies.number_tree import FROM, NAME, TO
from workbench.runner import Runner


@pytest.mark.parametrize("kind", [key for key, _, _ in KINDS_OF_STUDY])
def test_each_kind_runs_and_is_kept_by_one_edit(qtbot: QtBot, runner: Runner, state: Path, kind: str) -> None:
    page, document = opened(qtbot, runner, small(kind))
    run(qtbot, page)
    assert document.undo_stack.count() == 1
    study = document.project.studies[0]
    assert study.result is not None
    kept = load_result(state / "studies" / study.result.file, study.result)
    assert kept.finished
    assert page.results.result is not None
    assert np.array_equal(kept.columns.values, page.results.result.columns.values, equal_nan=True)
    assert bool(page.charts()) == (kind != "tuned start")
    assert "not saved yet" in page.note.text()
    document.undo_stack.undo()
    assert document.project.studies[0].result is None


def test_studies_are_added_duplicated_renamed_and_removed_by_one_edit_each(
    qtbot: QtBot, runner: Runner
) -> None:
    page, document = opened(qtbot, runner)
    assert page.empty.isVisible()
    page.chosen.add("sweep")
    page.list.duplicate.click()
    page.definition.title.setText("Softer")
    page.definition.title.editingFinished.emit()
    assert [study.name for study in document.project.studies] == ["Sweep", "Softer"]
    page.list.remove.click()
    assert [study.name for study in document.project.studies] == ["Sweep"]
    assert document.undo_stack.count() == 4
    document.undo_stack.undo()
    assert [page.list.choice.itemText(row) for row in range(page.list.choice.count())] == ["Sweep", "Softer"]


def test_numbers_are_ticked_with_bounds_around_the_present_value(qtbot: QtBot, runner: Runner) -> None:
    page, document = opened(qtbot, runner)
    page.chosen.add("pareto")
    page.definition.numbers.search.setText("pitch inertia")
    row = page.definition.numbers.rows["body.pitch_inertia.value"]
    assert not row.isHidden()
    assert page.definition.numbers.rows["wheelbase"].isHidden()
    row.setCheckState(NAME, Qt.CheckState.Checked)
    study = document.project.studies[0]
    entry = varied(study)["body.pitch_inertia.value"]
    assert isinstance(entry, Parameter)
    assert (entry.low, entry.high) == pytest.approx((0.7 * 2950, 1.3 * 2950))
    row.setText(FROM, "2500")
    after = varied(document.project.studies[0])["body.pitch_inertia.value"]
    assert isinstance(after, Parameter)
    assert after.low == 2500
    steps = document.undo_stack.count()
    row.setText(TO, "2000")
    assert document.undo_stack.count() == steps
    fault = page.definition.faults[page.definition.numbers]
    assert fault.isVisible()
    assert "2500.00 kg·m² is outside the allowed range" in fault.text()
    assert row.text(TO) == "3835"
    row.setText(TO, "4000 kg")
    assert "kg·m²" in fault.text()  # says which unit it takes
    row.setText(TO, "4000")
    assert not fault.isVisible()


def test_a_sweep_takes_the_number_ticked_last(qtbot: QtBot, runner: Runner) -> None:
    page, document = opened(qtbot, runner)
    page.chosen.add("sweep")
    page.study_number("wheelbase")
    study = document.project.studies[0]
    assert isinstance(study, Sweep)
    assert study.parameter.place == "wheelbase"
    page.definition.numbers.rows["wheelbase"].setCheckState(NAME, Qt.CheckState.Unchecked)
    assert page.bar.message.isVisible()
    assert page.definition.numbers.rows["wheelbase"].checkState(NAME) == Qt.CheckState.Checked


def test_objectives_wishes_and_situations_are_edited(qtbot: QtBot, runner: Runner) -> None:
    page, document = opened(qtbot, runner)
    page.chosen.add("pareto")
    page.definition.figures.rows["pitch_share"].setCheckState(0, Qt.CheckState.Checked)
    study = document.project.studies[0]
    assert isinstance(study, ParetoSearch)
    assert study.objectives[-1].metric == "pitch_share"
    page.definition.situations.add.click()
    page.definition.situations.rows[1][2].setText("90 km/h")
    page.definition.situations.rows[1][2].editingFinished.emit()
    study = document.project.studies[0]
    assert isinstance(study, ParetoSearch)
    assert study.situations == (Situation(), Situation(speed=25.0))
    page.chosen.add("tuned start")
    row = page.definition.figures.rows["front_ride_frequency"]
    row.setText(1, "1.3 – 1.4")
    tuned = document.project.studies[1]
    assert isinstance(tuned, TunedStart)
    assert (tuned.wishes[0].low, tuned.wishes[0].high) == (1.3, 1.4)


def test_a_point_of_the_front_becomes_the_candidate_by_one_edit(qtbot: QtBot, runner: Runner) -> None:
    page, document = opened(qtbot, runner, small("pareto"))
    run(qtbot, page)
    assert not page.take.isVisible()
    chart = page.charts()[0]
    points = next(curve for curve in chart.curves if curve.variant == "front")
    view = page.results.views[0].view
    with qtbot.waitSignal(page.results.chosen, timeout=LONG):
        view.picked.emit(float(points.x[0]), float(points.y[0]))
    assert page.take.isVisible()
    steps, result = document.undo_stack.count(), page.results.result
    assert result is not None
    page.take.click()
    assert document.undo_stack.count() == steps + 1
    project = document.project
    assert project.variant(project.candidate).vehicle == result.car(page.results.row)


def test_results_are_stale_after_an_edit_of_the_car(qtbot: QtBot, runner: Runner) -> None:
    page, document = opened(qtbot, runner, small("sweep"))
    run(qtbot, page)
    document.edit((*document.candidate_path(), "body", "mass"), 1500.0)
    qtbot.waitUntil(lambda: "Stale" in page.note.text(), timeout=LONG)
    document.undo_stack.undo()
    qtbot.waitUntil(lambda: "Stale" not in page.note.text(), timeout=LONG)


def test_the_cost_is_told_before_the_start(qtbot: QtBot, runner: Runner) -> None:
    page, _ = opened(qtbot, runner, small("map"))
    qtbot.waitUntil(lambda: page.bar.cost.text().startswith("20 cars, about"), timeout=LONG)


def test_stop_keeps_what_came(qtbot: QtBot, runner: Runner) -> None:
    study = remade(new_study(PROJECT, "tolerances"), draws=100_000, exact_draws=0)
    page, document = opened(qtbot, runner, set_study(PROJECT, study))
    with qtbot.waitSignal(page.runs.told, timeout=LONG):
        page.bar.start.click()
    start = time.monotonic()
    with qtbot.waitSignal(page.runs.ended, timeout=LONG):
        page.bar.stop.click()
    assert time.monotonic() - start < 2.0  # a tenth of a second, and a file written on a busy machine
    qtbot.waitUntil(lambda: page.bar.start.text() == "Go on", timeout=LONG)
    assert "what came is kept" in page.note.text()
    assert document.project.studies[0].result is not None


def test_the_window_lives_on_while_a_study_runs(qtbot: QtBot, runner: Runner) -> None:
    """The heart of the GUI thread beats through hundreds of cars in processes of their own, their charts and
    the keeping of their results."""
    study = remade(new_study(PROJECT, "pareto"), population=60, generations=20, within_targets=False)
    page, _ = opened(qtbot, runner, set_study(PROJECT, study), open_workers=local_workers)
    # By then what is compiled at first use is there.
    qtbot.waitUntil(lambda: page.bar.cost.text().startswith("1,200 cars"), timeout=LONG)
    beats: list[tuple[float, float]] = []
    heart = QTimer()
    heart.setTimerType(Qt.TimerType.PreciseTimer)
    heart.timeout.connect(lambda: beats.append((time.perf_counter(), time.thread_time())))
    settle_memory()  # as the program does at its start
    heart.start(2)
    run(qtbot, page)
    heart.stop()
    gc.unfreeze()
    page.runs.close()
    gaps, busy = 1e3 * np.diff(beats, axis=0).T
    for name, found in (("gaps", gaps), ("busy between beats", busy)):
        shares = ", ".join(f"{q} %: {np.percentile(found, q):.1f}" for q in (50, 95, 99, 100))
        print(f"\nheartbeat of {len(beats)} beats, {name} in ms by share: {shares}")
    assert len(beats) > 50
    # Nothing that this thread does takes longer than a frame, by its own clock; where other programs share
    # caches and cores that clock runs fast now and then.
    assert (busy > 16).sum() <= 2
    assert busy.max() <= 32
    # Nor does it wait for another thread; others may keep it from a core for slices of some ten milliseconds,
    # so the clock on the wall has leave to be late.
    assert np.median(gaps) <= 16
    assert np.percentile(gaps, 95) < 50
