"""Studies while the project around them changes: targets, variants, undo, other files."""

from __future__ import annotations

from pathlib import Path
from threading import Event

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from models.analysis import analyse
from models.judge import key_figures
from models.project import Project, remove_variant, set_study, set_target
from models.studies import load_result, run_study
from models.study import TunedStart
from models.target import made
from tests.study_page import LONG, PROJECT, opened, run, small
from workbench.pages.studies import study_runs
from workbench.pages.studies.definition import new_study, remade
from workbench.runner import Runner

FAR = made("front_ride_frequency", "frequency", (5.0, 6.0))


def on_variant(name: str) -> Project:
    project = small("sweep")
    return set_study(project, remade(project.studies[0], variant=name))


def test_a_yield_is_judged_by_the_targets_as_they_stand(qtbot: QtBot, runner: Runner) -> None:
    page, document = opened(qtbot, runner, set_target(small("tolerances"), FAR))
    run(qtbot, page)
    assert page.results.words.text().startswith("0 % of 40 cars")
    project = document.project
    document.apply("targets", remade(project, targets=(made("pitch_share", "ratio", (None, 9.0)),)))
    qtbot.waitUntil(lambda: page.results.words.text().startswith("100 % of 40 cars"), timeout=LONG)
    assert "Stale" not in page.note.text()


def test_undoing_results_takes_them_off_the_page_and_redoing_brings_them_back(
    qtbot: QtBot, runner: Runner
) -> None:
    page, document = opened(qtbot, runner, small("sweep"))
    run(qtbot, page)
    document.undo_stack.undo()
    qtbot.waitUntil(page.results.empty.isVisible, timeout=LONG)
    assert not page.charts()
    document.undo_stack.redo()
    qtbot.waitUntil(lambda: bool(page.charts()), timeout=LONG)


def test_the_results_of_a_closed_project_go_into_no_other_one(
    qtbot: QtBot, runner: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other one has a study of the same name."""
    project = small("tolerances")
    page, document = opened(qtbot, runner, project)

    other_is_open = Event()

    def late(*arguments: object, **others: object) -> object:
        assert other_is_open.wait(LONG)
        return run_study(*arguments, **others)  # type: ignore[arg-type]

    monkeypatch.setattr(study_runs, "run_study", late)
    with qtbot.waitSignal(page.runs.started, timeout=LONG):
        page.bar.start.click()
    with qtbot.waitSignal(page.runs.ended, timeout=LONG) as ended:
        document.open(project, None)
        other_is_open.set()
    assert ended.args == [None, None, ""]
    assert document.project.studies[0].result is None
    assert page.bar.start.isVisible()


def test_a_study_that_ends_after_save_as_lies_beside_the_new_file(
    qtbot: QtBot, runner: Runner, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    page, document = opened(qtbot, runner, small("sweep"))

    def saving(*arguments: object, **others: object) -> object:
        document.saved(tmp_path / "other.corduroy")
        return run_study(*arguments, **others)  # type: ignore[arg-type]

    monkeypatch.setattr(study_runs, "run_study", saving)
    run(qtbot, page)
    kept = document.project.studies[0].result
    assert kept is not None
    assert load_result(tmp_path / "other.studies" / kept.file, kept).finished


def test_a_study_whose_car_is_removed_says_so(qtbot: QtBot, runner: Runner) -> None:
    name = next(one for one in PROJECT.names if one not in (PROJECT.candidate, PROJECT.baseline))
    page, document = opened(qtbot, runner, on_variant(name))
    qtbot.waitUntil(lambda: "9 cars" in page.bar.cost.text(), timeout=LONG)
    document.apply("removal", remove_variant(document.project, name))
    qtbot.waitUntil(lambda: f"'{name}' is no variant of the project" in page.bar.cost.text(), timeout=LONG)
    assert page.definition.variant.currentText() == f"{name} (missing)"
    assert not page.bar.start.isEnabled()
    page.tick_number("wheelbase", True)
    assert "no variant" in page.bar.message.text()
    document.undo_stack.undo()
    qtbot.waitUntil(page.bar.start.isEnabled, timeout=LONG)


def test_a_renamed_study_goes_on_from_its_results(
    qtbot: QtBot, runner: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    page, _ = opened(qtbot, runner, small("sweep"))
    run(qtbot, page)
    page.chosen.rename("Other")
    earlier = []

    def noted(*arguments: object, **others: object) -> object:
        earlier.append(others["earlier"])
        return run_study(*arguments, **others)  # type: ignore[arg-type]

    monkeypatch.setattr(study_runs, "run_study", noted)
    run(qtbot, page)
    assert earlier[0] is not None
    assert earlier[0].finished


def test_a_wish_begins_from_the_car_of_the_study(qtbot: QtBot, runner: Runner) -> None:
    """And not from the candidate, where that is another one."""
    name = next(one for one in PROJECT.names if one != PROJECT.candidate)
    study = remade(new_study(PROJECT, "tuned start"), variant=name)
    page, document = opened(qtbot, runner, set_study(PROJECT, study))
    page.definition.figures.rows["pitch_share"].setCheckState(0, Qt.CheckState.Checked)
    after = document.project.studies[0]
    assert isinstance(after, TunedStart)
    figures = key_figures(analyse(PROJECT.variant(name).vehicle, PROJECT.run, PROJECT.load))
    now = next(figure.value for figure in figures if figure.key == "pitch_share")
    assert after.wishes[-1].high == pytest.approx(now, rel=1e-6)
