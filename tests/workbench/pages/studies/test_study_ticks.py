"""Numbers ticked in the editor of the car are those of the chosen study, both ways."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QApplication, QMenu
from pytestqt.qtbot import QtBot

from models.project import set_study
from models.study import Sensitivity, Sweep
from tests.study_page import PROJECT
from workbench.document import Document
from workbench.editor.choice_row import ChoiceRow
from workbench.editor.quantity_row import QuantityRow
from workbench.pages.studies.definition import new_study, varied
from workbench.settings import Settings
from workbench.window.main_window import MainWindow

FRONT, MASS = "front.spring.rate", "body.mass"


@pytest.fixture(scope="module")
def one_window(qapp: QApplication, tmp_path_factory: pytest.TempPathFactory) -> Iterator[MainWindow]:
    """For all tests, as a window takes a second to make."""
    window = MainWindow(PROJECT, Settings(str(tmp_path_factory.mktemp("settings") / "settings.ini")))
    window.show()
    yield window
    window.document.undo_stack.setClean()
    window.close()
    window.deleteLater()


@pytest.fixture
def window(one_window: MainWindow) -> Iterator[MainWindow]:
    yield one_window
    one_window.editor.set_ticking(False)
    one_window.pages.setCurrentIndex(0)
    one_window.document.open(PROJECT, None)


def places(document: Document) -> list[str]:
    return list(varied(document.project.studies[0])) if document.project.studies else []


def row_at(window: MainWindow, place: str) -> QuantityRow:
    row = window.editor.form.row(*place.split("."))
    assert isinstance(row, QuantityRow)
    return row


def ticked(window: MainWindow, place: str) -> bool:
    tick = row_at(window, place).tick
    assert tick is not None
    return tick.isChecked()


def begin_ticking(qtbot: QtBot, window: MainWindow) -> None:
    with qtbot.waitSignal(window.editor._ticks.settled):
        window.editor.set_ticking(True)


def test_ticks_begin_a_study_and_follow_it_back_through_undo(qtbot: QtBot, window: MainWindow) -> None:
    document, page = window.document, window.pages.studies
    assert row_at(window, MASS).tick is None  # nothing per row until it is wanted
    begin_ticking(qtbot, window)
    tick = row_at(window, MASS).tick
    assert tick is not None
    assert tick.accessibleName() == "Study Sprung mass"
    assert tick in window.editor.form.tab_stops()
    for place in (MASS, FRONT):
        tick = row_at(window, place).tick
        assert tick is not None
        tick.setFocus()
        qtbot.keyClick(tick, Qt.Key.Key_Space)  # type: ignore[no-untyped-call]
    assert isinstance(document.project.studies[0], Sensitivity)
    assert places(document) == [MASS, FRONT]
    at_hand = [row for entry in window.editor.at_hand.entries for row in entry.rows()]
    ticks = {".".join(map(str, row.path)): row.tick for row in at_hand if isinstance(row, QuantityRow)}
    assert {place for place, one in ticks.items() if one is not None and one.isChecked()} == {FRONT}
    document.undo_stack.undo()
    assert (ticked(window, MASS), ticked(window, FRONT)) == (True, False)
    page.tick_number("rear.spring.rate", True)  # as on the page
    assert ticked(window, "rear.spring.rate")
    page.tick_number(MASS, False)
    assert not ticked(window, MASS)
    window.editor.set_ticking(False)
    assert row_at(window, MASS).tick is None


def test_another_study_has_other_ticks_and_a_refused_one_jumps_back(qtbot: QtBot, window: MainWindow) -> None:
    sweep = new_study(PROJECT, "sweep", (FRONT,))
    several = new_study(PROJECT, "pareto", (MASS, FRONT))
    window.document.apply("studies", set_study(set_study(PROJECT, several), sweep))
    begin_ticking(qtbot, window)
    assert (ticked(window, FRONT), ticked(window, MASS)) == (True, False)
    assert "“Sweep”, which varies one" in window.editor.ticking_hint.text()
    steps = window.document.undo_stack.count()
    tick = row_at(window, FRONT).tick
    assert tick is not None
    tick.click()
    assert ticked(window, FRONT)
    assert window.document.undo_stack.count() == steps
    assert "varies one number" in window.notice.text.text()
    window.pages.studies.choose(several.name)
    assert (ticked(window, FRONT), ticked(window, MASS)) == (True, True)


def test_rows_that_come_while_ticking_have_ticks(qtbot: QtBot, window: MainWindow) -> None:
    begin_ticking(qtbot, window)
    choice = window.editor.form.row("body", "pitch_inertia")
    assert isinstance(choice, ChoiceRow)
    choice.chosen("dynamic index")
    rows = [row for row in window.editor.form.rows() if isinstance(row, QuantityRow)]
    new = next(row for row in rows if row.path[:2] == ("body", "pitch_inertia"))
    assert new.label == "Dynamic index"
    assert all(row.tick is not None for row in rows)


def test_the_menu_of_a_row_studies_its_number(qtbot: QtBot, window: MainWindow) -> None:
    row = row_at(window, MASS)
    place = QPoint(4, 4)
    QApplication.sendEvent(
        row, QContextMenuEvent(QContextMenuEvent.Reason.Mouse, place, row.mapToGlobal(place))
    )
    menu = next(one for one in QApplication.topLevelWidgets() if isinstance(one, QMenu) and one.isVisible())
    action = next(one for one in menu.actions() if one.text() == "Study this parameter")
    assert not action.isChecked()
    action.trigger()
    menu.close()
    assert window.pages.currentWidget() is window.pages.studies
    study = window.document.project.studies[0]
    assert isinstance(study, Sweep)
    assert study.parameter.place == MASS


def test_a_number_that_the_studied_car_has_not_is_refused(qtbot: QtBot, window: MainWindow) -> None:
    study = new_study(PROJECT, "sensitivity", (MASS,))
    window.document.apply("study", set_study(PROJECT, study))
    window.pages.studies.tick_number("body.nothing", True)
    assert "no such number" in window.notice.text.text()
    assert places(window.document) == list(varied(study))
