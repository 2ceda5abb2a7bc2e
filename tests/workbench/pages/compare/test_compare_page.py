"""The page of the comparison: choice of the two, what differs, copies, charts, further variants."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QComboBox
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.project import Project, Variant, add_variant, new_project, set_candidate
from models.run import Run
from models.units import INCH_POUND
from models.vehicle import Vehicle
from workbench.cursor import TimeCursor
from workbench.document import Document
from workbench.pages.compare import ComparePage
from workbench.pages.compare.parameters import BASELINE, CANDIDATE, CHANGE, NAME, TO_BASELINE, TO_CANDIDATE
from workbench.runner import Runner
from workbench.settings import Settings
from workbench.theme import DARK

LEFT = Qt.MouseButton.LeftButton
RATE = ("rear", "spring", "rate")


def project() -> Project:
    soft = replaced(replaced(Vehicle(), RATE, 18e3), ("wheelbase",), 3.0)
    made = new_project(Variant(name="plain"))
    for name, vehicle in (("soft", soft), ("stiff", replaced(Vehicle(), RATE, 45e3)), ("copy", Vehicle())):
        made = add_variant(made, Variant(name=name, vehicle=vehicle))
    return set_candidate(replaced(made, ("run",), Run(duration=0.5, laws="linear")), "soft")


class Bench:
    def __init__(self, qtbot: QtBot, settings: Settings) -> None:
        self.qtbot = qtbot
        self.document = Document(project())
        self.runner = Runner()
        self.page = ComparePage(self.document, self.runner, TimeCursor(), settings)
        qtbot.addWidget(self.page)
        self.page.resize(1100, 650)
        self.refusals: list[str] = []
        self.page.refused.connect(self.refusals.append)
        self.document.changed.connect(self.show_results)

    def analysis(self, name: str) -> Analysis:
        opened = self.document.project
        return analyse(opened.variant(name).vehicle, opened.run, opened.load)

    def show_results(self) -> None:
        opened = self.document.project
        own, other = (opened.variant(name).vehicle for name in (opened.candidate, opened.baseline))
        baseline = None if own == other else self.analysis(opened.baseline)
        self.page.show_results(self.analysis(opened.candidate), baseline, (opened.candidate, opened.baseline))

    def text(self, row: int, column: int) -> str:
        return self.page.parameters.cells.item(row, column).text()

    def click(
        self, row: int, column: int, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier
    ) -> None:
        table = self.page.parameters
        where = table.visualRect(table.cells.index(row, column)).center()
        self.qtbot.mouseClick(table.viewport(), LEFT, keys, pos=where)

    def choose(self, combo: QComboBox, name: str) -> None:
        combo.setFocus()
        self.qtbot.keyClicks(combo, name)
        assert combo.currentText() == name
        combo.activated.emit(combo.currentIndex())

    def rate(self, name: str) -> float:
        return self.document.project.variant(name).vehicle.rear.spring.rate


@pytest.fixture
def bench(qtbot: QtBot, tmp_path: Path) -> Iterator[Bench]:
    made = Bench(qtbot, Settings(str(tmp_path / "settings.ini")))
    made.page.show()
    made.show_results()
    yield made
    made.runner.stop()


def test_parameters_that_differ_with_both_values_and_the_difference(bench: Bench) -> None:
    assert bench.page.tabs.tabText(0) == "What differs (2)"
    assert bench.text(0, 0) == "Wheelbase"
    assert bench.text(1, 0) == "Rear axle › Springs › Spring rate"
    base = Vehicle().rear.spring.rate / 1e3
    assert bench.text(1, CANDIDATE) == "18 N/mm"
    assert bench.text(1, BASELINE) == f"{base:g} N/mm"
    assert bench.text(1, CHANGE).startswith(f"−{base - 18:g} N/mm (−")
    bench.page.set_units(INCH_POUND)
    assert "lbf/in" in bench.text(1, CANDIDATE)


def test_an_arrow_copies_a_value_to_the_candidate_and_it_is_undone(bench: Bench) -> None:
    bench.click(1, TO_CANDIDATE)
    assert bench.rate("soft") == Vehicle().rear.spring.rate
    assert bench.page.parameters.cells.rowCount() == 1
    assert bench.document.undo_stack.undoText() == "copy of Spring rate to soft"
    bench.document.undo_stack.undo()
    assert bench.rate("soft") == 18e3
    assert bench.page.parameters.cells.rowCount() == 2


def test_an_arrow_copies_a_value_to_the_baseline(bench: Bench) -> None:
    bench.click(1, TO_BASELINE)
    assert bench.rate("plain") == 18e3
    assert bench.rate("soft") == 18e3


def test_selected_rows_are_copied_as_one_edit(bench: Bench) -> None:
    assert not bench.page.to_candidate.isEnabled()
    bench.click(0, 0)
    bench.click(1, 0, Qt.KeyboardModifier.ControlModifier)
    bench.qtbot.mouseClick(bench.page.to_candidate, LEFT)
    assert bench.document.project.variant("soft").vehicle == Vehicle()
    assert bench.page.message.text() == "No parameter differs between these two variants."
    bench.document.undo_stack.undo()
    assert bench.page.parameters.cells.rowCount() == 2


def test_a_copy_that_does_not_go_together_is_refused(bench: Bench) -> None:
    long = replaced(replaced(Vehicle(), ("wheelbase",), 4.0), ("body", "cg_to_front_axle"), 2.95)
    bench.document.edit(("variants", 1, "vehicle"), long)
    row = next(n for n in range(2) if bench.text(n, 0) != "Wheelbase")
    bench.click(row, TO_BASELINE)
    assert "less than the wheelbase" in bench.refusals[0]
    assert bench.document.project.variant("plain").vehicle == Vehicle()


def test_the_two_variants_are_chosen_and_swapped(bench: Bench) -> None:
    bench.choose(bench.page.baseline, "stiff")
    assert bench.document.project.baseline == "stiff"
    bench.qtbot.mouseClick(bench.page.swap, LEFT)
    assert (bench.document.project.candidate, bench.document.project.baseline) == ("stiff", "soft")
    assert bench.page.candidate.currentText() == "stiff"
    bench.choose(bench.page.candidate, "soft")
    assert "same variant" in bench.page.message.text()
    bench.document.undo_stack.undo()
    assert bench.page.candidate.currentText() == "stiff"


def test_charts_show_difference_and_ratio(bench: Bench) -> None:
    less, ratio = bench.page.charts()
    own, other = bench.analysis("soft"), bench.analysis("plain")
    np.testing.assert_array_equal(less.curves[0].y, own.time.channel("pitch") - other.time.channel("pitch"))
    np.testing.assert_allclose(ratio.curves[0].y, own.ride.channel("pitch") / other.ride.channel("pitch"))
    assert less.curves[0].name == "soft − plain"


def test_further_variants_are_drawn_behind(bench: Bench) -> None:
    bench.page.panels[0].set_choice("time-pitch")
    actions = {action.text(): action for action in bench.page._others_menu.actions()}
    assert list(actions) == ["stiff", "copy"]
    with bench.qtbot.waitSignal(bench.page.others.ready):
        actions["stiff"].trigger()
    chart = bench.page.panels[0].chart
    assert chart is not None
    assert [(curve.variant, curve.role) for curve in chart.curves] == [
        ("stiff", "other"),
        ("plain", "baseline"),
        ("soft", "candidate"),
    ]
    np.testing.assert_array_equal(chart.curves[0].y, bench.analysis("stiff").time.channel("pitch"))
    with bench.qtbot.waitSignal(bench.page.others.ready):
        actions["stiff"].trigger()
    chart = bench.page.panels[0].chart
    assert chart is not None
    assert len(chart.curves) == 2


def test_a_further_variant_follows_its_edits(bench: Bench) -> None:
    bench.page.panels[0].set_choice("time-pitch")
    with bench.qtbot.waitSignal(bench.page.others.ready):
        bench.page._others_menu.actions()[0].trigger()
    with bench.qtbot.waitSignal(bench.page.others.ready):
        bench.document.edit(("variants", 2, "vehicle", *RATE), 60e3)
    chart = bench.page.panels[0].chart
    assert chart is not None
    np.testing.assert_array_equal(chart.curves[0].y, bench.analysis("stiff").time.channel("pitch"))


def test_key_figures_are_in_their_tab(bench: Bench) -> None:
    assert bench.page.figures.model.rowCount() == 0
    bench.page.tabs.setCurrentIndex(1)
    model = bench.page.figures.model
    row = next(n for n in range(model.rowCount()) if model.item(n, 0).text() == "RMS pitch angle")
    assert model.item(row, 4).text().endswith("%")


def test_hidden_page_does_nothing_until_it_is_shown(qtbot: QtBot, tmp_path: Path) -> None:
    made = Bench(qtbot, Settings(str(tmp_path / "settings.ini")))
    made.show_results()
    assert made.page.parameters.cells.rowCount() == 0
    assert not made.page.charts()
    made.page.set_theme(DARK)
    made.page.show()
    assert made.page.parameters.cells.rowCount() == 2
    assert len(made.page.charts()) == 2


@pytest.mark.parametrize("width", [640, 780, 1100])
def test_names_of_the_parameters_have_room_at_every_width(bench: Bench, width: int) -> None:
    bench.page.resize(width, 500)
    table = bench.page.parameters
    assert table.horizontalScrollBar().maximum() == 0
    assert table.columnWidth(NAME) >= table.fontMetrics().horizontalAdvance("Rear axle › Dampers › Jounce")
    assert table.rowHeight(0) < 2 * table.fontMetrics().height()
    table_place, chart_place = (
        widget.mapTo(bench.page, QPoint()) for widget in (table, bench.page.panels[0])
    )
    beside = width >= 1000
    assert (chart_place.x() > table_place.x() + 200) == beside
    assert (chart_place.y() > table_place.y() + 100) == (not beside)
