"""The page of the load cases: live rows, words, choice by click, and cars that do not stand."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.judge.statics import load_case_table
from models.project import Project, Variant, add_variant, new_project, set_candidate
from models.units import INCH_POUND, METRIC
from models.vehicle import AS_DESIGNED, Axle, Load, LoadCase, Side, Spring, TorsionCoupling, Vehicle
from workbench.document import Document
from workbench.pages.load_cases import LoadCasesPage
from workbench.pages.load_cases.texts import COLUMNS, LAST, cells
from workbench.runner import Runner
from workbench.theme import DARK, LIGHT

HEAVY = LoadCase(name="boot", loads=(Load(name="luggage", mass=120.0, x=-3.4),))
DRIVER = LoadCase(name="driver", loads=(Load(name="driver", mass=75.0, x=-1.35, y=0.37),))
NOSE, LOW = (
    next(place for place, column in enumerate(COLUMNS) if column[0] == head) for head in ("Nose", "Low side")
)


def project(count: int = 2) -> Project:
    more = tuple(LoadCase(name=f"load {number}") for number in range(count - 2))
    stiff = replaced(Vehicle(), ("rear", "spring", "rate"), 40e3)
    both = add_variant(new_project(), Variant(name="stiff", vehicle=stiff))
    return replaced(set_candidate(both, "stiff"), ("load_cases",), (DRIVER, HEAVY, *more))


class Bench:
    def __init__(self, qtbot: QtBot, opened: Project) -> None:
        self.document, self._qtbot = Document(opened), qtbot
        self.runner = Runner()
        self.page = LoadCasesPage(self.document, self.runner)
        qtbot.addWidget(self.page)
        self.page.resize(1100, 650)
        self.page.set_theme(LIGHT)

    def analysis(self, name: str) -> Analysis:
        opened = self.document.project
        return analyse(opened.variant(name).vehicle, opened.run, opened.load, compiled=False)

    def show(self) -> None:
        opened = self.document.project
        names = opened.candidate, opened.baseline
        self.page.show_results(self.analysis(names[0]), self.analysis(names[1]), names)

    def settle(self) -> None:
        self._qtbot.waitUntil(lambda: self.runner.idle, timeout=5000)

    def text(self, row: int, column: int) -> str:
        return self.page.table.cells.item(row, column).text()

    def faint(self, row: int, column: int) -> str:
        return str(self.page.table.cells.item(row, column).data(Qt.ItemDataRole.UserRole))


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    made = Bench(qtbot, project())
    made.page.show()
    made.show()
    made.settle()
    return made


def test_each_load_case_is_a_row_with_the_baseline_under_it(bench: Bench) -> None:
    opened = bench.document.project
    cases = (AS_DESIGNED, DRIVER, HEAVY)
    for number, (ours, theirs) in enumerate(
        zip(
            load_case_table(opened.variant("stiff").vehicle, cases),
            load_case_table(opened.variant(opened.baseline).vehicle, cases),
            strict=True,
        )
    ):
        assert [bench.text(number, column) for column in range(len(COLUMNS))] == list(cells(ours, METRIC))
        assert [bench.faint(number, column) for column in range(1, len(COLUMNS))] == list(
            cells(theirs, METRIC)
        )[1:]
    assert bench.text(2, NOSE).startswith("up ")
    assert bench.text(1, LOW).startswith("left ")
    assert bench.text(0, LAST) == "yes"


@pytest.mark.parametrize("width", [640, 780])  # middle of a window of 1280 and of 1600 pixels
def test_all_columns_are_in_sight_in_a_narrow_window(bench: Bench, width: int) -> None:
    bench.page.resize(width, 400)
    assert bench.page.table.horizontalScrollBar().maximum() == 0
    assert bench.page.table.columnWidth(LAST) >= bench.page.table.fontMetrics().horizontalAdvance("yes, but")


def test_a_click_chooses_the_load_case(bench: Bench, qtbot: QtBot) -> None:
    table = bench.page.table
    where = table.visualRect(table.cells.index(2, 1)).center()
    qtbot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=where)
    assert bench.document.project.load_case == "boot"
    bench.document.undo_stack.undo()
    assert bench.document.project.load_case == AS_DESIGNED.name
    assert table.currentIndex().row() == 0


def test_rows_follow_the_load_cases_of_the_project(bench: Bench) -> None:
    heavier = replaced(HEAVY, ("loads", 0, "mass"), 200.0)
    before = bench.text(2, 3)
    bench.document.edit(("load_cases",), (DRIVER, heavier, LoadCase(name="fuel")))
    bench.settle()
    assert bench.page.table.cells.rowCount() == 4
    assert bench.text(2, 3) != before
    bench.document.edit(("load_cases",), ())
    assert bench.page.table.cells.rowCount() == 1


def test_units_and_theme(bench: Bench) -> None:
    newtons = float(bench.text(0, 1))
    bench.page.set_units(INCH_POUND)
    assert float(bench.text(0, 1)) == pytest.approx(newtons / 4.4482216, abs=1)
    assert "lbf" in bench.page.table.cells.horizontalHeaderItem(1).text()
    bench.page.set_theme(DARK)
    assert bench.page.table.cells.item(0, 1).data(Qt.ItemDataRole.UserRole + 1) == DARK.candidate


def test_a_car_that_does_not_stand_is_marked_with_the_reason(bench: Bench) -> None:
    bar = Side(coupling=TorsionCoupling(bar_rate=1500.0))
    bare = Axle(spring=Spring(rate=0.0))
    bench.document.edit((*bench.document.candidate_path(), "left"), bar)
    for end in ("front", "rear"):
        bench.document.edit((*bench.document.candidate_path(), end), bare)
    bench.show()
    bench.settle()
    item = bench.page.table.cells.item(0, LAST)
    assert item.text().startswith("no: nothing holds the body in pitch")
    assert item.data(Qt.ItemDataRole.UserRole + 1) == LIGHT.mark
    assert bench.text(0, 1) == "–"
    assert bench.page.remarks.text().startswith("The car does not stand: nothing holds the body in pitch")
    assert bench.page.remarks.isVisible()


def test_a_load_that_no_car_can_have_is_a_row_with_the_reason(bench: Bench) -> None:
    without = LoadCase(name="nothing left", loads=(Load(mass=-2000.0),))
    bench.document.edit(("load_cases",), (without,))
    assert "more than 0 kg" in bench.text(1, LAST)


def test_hidden_page_computes_nothing(qtbot: QtBot) -> None:
    made = Bench(qtbot, project())
    made.show()
    assert made.page.table.cells.rowCount() == 0
    made.page.show()
    made.settle()
    assert made.page.table.cells.rowCount() == 3


def test_many_load_cases_are_computed_off_the_gui_thread(qtbot: QtBot) -> None:
    made = Bench(qtbot, project(count=30))
    made.page.show()
    made.show()
    assert made.page.table.cells.rowCount() == 0
    qtbot.waitUntil(lambda: made.page.table.cells.rowCount() == 31, timeout=5000)


def test_the_editor_of_the_load_cases_has_its_place(bench: Bench) -> None:
    editor = QLabel("editor")
    bench.page.add_editor(editor)
    assert editor.parent() is bench.page
