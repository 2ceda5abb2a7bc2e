"""The page of the scorecard: all variants, targets typed and judged, sorting, filter, copies, curves."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QAbstractItemView, QLineEdit
from pytestqt.qtbot import QtBot

from models.analysis import analyse
from models.fields import replaced
from models.judge import key_figures
from models.judge.mix import MIX_GROUP, MIX_MEANING, road_mix
from models.judge.practice import PRACTICE
from models.project import (
    Project,
    Variant,
    add_load_case,
    add_variant,
    new_project,
    rename_variant,
    set_candidate,
    set_target,
)
from models.roads import RoadShare
from models.run import Run
from models.target import Target
from models.units import INCH_POUND, format_value
from models.vehicle import AS_DESIGNED, Load, LoadCase, Side, TorsionCoupling, Vehicle
from workbench.document import Document
from workbench.pages.scorecard import ScorecardPage
from workbench.runner import Runner
from workbench.theme import DARK, LIGHT

JOINED = Vehicle(left=Side(coupling=TorsionCoupling(bar_rate=1200.0)))
STIFF = replaced(Vehicle(), ("rear", "spring", "rate"), 45e3)
PITCH = Target(metric="rms_pitch", kind="angle", high="0.5 deg")
TARGET, FIRST = 2, 3
LEFT = Qt.MouseButton.LeftButton
TIP = Qt.ItemDataRole.ToolTipRole


def project() -> Project:
    made = new_project(Variant(name="plain"))
    for name, vehicle in (("joined", JOINED), ("stiff", STIFF)):
        made = add_variant(made, Variant(name=name, vehicle=vehicle))
    made = add_load_case(made, LoadCase(name="boot", loads=(Load(mass=150.0, x=-3.2),)))
    return set_candidate(replaced(made, ("run",), Run(duration=0.5, laws="linear")), "joined")


class Bench:
    def __init__(self, qtbot: QtBot, opened: Project) -> None:
        self.qtbot = qtbot
        self.document = Document(opened)
        self.runner = Runner()
        self.page = ScorecardPage(self.document, self.runner)
        self.table = self.page.table
        qtbot.addWidget(self.page)
        self.page.resize(1100, 650)
        self.refusals: list[str] = []
        self.page.refused.connect(self.refusals.append)

    def show(self) -> None:
        with self.qtbot.waitSignal(self.page.shown, timeout=20000):
            self.page.show()

    def settle(self) -> None:
        self.qtbot.waitUntil(lambda: not self.page._missing() and not self.page._due.isActive())

    def number(self, label: str) -> int:
        cells = self.table.cells
        return next(n for n in range(cells.rowCount()) if cells.index(n, 0).data() == label)

    def text(self, label: str, column: int) -> str:
        return self.table.cells.index(self.number(label), column).data()

    def verdict(self, label: str, column: int) -> str:
        return str(self.table.cells.index(self.number(label), column).data(Qt.ItemDataRole.UserRole + 1))

    def labels(self) -> list[str]:
        return [self.table.cells.index(n, 0).data() for n in range(self.table.cells.rowCount())]

    def point(self, label: str, column: int) -> QPoint:
        index = self.table.cells.index(self.number(label), column)
        self.table.scrollTo(index)
        return self.table.visualRect(index).center()

    def click(self, label: str, column: int) -> None:
        self.qtbot.mouseClick(self.table.viewport(), LEFT, pos=self.point(label, column))

    def type_target(self, label: str, text: str) -> None:
        """Double click, type, Enter."""
        where = self.point(label, TARGET)
        self.qtbot.mouseClick(self.table.viewport(), LEFT, pos=where)
        self.qtbot.mouseDClick(self.table.viewport(), LEFT, pos=where)
        # The editor of the edit before may be waiting for its deletion.
        editors = self.table.viewport().findChildren(QLineEdit)
        (editor,) = (one for one in editors if one.isVisible())
        editor.selectAll()
        if text:
            self.qtbot.keyClicks(editor, text)
        else:
            self.qtbot.keyClick(editor, Qt.Key.Key_Delete)
        self.qtbot.keyClick(editor, Qt.Key.Key_Return)
        editing = QAbstractItemView.State.EditingState
        self.qtbot.waitUntil(lambda: self.table.state() != editing)  # Qt commits in the next turn

    def header(self, column: int) -> None:
        head = self.table.horizontalHeader()
        place = QPoint(head.sectionViewportPosition(column) + 5, head.height() // 2)
        self.qtbot.mouseClick(head.viewport(), LEFT, pos=place)


@pytest.fixture
def bench(qtbot: QtBot) -> Iterator[Bench]:
    made = Bench(qtbot, project())
    made.show()
    yield made
    made.runner.stop()


def test_the_page_says_that_it_computes_where_there_are_no_targets(qtbot: QtBot) -> None:
    made = Bench(qtbot, project())
    with qtbot.waitSignal(made.page.shown, timeout=20000):
        made.page.show()
        assert made.page.count.isVisible()
        assert made.page.count.text() == "Computing…"
    qtbot.waitUntil(lambda: not made.page.count.isVisible())
    made.runner.stop()


def test_three_variants_are_in_sight_in_the_middle_of_a_window(bench: Bench) -> None:
    bench.page.resize(780, 500)
    assert bench.table.horizontalScrollBar().maximum() == 0
    bench.page.resize(640, 500)  # the name gives way first, though not below what can be read
    assert bench.table.columnWidth(0) == 140
    bench.page.resize(1100, 650)
    names = [bench.table.fontMetrics().horizontalAdvance(label) for label in bench.labels()]
    assert bench.table.columnWidth(0) > min(max(names), 240)


def test_all_variants_stand_beside_each_other_with_their_changes(bench: Bench) -> None:
    heads = [bench.table.cells.headerData(FIRST + n, Qt.Orientation.Horizontal) for n in range(3)]
    assert heads == ["plain\nbaseline", "joined\ncandidate", "stiff\n"]
    opened = bench.document.project
    for place, variant in enumerate(opened.variants):
        analysis = analyse(variant.vehicle, opened.run)
        pitch = next(one for one in key_figures(analysis) if one.key == "rms_pitch")
        shown = float(bench.text("RMS pitch angle", FIRST + place))
        assert shown == pytest.approx(pitch.value * 57.29578, rel=5e-3)  # three digits shown
    number, below = bench.number("RMS pitch angle"), Qt.ItemDataRole.UserRole
    changes = [bench.table.cells.index(number, FIRST + place).data(below) for place in range(3)]
    # The joining adds nothing to the pitch rate of a level car, the stiffer rear springs do.
    assert changes[:2] == ["", "="]
    # Unit in its own column, so that three variants fit the narrow middle of a window.
    assert changes[2].endswith(" %)")
    assert "deg" not in changes[2]
    assert bench.labels()[0] == "Levelness"
    assert PRACTICE in bench.labels()


def test_the_hint_says_how_to_set_a_target_until_there_is_one(bench: Bench) -> None:
    assert bench.page.hint.isVisible()
    bench.type_target("RMS pitch angle", "0.5")
    assert not bench.page.hint.isVisible()
    assert bench.page.count.text().startswith("Targets met – plain: ")


def test_a_target_is_typed_judged_in_words_and_colour_and_undone(bench: Bench) -> None:
    bench.type_target("RMS pitch angle", "<= 0.01")
    assert bench.document.project.targets[0].metric == "rms_pitch"
    assert bench.text("RMS pitch angle", TARGET) == "≤ 0.0100"
    assert bench.verdict("RMS pitch angle", FIRST).startswith("miss −")
    item = bench.table.cells.index(bench.number("RMS pitch angle"), FIRST)
    assert item.data(Qt.ItemDataRole.UserRole + 3) == LIGHT.mark
    bench.type_target("RMS pitch angle", "<= 60 deg")
    assert bench.verdict("RMS pitch angle", FIRST).startswith("pass ")
    assert item.data(Qt.ItemDataRole.UserRole + 3) == LIGHT.good
    bench.document.undo_stack.undo()
    bench.document.undo_stack.undo()
    assert not bench.document.project.targets
    assert bench.verdict("RMS pitch angle", FIRST) == ""


def test_an_empty_target_takes_it_away(bench: Bench) -> None:
    bench.type_target("RMS pitch angle", "0.5")
    bench.type_target("RMS pitch angle", "")
    assert not bench.document.project.targets


def test_a_target_that_cannot_be_read_is_refused_and_leaves_the_old_one(bench: Bench) -> None:
    bench.type_target("RMS pitch angle", "0.5")
    bench.type_target("RMS pitch angle", "soft")
    assert len(bench.refusals) == 1
    assert "'soft' is not a number" in bench.refusals[0]
    assert bench.text("RMS pitch angle", TARGET) == "≤ 0.500"


def test_common_practice_is_judged_but_not_edited(bench: Bench) -> None:
    number = bench.number("Dynamic index near one")
    assert bench.table.cells.index(number, TARGET).data() == "0.900 – 1.10"
    assert not bench.table.cells.index(number, TARGET).flags() & Qt.ItemFlag.ItemIsEditable
    assert bench.verdict("Dynamic index near one", FIRST).split()[0] in ("pass", "miss")
    bench.click("Dynamic index near one", TARGET)
    assert not bench.page.bar.set_button.isEnabled()


def test_a_target_in_its_own_situation_from_the_line_below(bench: Bench) -> None:
    bench.click("RMS pitch angle", 0)
    bar = bench.page.bar
    bench.qtbot.keyClicks(bar.limits, "0.5")
    bar.load_case.setCurrentIndex(bar.load_case.findData("boot"))
    bar.road_class.setCurrentIndex(bar.road_class.findData("D"))
    bench.qtbot.keyClicks(bar.speed, "120")
    with bench.qtbot.waitSignal(bench.page.shown, timeout=20000):
        bench.qtbot.mouseClick(bar.set_button, LEFT)
    (target,) = bench.document.project.targets
    assert (target.load_case, target.road_class) == ("boot", "D")
    assert target.speed == pytest.approx(120 / 3.6)
    label = "RMS pitch angle · boot, class D, 120 km/h"
    assert float(bench.text(label, FIRST)) > float(bench.text("RMS pitch angle", FIRST))
    assert bench.verdict(label, FIRST)
    bench.click(label, 0)
    assert bar.speed.text() == "120 km/h"
    bench.qtbot.mouseClick(bar.remove_button, LEFT)
    assert not bench.document.project.targets
    assert label not in bench.labels()


def test_what_is_wrong_in_the_line_below_is_said(bench: Bench) -> None:
    bench.click("RMS pitch angle", 0)
    bar = bench.page.bar
    bench.qtbot.mouseClick(bar.set_button, LEFT)
    bench.qtbot.keyClicks(bar.limits, "0.5")
    bench.qtbot.keyClicks(bar.speed, "9000 km/h")
    bench.qtbot.keyClick(bar.speed, Qt.Key.Key_Return)
    assert "type a limit first" in bench.refusals[0]
    assert "outside the allowed range" in bench.refusals[1]
    assert bar.limits.text() == "0.5"


def test_a_number_leads_to_its_curve(bench: Bench) -> None:
    with bench.qtbot.waitSignal(bench.page.curve_wanted) as caught:
        bench.click("RMS pitch angle", FIRST)
    assert caught.args == ["psd-pitch"]
    wanted: list[str] = []
    bench.page.curve_wanted.connect(wanted.append)
    bench.click("Heave rate", FIRST)
    bench.click("RMS pitch angle", 0)
    assert not wanted


def test_sorting_inside_groups_by_how_far_from_the_target(bench: Bench) -> None:
    before = bench.labels()
    bench.type_target("Peak pitch angle", "<= 0.001")
    bench.type_target("Pitch share", "<= 100")
    bench.header(FIRST)
    assert bench.labels()[:3] == ["Levelness", "Peak pitch angle", "Pitch share"]
    assert bench.table.cells.headerData(FIRST, Qt.Orientation.Horizontal) == "plain ▲\nbaseline"
    bench.header(FIRST)
    assert bench.labels()[0] == "Levelness"
    assert bench.labels().index("Peak pitch angle") > bench.labels().index("Pitch share")
    bench.header(FIRST)
    assert bench.labels() == before
    bench.header(0)
    group = bench.labels()[1 : bench.labels().index("Comfort")]
    assert group == sorted(group, key=str.casefold)


def test_filter(bench: Bench) -> None:
    bench.qtbot.keyClicks(bench.page.filter, "roll angle")
    assert "RMS roll angle" in bench.labels()
    assert "RMS pitch angle" not in bench.labels()
    bench.page.filter.clear()
    assert "RMS pitch angle" in bench.labels()


def test_copies_are_what_is_in_sight(bench: Bench) -> None:
    bench.type_target("RMS pitch angle", "0.5")
    bench.qtbot.keyClicks(bench.page.filter, "pitch angle")
    bench.qtbot.mouseClick(bench.page.copy_button, LEFT)
    rows = list(csv.reader(io.StringIO(QGuiApplication.clipboard().text()), delimiter="\t"))
    assert rows[0][:6] == ["Group", "Figure", "Unit", "At least", "At most", "plain (baseline)"]
    line = next(row for row in rows if row[1] == "RMS pitch angle")
    assert line[:5] == ["Levelness", "RMS pitch angle", "deg", "", "0.5"]
    value, margin, verdict = float(line[5]), float(line[6]), line[7]
    assert margin == pytest.approx(0.5 - value, rel=1e-6)
    assert verdict == ("pass" if value <= 0.5 else "miss")
    with bench.qtbot.waitSignal(bench.page.export_wanted) as caught:
        bench.qtbot.mouseClick(bench.page.save_button, LEFT)
    assert caught.args[0].splitlines()[0].startswith("Group,Figure,Unit")
    assert len(list(csv.reader(io.StringIO(caught.args[0])))) == len(bench.table.rows) + 1


def test_an_edit_computes_only_the_variant_it_changes_and_stale_work_is_dropped(bench: Bench) -> None:
    kept = dict(bench.page._kept)
    path = ("variants", 1, "vehicle", "front", "spring", "rate")
    before = bench.text("RMS pitch angle", FIRST + 1)
    for rate in (9e3, 8e3, 7e3):
        bench.document.edit(path, rate)
    assert bench.text("RMS pitch angle", FIRST + 1) == before  # no gap meanwhile
    with bench.qtbot.waitSignal(bench.page.shown, timeout=20000):
        pass
    assert bench.text("RMS pitch angle", FIRST + 1) != before
    fresh = [case for case in bench.page._kept if case not in kept]
    assert [case.vehicle.front.spring.rate for case in fresh] == [7e3]
    bench.document.undo_stack.undo()
    bench.settle()


def test_names_and_roles_follow_the_project(bench: Bench) -> None:
    bench.document.apply("rename", rename_variant(bench.document.project, "stiff", "firm"))
    assert bench.table.cells.headerData(FIRST + 2, Qt.Orientation.Horizontal) == "firm\n"
    bench.document.apply("choice", set_candidate(bench.document.project, "firm"))
    assert bench.table.cells.headerData(FIRST + 2, Qt.Orientation.Horizontal) == "firm\ncandidate"


def test_units_and_theme(bench: Bench) -> None:
    metric = float(bench.text("Heave rate", FIRST))
    bench.page.set_units(INCH_POUND)
    assert float(bench.text("Heave rate", FIRST)) == pytest.approx(metric / 0.1751268, rel=6e-3)
    bench.page.set_theme(DARK)
    item = bench.table.cells.index(bench.number("Heave rate"), FIRST + 1)
    assert item.data(Qt.ItemDataRole.UserRole + 2) == DARK.candidate


def test_hidden_page_computes_nothing(qtbot: QtBot) -> None:
    made = Bench(qtbot, set_target(project(), PITCH))
    made.document.edit(("run", "speed"), 30.0)
    assert made.page.card is None
    made.show()
    assert made.page.card is not None
    made.runner.stop()


def test_a_variant_that_cannot_be_computed_says_why(qtbot: QtBot) -> None:
    nothing = LoadCase(name="nothing", loads=(Load(mass=-2000.0),))
    opened = add_load_case(project(), nothing)
    own = replaced(PITCH, ("load_case",), "nothing")
    made = Bench(qtbot, set_target(opened, own))
    made.show()
    label = "RMS pitch angle · nothing"
    assert made.text(label, FIRST) == "–"
    assert "0 kg" in made.table.cells.index(made.number(label), FIRST).data(TIP)
    made.runner.stop()


def test_the_chosen_figure_is_asked_for_against_speed(bench: Bench) -> None:
    wanted: list[str] = []
    bench.page.speeds_wanted.connect(wanted.append)
    assert not bench.page.speeds_button.isEnabled()
    bench.click("Heave rate", 0)
    assert not bench.page.speeds_button.isEnabled()  # the same at every speed
    for label in ("Pitch share", "Peak pitch angle"):
        bench.click(label, 0)
        bench.qtbot.mouseClick(bench.page.speeds_button, LEFT)
    assert wanted == ["pitch_share", "peak_pitch"]


def test_the_road_mix_is_judged_with_the_rest(bench: Bench) -> None:
    assert MIX_GROUP not in bench.labels()
    mix = (RoadShare(share=0.5, speed=30.0), RoadShare(share=0.5, speed=15.0, roughness=1e-3))
    bench.document.edit(("road_mix",), mix)
    bench.settle()
    label = "Mix: RMS pitch angle"
    assert bench.labels().index(MIX_GROUP) < bench.labels().index(label)
    heading = bench.table.cells.index(bench.number(MIX_GROUP), 0)
    assert heading.data(TIP) == MIX_MEANING
    value = road_mix(Vehicle(), Run(), AS_DESIGNED, mix).figures[0].value
    assert bench.text(label, FIRST) == format_value(value, "deg", "rad")
    bench.type_target(label, "<= 0.01")
    assert bench.verdict(label, FIRST).startswith("miss")
    bench.click(label, 0)
    assert not bench.page.speeds_button.isEnabled()
    bench.document.edit(("road_mix",), ())
    bench.settle()
    assert MIX_GROUP not in bench.labels()
