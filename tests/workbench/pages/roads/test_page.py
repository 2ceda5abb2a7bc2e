"""The page of the roads in the hands of its user."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialogButtonBox
from pytestqt.qtbot import QtBot

from models.fields import replaced
from models.judge.mix import road_mix
from models.project import load
from models.roads import MeasuredRoad, RandomRoad, SineSweep, Washboard
from models.roads.samples import heights_of
from models.units import INCH_POUND, METRIC, format_value
from models.vehicle import Load, LoadCase, Vehicle
from workbench.document import Document
from workbench.pages.roads import RoadsPage
from workbench.pages.roads.csv_dialog import CsvDialog
from workbench.pages.roads.library import EVENT_TYPES
from workbench.runner import Runner
from workbench.theme import DARK, LIGHT

SAMPLE = load(Path(__file__).parents[4] / "sample_projects" / "large_saloon.corduroy")
PROJECT = replaced(replaced(SAMPLE, ("run", "event"), RandomRoad()), ("road_mix",), ())
LONG = 15000  # ms
ROAD, MIX = range(2)
GERMAN = "Weg (m);Höhe links (mm);Höhe rechts (mm)\n" + "".join(
    f"{n / 20:.2f};{n % 7:.1f};{n % 5:.1f}\n".replace(".", ",") for n in range(900)
)


@pytest.fixture
def document() -> Document:
    return Document(PROJECT)


@pytest.fixture
def page(qtbot: QtBot, runner: Runner, document: Document) -> RoadsPage:
    page = RoadsPage(document, runner)
    qtbot.addWidget(page)
    page.resize(1100, 650)
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.show()
    return page


def choose(page: RoadsPage, qtbot: QtBot, kind: str) -> None:
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.library.setCurrentRow(list(EVENT_TYPES).index(kind))


def figure(page: RoadsPage, label: str) -> str:
    rows = page.figures.rows
    found = next(row for row in range(rows.rowCount()) if rows.item(row, 0).text() == label)
    return f"{rows.item(found, 1).text()} {rows.item(found, 2).text()}".strip()


def ready(page: RoadsPage) -> bool:
    assert page.dialog is not None
    return page.dialog.buttons.button(QDialogButtonBox.StandardButton.Ok).isEnabled()


def test_random_road_of_the_run_is_on_show(page: RoadsPage) -> None:
    assert page.library.currentItem().text() == "Random road"
    assert page.words.text().startswith("Class C: Gd(n0) ")
    assert figure(page, "Length") == "1000 m"
    assert figure(page, "IRI left").endswith("m/km")
    assert [chart.key for chart in page.charts()] == ["road-profile", "road-spectrum"]


def test_rougher_surface_is_judged_anew(page: RoadsPage, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.surface_form.row("roughness").number.setText("1000")
        page.surface_form.row("roughness").number.commit()
    assert page.words.text().startswith("Class D")


@pytest.mark.parametrize("kind", [kind for kind in EVENT_TYPES if kind != "random road"])
def test_each_kind_can_be_chosen_is_drawn_and_undone(
    page: RoadsPage, document: Document, qtbot: QtBot, kind: str
) -> None:
    choose(page, qtbot, kind)
    assert document.project.run.event == EVENT_TYPES[kind]()
    assert page.report is not None
    assert page.report.kind == kind
    assert "No class" in page.words.text()
    assert not page.spectrum.isVisible()
    with qtbot.waitSignal(page.shown, timeout=LONG):
        document.undo_stack.undo()
    assert document.project.run.event == RandomRoad()
    assert page.spectrum.isVisible()
    assert page.library.currentItem().text() == "Random road"
    assert page.event_form.form is not None
    assert page.event_form.form.row("seed").label == "Seed"


def test_parameters_are_edited_in_place(page: RoadsPage, document: Document, qtbot: QtBot) -> None:
    choose(page, qtbot, "washboard")
    assert page.event_form.form is not None
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.event_form.form.row("wavelength").number.setText("2")
        page.event_form.form.row("wavelength").number.commit()
    assert document.project.run.event == Washboard(wavelength=2.0)


def test_a_kind_comes_back_as_it_was(page: RoadsPage, document: Document, qtbot: QtBot) -> None:
    road = MeasuredRoad(name="yard", left="0 5 " * 200, right="0 3 " * 200)
    with qtbot.waitSignal(page.shown, timeout=LONG):
        document.edit(("run", "event"), road)
    assert page.source.text() == "yard: 400 points a track."
    with qtbot.waitSignal(document.changed):
        document.edit(("run", "duration"), 1.0)
    assert "The run ends at 22.2 of 44.9 m; a longer duration drives the rest." in page.source.text()
    choose(page, qtbot, "step")
    assert page.source.isHidden()
    choose(page, qtbot, "measured road")
    assert document.project.run.event == road


def test_a_form_shows_no_heights(page: RoadsPage, document: Document, qtbot: QtBot) -> None:
    choose(page, qtbot, "measured road")
    assert page.event_form.form is not None
    assert [row.path[-1] for row in page.event_form.form.rows()] == [
        "name", "note", "step", "passes", "blend", "start",
    ]  # fmt: skip


def test_hidden_page_waits(page: RoadsPage, document: Document, qtbot: QtBot) -> None:
    page.hide()
    before = page.report
    document.edit(("run", "event"), SineSweep())
    assert page.report is before
    with qtbot.waitSignal(page.shown, timeout=LONG):
        page.show()
    assert page.report is not None
    assert page.report.over_time


def test_csv_is_shown_and_taken_as_one_edit(
    page: RoadsPage, document: Document, qtbot: QtBot, tmp_path: Path
) -> None:
    file = tmp_path / "weg.csv"
    file.write_text(GERMAN, encoding="latin-1")
    with qtbot.waitSignal(page.asked, timeout=LONG):
        page.import_csv(file)
    dialog = page.dialog
    assert isinstance(dialog, CsvDialog)
    qtbot.waitUntil(lambda: ready(page), timeout=LONG)
    assert dialog.delimiter.currentText() == "semicolon"
    assert dialog.decimal.currentText() == "comma"
    assert dialog.left.currentText() == "Höhe links (mm)"
    assert dialog.height_unit.currentText() == "mm"
    assert dialog.table.item(1, 0).text() == "0,00"
    assert (
        "900 points a track. Step of 50 mm as measured; straight line taken off each track."
        in dialog.words.text()
    )
    with qtbot.waitSignal(page.shown, timeout=LONG):
        qtbot.mouseClick(dialog.buttons.button(QDialogButtonBox.StandardButton.Ok), Qt.MouseButton.LeftButton)
    event = document.project.run.event
    assert isinstance(event, MeasuredRoad)
    assert len(heights_of(event.left)) == 900
    assert document.undo_stack.count() == 1
    document.undo_stack.undo()
    assert document.project == PROJECT


def test_choices_are_corrected_before_the_import(page: RoadsPage, qtbot: QtBot, tmp_path: Path) -> None:
    file = tmp_path / "weg.csv"
    file.write_text(GERMAN, encoding="utf-8")
    with qtbot.waitSignal(page.asked, timeout=LONG):
        page.import_csv(file)
    dialog = page.dialog
    assert isinstance(dialog, CsvDialog)
    qtbot.waitUntil(lambda: ready(page), timeout=LONG)
    for box, text in ((dialog.height_unit, "cm"), (dialog.detrend, "Nothing"), (dialog.right, "none")):
        box.setCurrentIndex(box.findText(text))
        box.activated.emit(box.currentIndex())
    assert not ready(page)  # what is shown is not yet what would be taken
    qtbot.waitUntil(lambda: ready(page), timeout=LONG)
    assert dialog.road is not None
    np.testing.assert_allclose(heights_of(dialog.road.left)[:8], [0, 0.01, 0.02, 0.03, 0.04, 0.05, 0.06, 0])
    assert dialog.road.left == dialog.road.right
    assert "one track under both wheels" in dialog.road.note
    dialog.decimal.setCurrentIndex(dialog.decimal.findText("point"))
    with qtbot.waitSignal(dialog.previewed, timeout=LONG):
        dialog.decimal.activated.emit(dialog.decimal.currentIndex())
    assert "line 2, column 1: '0,00' is no number with a decimal point" in dialog.words.text()
    assert not ready(page)


def test_wrong_step_is_told(page: RoadsPage, qtbot: QtBot, tmp_path: Path) -> None:
    file = tmp_path / "weg.csv"
    file.write_text(GERMAN, encoding="utf-8")
    with qtbot.waitSignal(page.asked, timeout=LONG):
        page.import_csv(file)
    dialog = page.dialog
    assert dialog is not None
    for text, reason in (("5 N", "does not measure the same"), ("0.001 mm", "allowed: 2 to 20000")):
        with qtbot.waitSignal(dialog.previewed, timeout=LONG):
            dialog.step.setText(text)
            dialog.step.textEdited.emit(text)
        assert reason in dialog.words.text()


def test_unreadable_file_is_refused_in_words(page: RoadsPage, qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "prose.csv").write_text("no numbers here\n")
    with qtbot.waitSignal(page.asked, timeout=LONG):
        page.import_csv(tmp_path / "prose.csv")
    assert page.message.isVisible()
    assert "it holds no road" in page.message.text()
    (tmp_path / "prose.crg").write_text("no road\n")
    with qtbot.waitSignal(page.asked, timeout=LONG):
        page.import_crg(tmp_path / "prose.crg")
    dialog = page.dialog
    assert dialog is not None
    qtbot.waitSignal(dialog.previewed, timeout=LONG).wait()
    assert "this is no OpenCRG file" in dialog.words.text()
    assert not ready(page)
    dialog.reject()
    assert page.dialog is None


def test_surface_is_imported_under_the_wheels_of_the_car(
    page: RoadsPage, document: Document, qtbot: QtBot, tmp_path: Path
) -> None:
    head = "$ROAD_CRG\nreference_line_increment = 0.5\nlong_section_v_right = -1\nlong_section_v_left = 1\n"
    head += "$KD_Definition\n#:LRFI\nD:long section 1,m\nD:long section 2,m\nD:long section 3,m\n$$$$\n"
    rows = "".join(f"{n % 3 / 100:10.4f}{0:10.4f}{n % 2 / 100:10.4f}\n" for n in range(80))
    (tmp_path / "yard.crg").write_text(head + rows)
    page.import_crg(tmp_path / "yard.crg")
    qtbot.waitUntil(lambda: ready(page), timeout=LONG)
    dialog = page.dialog
    assert dialog is not None
    vehicle = document.value(document.candidate_path())
    assert isinstance(vehicle, Vehicle)
    assert dialog.track.text() == f"{(vehicle.front.track + vehicle.rear.track) / 2:.4g} m"
    dialog.track.setText("5 m")
    with qtbot.waitSignal(dialog.previewed, timeout=LONG):
        dialog.track.textEdited.emit("5 m")
    assert "a wheel at v = 2.5 m is beside the surface (-1 to 1 m)" in dialog.words.text()
    dialog.track.setText("1 m")
    dialog.track.textEdited.emit("1 m")
    qtbot.waitUntil(lambda: ready(page), timeout=LONG)
    with qtbot.waitSignal(page.shown, timeout=LONG):
        dialog.buttons.accepted.emit()
    event = document.project.run.event
    assert isinstance(event, MeasuredRoad)
    assert np.ptp(heights_of(event.right)) == pytest.approx(
        0.01, abs=1e-3
    )  # half of 20 mm, 0.5 m from the edge


def test_road_of_the_run_is_added_to_the_mix(page: RoadsPage, document: Document, qtbot: QtBot) -> None:
    assert page.mix.sum.text() == "No roads yet."
    page.tabs.setCurrentIndex(MIX)
    qtbot.mouseClick(page.mix.add_button, Qt.MouseButton.LeftButton)
    page.tabs.setCurrentIndex(ROAD)
    choose(page, qtbot, "washboard")
    page.tabs.setCurrentIndex(MIX)
    qtbot.mouseClick(page.mix.add_button, Qt.MouseButton.LeftButton)
    first, second = document.project.road_mix
    assert (first.name, first.share, first.event) == ("random road", 1.0, RandomRoad())
    assert (second.name, second.share, second.event) == ("washboard", 0.1, Washboard())
    assert second.speed == document.project.run.speed
    assert (
        page.mix.sum.text() == "Shares add up to 110 %, taken as the whole; 1 of 2 with an event of their own"
    )
    document.edit(("road_mix", 0, "share"), 0.9)
    assert page.mix.sum.text().startswith("Shares add up to 100 %;")


def test_units_and_theme_reach_all_parts(page: RoadsPage) -> None:
    for units, unit in ((INCH_POUND, "in"), (METRIC, "mm")):
        page.set_units(units)
        assert figure(page, "Highest").endswith(f" {unit}")
        assert page.profile.units["travel"] == unit
    for theme in (DARK, LIGHT):
        page.set_theme(theme)
        assert theme.ink in page.words.styleSheet()


def cells(page: RoadsPage, row: int) -> list[str]:
    rows = page.shares.rows
    return [rows.item(row, column).text() for column in range(rows.columnCount())]


def test_the_mix_is_shown_road_by_road(page: RoadsPage, document: Document, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.shares.shown, timeout=LONG):
        page.tabs.setCurrentIndex(MIX)
    assert page.shares.words.text() == "No roads yet."
    with qtbot.waitSignal(page.shares.shown, timeout=LONG):
        document.edit(("road_mix",), SAMPLE.road_mix)
    vehicle = SAMPLE.variant(SAMPLE.candidate).vehicle
    expected = road_mix(vehicle, SAMPLE.run, SAMPLE.load, SAMPLE.road_mix)
    assert page.shares.mix == expected
    assert [cells(page, row)[0] for row in range(7)] == [
        "All roads",
        *(road.name for road in SAMPLE.road_mix),
    ]
    pitch = next(figure for figure in expected.figures if figure.key == "mix_rms_pitch")
    assert cells(page, 0)[1:3] == ["100 %", format_value(pitch.value, "deg", "rad")]
    assert cells(page, 1)[-1] == "–"  # a random road has no largest pitch
    assert cells(page, 6)[-1] == cells(page, 0)[-1]
    page.set_units(INCH_POUND)
    page.set_theme(DARK)
    assert page.shares.rows.item(1, 0).foreground().color().name() == DARK.ink.lower()


def test_an_edit_of_a_share_or_of_the_car_is_computed_anew(
    page: RoadsPage, document: Document, qtbot: QtBot
) -> None:
    page.tabs.setCurrentIndex(MIX)
    with qtbot.waitSignal(page.shares.shown, timeout=LONG):
        document.edit(("road_mix",), SAMPLE.road_mix[:2])
    before = page.shares.mix
    for path, value in (
        (("road_mix", 0, "share"), 0.9),
        ((*document.candidate_path(), "front", "spring", "rate"), 9e3),
    ):
        with qtbot.waitSignal(page.shares.shown, timeout=LONG):
            document.edit(path, value)
        assert page.shares.mix != before
        before = page.shares.mix
    document.edit(("run", "speed"), 12.0)  # nothing to the mix
    assert not page.shares._due.isActive()


def test_a_mix_that_was_cancelled_is_computed_when_it_is_looked_at_again(
    page: RoadsPage, document: Document, runner: Runner, qtbot: QtBot
) -> None:
    page.tabs.setCurrentIndex(MIX)
    document.edit(("road_mix",), SAMPLE.road_mix[:2])
    page.shares._due.stop()
    page.shares._compute()
    runner.cancel()
    page.tabs.setCurrentIndex(ROAD)
    with qtbot.waitSignal(page.shares.shown, timeout=LONG):
        page.tabs.setCurrentIndex(MIX)
    assert page.shares.mix is not None


def test_a_mix_that_cannot_be_driven_says_why(page: RoadsPage, document: Document, qtbot: QtBot) -> None:
    page.tabs.setCurrentIndex(MIX)
    with qtbot.waitSignal(page.shares.shown, timeout=LONG):
        document.edit(("road_mix",), SAMPLE.road_mix[:1])
    nothing = LoadCase(name="none", loads=(Load(mass=-2000.0),))
    with qtbot.waitSignal(page.shares.shown, timeout=LONG):
        document.apply(
            "load", replaced(replaced(document.project, ("load_cases",), (nothing,)), ("load_case",), "none")
        )
    assert "0 kg" in page.shares.words.text()
    assert page.shares.rows.rowCount() == 0
