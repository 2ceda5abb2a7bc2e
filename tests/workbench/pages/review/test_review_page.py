"""The page of the design review in the hands of its user."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from models.fields import replaced
from models.project import Project, ReviewOptions, load, set_study, study_of
from models.report.press import Made, MadeSection, Order, make
from models.report.watch import Stopped, Watch
from models.studies import ask, file_name
from models.study import Parameter, ResultFile, Sweep
from models.units import INCH_POUND
from tests.screen import show
from workbench.document import Document
from workbench.editor import commit_input
from workbench.pages.review import ReviewPage
from workbench.pages.review.ticked_list import in_order
from workbench.runner import Runner
from workbench.theme import DARK

SALOON = Path(__file__).parents[4] / "sample_projects" / "large_saloon.corduroy"
LONG = 15000
#: What takes no time.
QUICK = ReviewOptions(sections=("differences", "method"), date="2026-11-25")


@pytest.fixture(scope="module")
def project() -> Project:
    return replaced(load(SALOON), ("review",), QUICK)


@pytest.fixture
def document(project: Project, tmp_path: Path) -> Document:
    document = Document(project)
    document.open(project, tmp_path / "car.corduroy")
    return document


Opened = Callable[..., ReviewPage]


@pytest.fixture
def opened(qtbot: QtBot, runner: Runner, document: Document) -> Opened:
    def open_page(carry_out: Callable[[Order, Watch], Made] = make) -> ReviewPage:
        page = ReviewPage(document, runner, make=carry_out)
        qtbot.addWidget(page)
        page.resize(1000, 700)
        show(qtbot, page)
        return page

    return open_page


def titles(page: ReviewPage) -> list[str]:
    return [page.sections.item(row).text() for row in range(page.sections.count())]


@pytest.mark.parametrize(
    ("ticked", "before", "order"),
    [("abcd", "", "abcd"), ("ca", "", "cdab"), ("bd", "cbad", "cbad"), ("bd", "dbac", "abcd")],
)
def test_what_is_not_ticked_keeps_a_place(ticked: str, before: str, order: str) -> None:
    assert "".join(in_order("abcd", ticked, before)) == order


def test_each_choice_is_one_step_that_can_be_undone(opened: Opened, document: Document, qtbot: QtBot) -> None:
    page, stack = opened(), document.undo_stack
    sections = page.sections
    with qtbot.waitSignal(document.changed):
        sections.item(sections.keys.index("cautions")).setCheckState(Qt.CheckState.Checked)
    assert document.project.review.sections == ("differences", "cautions", "method")
    sections.setCurrentRow(sections.keys.index("method"))
    order = sections.keys
    for _ in range(2):
        qtbot.keyClick(sections, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert document.project.review.sections == ("differences", "method", "cautions")
    assert order.index("method") - sections.keys.index("method") == 2
    page.note.setPlainText("Second issue\nwith softer bars.")
    page.note.commit()
    assert document.project.review.revision == "Second issue\nwith softer bars."
    page.form.row("units").chosen("as in the window")  # type: ignore[attr-defined]
    assert stack.index() == 4  # the second move, past what is not ticked, changes nothing of the project
    while stack.canUndo():
        stack.undo()
    assert document.project.review == QUICK
    assert sections.ticked == QUICK.sections
    assert page.note.toPlainText() == ""


def test_a_note_is_taken_by_what_is_asked_while_it_is_typed(
    opened: Opened, document: Document, qtbot: QtBot
) -> None:
    page = opened()
    page.note.setFocus()
    qtbot.keyClicks(page.note, "third issue")
    assert document.project.review.revision == ""
    assert commit_input()  # as each action of the window does first: it saves what is on the screen
    assert document.project.review.revision == "third issue"


def test_one_section_has_to_stay(opened: Opened, document: Document, qtbot: QtBot) -> None:
    page = opened()
    document.edit(("review", "sections"), ("method",))
    page.sections.item(page.sections.keys.index("method")).setCheckState(Qt.CheckState.Unchecked)
    qtbot.waitUntil(page.message.isVisible)
    assert "at least 1" in page.message.text()
    assert page.sections.ticked == document.project.review.sections == ("method",)


def test_the_file_is_asked_for_once_and_named_after_the_project(
    opened: Opened, document: Document, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    page, asked = opened(), []

    def ask(_parent: object, _title: str, start: str, _filter: str) -> tuple[str, str]:
        asked.append(start)
        return start, ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", ask)
    document.edit(("review", "author"), "R. Example")
    for _ in range(2):
        with qtbot.waitSignal(page.made, timeout=LONG) as made:
            page.make_file(".pdf", again=True)
    file = tmp_path / "car.pdf"
    assert asked == [str(file)]
    words, answers = made.args or ("", {})
    assert str(file) in words
    assert list(answers) == ["Open", "Show folder"]
    cover = PdfReader(io.BytesIO(file.read_bytes())).pages[0].extract_text()
    assert "R. Example" in cover
    with qtbot.waitSignal(page.made, timeout=LONG):
        page.make_file(".html")
    assert "R. Example" in file.with_suffix(".html").read_text(encoding="utf-8")


def test_the_project_is_never_written_over(
    opened: Opened, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = opened()
    path = document.path
    assert path is not None
    document.saved(path.with_suffix(".pdf"))
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_all: (str(document.path), ""))
    page.make_file(".pdf")
    assert not page.printing.running
    assert "take the place of the project" in page.message.text()


def test_pages_are_shown_and_grow_stale(opened: Opened, document: Document, qtbot: QtBot) -> None:
    page = opened()
    assert page.empty.isVisible()
    with qtbot.waitSignal(page.printing.made, timeout=LONG):
        page.show_preview()
    assert page.area.isVisible()
    assert page.sheets.count >= 2
    assert page.state.text() == f"{page.sheets.count} pages, as they will be printed."
    assert titles(page)[page.sections.keys.index("differences")] == "What differs from the baseline – page 2"
    white = page.sheets.grab().toImage().pixelColor(page.sheets.width() // 2, page.sheets.top(1) + 5)
    page.set_theme(DARK)
    assert white.name() == "#ffffff"
    document.edit(("name",), "another")
    assert "earlier state" in page.state.text()
    document.undo_stack.undo()
    assert "earlier state" not in page.state.text()


def test_what_cannot_be_computed_is_told_at_its_section(opened: Opened, qtbot: QtBot) -> None:
    sections = (MadeSection("differences", 0, ""), MadeSection("method", 2, "the car does not stand"))
    page = opened(lambda _order, _watch: Made((), "", sections))
    with qtbot.waitSignal(page.printing.made, timeout=LONG):
        page.show_preview()
    assert "not computed: the car does not stand" in titles(page)[page.sections.keys.index("method")]


@pytest.mark.parametrize("where", ["here", "elsewhere"])
def test_the_work_can_be_stopped(opened: Opened, runner: Runner, qtbot: QtBot, where: str) -> None:
    def endless(_order: Order, watch: Watch) -> Made:
        while not watch.stopped():
            watch.progress(0.4, "The run")
        raise Stopped

    page = opened(endless)
    page.show_preview()
    qtbot.waitUntil(lambda: page.progress.text() == "The run")
    assert page.stop.isVisible()
    assert not page.pdf.isVisible()
    if where == "here":
        page.stop.click()
    else:
        runner.cancel()
    assert page.pdf.isVisible()
    assert page.empty.isVisible()


def test_units_of_the_window_are_used_where_they_are_wanted(opened: Opened, document: Document) -> None:
    page = opened()
    page.set_units(INCH_POUND)
    assert page.order().window != INCH_POUND
    document.edit(("review", "units"), "as in the window")
    assert page.order().window == INCH_POUND


def test_studies_say_what_is_kept_of_them(
    opened: Opened, document: Document, qtbot: QtBot, tmp_path: Path
) -> None:
    page = opened()
    assert page.no_studies.isVisible()
    rate = Parameter(place="front.spring.rate", kind="rate", low=1e3, high=2e4)
    lost = ResultFile(file="rates-0.npz", checksum="0" * 64, inputs="0" * 64)
    old = ResultFile(file="old-0.npz", checksum="0" * 64, inputs="0" * 64)
    (tmp_path / "car.studies").mkdir()
    (tmp_path / "car.studies" / old.file).touch()
    project = document.project
    for name, result in (("new", None), ("lost", lost), ("old", old), ("by command", None)):
        project = set_study(project, Sweep(name=name, parameter=rate, points=3, result=result))
    (tmp_path / "car.studies" / file_name(ask(project, study_of(project, "by command")))).touch()
    document.apply("studies", project)
    assert not page.no_studies.isVisible()

    def told() -> dict[str, str]:
        return dict(page.studies.item(row).text().split(" – ") for row in range(page.studies.count()))

    qtbot.waitUntil(lambda: " – " in page.studies.item(0).text())
    assert "no results yet" in told()["new"]
    assert "not there any more" in told()["lost"]
    assert "earlier car" in told()["old"]
    assert told()["by command"] == "results kept"
    with qtbot.waitSignal(document.changed):
        page.studies.item(2).setCheckState(Qt.CheckState.Checked)
    assert document.project.review.studies == ("old",)
