"""The page of the studies for the tests: opened on a sample, with small studies."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from pytestqt.qtbot import QtBot

from models.project import Project, load, set_study
from models.studies import Workers, this_thread
from tests.screen import show
from workbench.document import Document
from workbench.pages.studies import StudiesPage
from workbench.pages.studies.definition import new_study, remade
from workbench.runner import Runner

__all__ = ["LONG", "PROJECT", "opened", "run", "small"]

PROJECT = load(Path(__file__).parents[1] / "sample_projects" / "large_saloon.corduroy")
LONG = 20_000  # ms


def opened(
    qtbot: QtBot,
    runner: Runner,
    project: Project = PROJECT,
    open_workers: Callable[[], Workers] = this_thread,
) -> tuple[StudiesPage, Document]:
    document = Document(project)
    page = StudiesPage(document, runner, open_workers=open_workers)
    qtbot.addWidget(page)
    page.resize(1000, 650)
    show(qtbot, page)
    return page, document


def small(kind: str) -> Project:
    fewer = {
        "sweep": {"points": 9},
        "map": {"x_points": 5, "y_points": 4},
        "tolerances": {"draws": 40, "exact_draws": 10},
        "pareto": {"population": 12, "generations": 3, "within_targets": False},
        "tuned start": {"starts": 8},
        "global sensitivity": {"samples": 8},
    }
    return set_study(PROJECT, remade(new_study(PROJECT, kind), **fewer.get(kind, {})))


def run(qtbot: QtBot, page: StudiesPage) -> None:
    with qtbot.waitSignal(page.runs.ended, timeout=LONG):
        page.bar.start.click()
    with qtbot.waitSignal(page.results.shown, timeout=LONG):
        page.results.choose(-1)
