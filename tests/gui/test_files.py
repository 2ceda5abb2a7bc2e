"""Saving, opening and closing, with what may go wrong."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QMessageBox
from pytestqt.qtbot import QtBot

from models.project import load, save, set_study
from models.studies import ask, file_name, folder_of, load_result, run_study, save_result
from models.study import Parameter, Sweep
from tests.gui.conftest import close
from tests.gui.hands import Hands
from workbench.app import first_project
from workbench.pages.roads.csv_dialog import CsvDialog
from workbench.settings import Settings
from workbench.window.file_mark import FileMark
from workbench.window.main_window import MainWindow

Answer = QMessageBox.StandardButton


@pytest.fixture
def answers(monkeypatch: pytest.MonkeyPatch) -> list[Answer]:
    """Answers to the questions of dialogs, in order; a question too many fails."""
    prepared: list[Answer] = []
    monkeypatch.setattr(QMessageBox, "exec", lambda _box: prepared.pop(0))
    return prepared


def choose_file(monkeypatch: pytest.MonkeyPatch, path: Path | None) -> None:
    chosen = ("" if path is None else str(path), "")
    for dialog in ("getSaveFileName", "getOpenFileName"):
        monkeypatch.setattr(QFileDialog, dialog, lambda *_args: chosen)


def test_save_close_and_open_again(
    window: MainWindow,
    hands: Hands,
    qtbot: QtBot,
    tmp_path: Path,
    settings: Settings,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    path = tmp_path / "Mine.corduroy"
    hands.type_into(hands.at_hand("Front spring rate"), "17")
    assert window.isWindowModified()
    choose_file(monkeypatch, path.with_suffix(""))  # the suffix is added
    hands.choose("save_as")
    assert not window.isWindowModified()
    assert "Mine.corduroy" in window.windowTitle()
    project = window.document.project
    assert load(path) == project
    assert window.close()
    again = MainWindow(first_project(), settings)
    again.files.open(path)
    assert again.document.project == project
    assert not again.document.unsaved
    assert settings.recent[0] == path
    close(again)


def test_save_writes_to_the_same_file(
    window: MainWindow, hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.corduroy"
    choose_file(monkeypatch, path)
    hands.choose("save")
    first = load(path)
    choose_file(monkeypatch, None)
    hands.type_into(hands.at_hand("Front spring rate"), "17")
    hands.choose("save")
    assert load(path) == window.document.project != first
    assert load(path.with_name("a.corduroy.bak")) == first


def test_a_dialog_that_is_left_saves_nothing(
    window: MainWindow, hands: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands.type_into(hands.at_hand("Front spring rate"), "17")
    choose_file(monkeypatch, None)
    hands.choose("save")
    assert window.isWindowModified()


@pytest.mark.parametrize(("answer", "closes"), [(Answer.Discard, True), (Answer.Cancel, False)])
def test_close_asks_about_changes(
    window: MainWindow, hands: Hands, answers: list[Answer], answer: Answer, closes: bool
) -> None:
    hands.type_into(hands.at_hand("Front spring rate"), "17")
    answers.append(answer)
    assert window.close() is closes
    assert answers == []


def test_close_and_save(
    window: MainWindow, hands: Hands, answers: list[Answer], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands.type_into(hands.at_hand("Front spring rate"), "17")
    answers.extend([Answer.Save, Answer.Save])
    choose_file(monkeypatch, None)
    assert not window.close()  # no file was named
    choose_file(monkeypatch, tmp_path / "a.corduroy")
    assert window.close()
    assert load(tmp_path / "a.corduroy") == window.document.project


def test_close_without_changes_asks_nothing(window: MainWindow, answers: list[Answer]) -> None:
    assert window.close()


def test_what_is_being_typed_is_saved(
    window: MainWindow, hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose_file(monkeypatch, tmp_path / "a.corduroy")
    hands.type_into(hands.at_hand("Front spring rate"), "17", end=None)
    hands.choose("save")
    path = (*window.document.candidate_path(), "front", "spring", "rate")
    assert window.document.value(path) == 17e3
    assert load(tmp_path / "a.corduroy") == window.document.project


def test_what_is_being_typed_makes_close_ask(window: MainWindow, hands: Hands, answers: list[Answer]) -> None:
    hands.type_into(hands.at_hand("Front spring rate"), "17", end=None)
    answers.append(Answer.Cancel)
    assert not window.close()
    assert window.document.unsaved


def test_a_name_that_is_being_typed_is_saved(
    window: MainWindow, hands: Hands, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose_file(monkeypatch, tmp_path / "a.corduroy")
    hands.choose("rename_variant")
    field = window.variants.list.viewport().findChild(QLineEdit)
    assert field is not None
    qtbot.keyClicks(field, "soft")
    hands.choose("save")
    assert load(tmp_path / "a.corduroy").candidate == "soft"


def test_refused_text_is_not_lost_without_a_word(
    window: MainWindow, hands: Hands, answers: list[Answer]
) -> None:
    row = hands.at_hand("Front spring rate")
    hands.type_into(row, "12 kg", end=None)
    assert not window.close()
    assert window.notice.isVisible()
    assert hands.in_sight(row._message)
    assert row.number.text() == "12 kg"
    assert window.close()  # the user was told


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"{", "damaged"),
        (b"\xff\xfe\x00", "damaged"),
        (b'{"format": "corduroy project", "version": 99}', "version 99"),
        (None, "cannot be read"),
    ],
)
def test_an_unreadable_file_leaves_the_project(
    window: MainWindow, hands: Hands, tmp_path: Path, content: bytes | None, words: str
) -> None:
    path = tmp_path / "bad.corduroy"
    if content is not None:
        path.write_bytes(content)
    hands.type_into(hands.at_hand("Front spring rate"), "17")
    project = window.document.project
    window.files.open(path)
    assert window.document.project is project
    assert window.document.unsaved
    assert window.notice.isVisible()
    for word in ("bad.corduroy", words):
        assert word in window.notice.text.text()


def test_a_wrong_value_in_a_file_is_named(window: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "bad.corduroy"
    save(window.document.project, path)
    text = path.read_text().replace('"wheelbase": "3.02 m"', '"wheelbase": "302 m"')
    path.write_text(text)
    window.files.open(path)
    for word in ("bad.corduroy", "variants > 1 > vehicle > wheelbase", "302 m", "allowed range"):
        assert word in window.notice.text.text()


def test_recent_files_and_one_that_is_gone(
    window: MainWindow, hands: Hands, tmp_path: Path, settings: Settings
) -> None:
    there, gone = tmp_path / "there.corduroy", tmp_path / "gone.corduroy"
    for path in (there, gone):
        save(window.document.project, path)
        window.files.open(path)
    gone.unlink()
    recent = hands.submenu("File", "Recent files")
    assert [action.text() for action in recent.actions()] == [f"&1  {gone}", f"&2  {there}"]
    recent.actions()[0].trigger()
    assert str(gone) in window.notice.text.text()
    assert window.document.path == gone  # still the one that is open
    assert settings.recent == [gone, there]  # its disk may come back
    hands.answer("Take it off the list")
    recent = hands.submenu("File", "Recent files")
    assert [action.text() for action in recent.actions()] == [f"&1  {there}"]
    recent.actions()[0].trigger()
    assert window.document.path == there


def test_a_sample_cannot_be_written_over(
    window: MainWindow, hands: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    samples = hands.submenu("File", "Samples")
    next(action for action in samples.actions() if "hatchback" in action.text()).trigger()
    hands.settle()
    assert window.document.path is None
    asked: list[object] = []
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *args: (asked.append(args), ("", ""))[1])
    hands.choose("save")
    assert len(asked) == 1


def test_a_folder_that_takes_no_files(
    window: MainWindow, hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose_file(monkeypatch, tmp_path / "nowhere" / "a.corduroy")
    hands.type_into(hands.at_hand("Front spring rate"), "17")
    hands.choose("save")
    assert window.notice.isVisible()
    assert "not saved" in window.notice.text.text()
    assert window.isWindowModified()


def test_keys_of_the_menus_reach_the_window(window: MainWindow, hands: Hands, qtbot: QtBot) -> None:
    row = hands.at_hand("Front spring rate")
    hands.type_into(row, "17")
    qtbot.keyClick(row.number, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    hands.settle()
    assert not window.document.unsaved
    qtbot.keyClick(row.number, Qt.Key.Key_Down, Qt.KeyboardModifier.ControlModifier)
    assert window.document.project.candidate == "separate coil springs"


RATES = Sweep(
    name="rates",
    parameter=Parameter(place="front.spring.rate", kind="rate", low=20e3, high=32e3),
    points=3,
    metrics=("heave_rate",),
)


def test_results_of_studies_come_beside_the_file_of_the_first_save(
    window: MainWindow, hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Until then they lie in the state folder of the program."""
    monkeypatch.setattr("workbench.pages.studies.study_runs.state_folder", lambda: tmp_path / "state")
    result = run_study(ask(window.document.project, RATES))
    kept = save_result(result, tmp_path / "state" / "studies" / file_name(result.asked))
    study = RATES.model_copy(update={"result": kept})
    window.document.apply("results", set_study(window.document.project, study))
    path = tmp_path / "car.corduroy"
    choose_file(monkeypatch, path)
    hands.choose("save")
    assert not window.notice.isVisible()
    assert load_result(folder_of(path) / kept.file, kept).finished


def test_results_of_studies_go_along_under_another_name(
    window: MainWindow, hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Those the project refers to; what cannot be copied is told, and the project is saved all the same."""
    old, new, last = (tmp_path / name / "car.corduroy" for name in ("old", "new", "last"))
    for path in (old, new, last):
        path.parent.mkdir()
    study = RATES
    result = run_study(ask(window.document.project, study))
    kept = save_result(result, folder_of(old) / file_name(result.asked))
    (folder_of(old) / "other.npz").write_bytes(b"of no study")
    study = study.model_copy(update={"result": kept})
    save(set_study(window.document.project, study), old)
    window.files.open(old)
    hands.type_into(hands.at_hand("Front spring rate"), "17")
    choose_file(monkeypatch, new)
    hands.choose("save_as")
    assert not window.notice.isVisible()
    assert load(new) == window.document.project
    assert [path.name for path in folder_of(new).iterdir()] == [kept.file]
    assert load_result(folder_of(new) / kept.file, kept).columns.values.tobytes() == (
        result.columns.values.tobytes()
    )
    assert len(list(folder_of(old).iterdir())) == 2

    folder_of(last).write_text("in the way")  # a file where the folder is to be
    choose_file(monkeypatch, last)
    hands.choose("save_as")
    assert "car.corduroy is saved without all results of its studies" in window.notice.text.text()
    assert kept.file in window.notice.text.text()
    assert load(last) == window.document.project
    assert window.document.path == last
    assert not window.document.unsaved


def change_elsewhere(path: Path) -> bytes:
    """Another program saves another wheelbase to the file."""
    text = path.read_text().replace('"wheelbase": "3.02 m"', '"wheelbase": "3.1 m"')
    path.write_text(text)
    return path.read_bytes()


def test_a_file_that_changed_on_disk_is_not_written_over_unasked(
    window: MainWindow,
    hands: Hands,
    tmp_path: Path,
    answers: list[Answer],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    path, other = tmp_path / "a.corduroy", tmp_path / "b.corduroy"
    save(window.document.project, path)
    window.files.open(path)
    hands.type_into(hands.at_hand("Front spring rate"), "17")
    theirs = change_elsewhere(path)
    answers.append(Answer.Cancel)
    hands.choose("save")
    assert path.read_bytes() == theirs
    assert window.isWindowModified()

    answers.append(Answer.No)
    choose_file(monkeypatch, other)
    hands.choose("save")
    assert path.read_bytes() == theirs
    assert load(other) == window.document.project

    window.files.open(path)
    hands.type_into(hands.at_hand("Front spring rate"), "18")
    theirs = change_elsewhere(path)
    path.write_bytes(theirs + b"\n")
    answers.append(Answer.Yes)
    hands.choose("save")
    hands.type_into(hands.at_hand("Front spring rate"), "19")
    hands.choose("save")  # its own writing is no change
    assert load(path) == window.document.project
    assert answers == []


def test_a_refusal_is_past_with_the_next_project(window: MainWindow, hands: Hands, tmp_path: Path) -> None:
    window.files.open(tmp_path / "none.corduroy")
    assert window.notice.isVisible()
    hands.choose("new")
    assert not window.notice.isVisible()


def test_two_programs_on_one_file(window: MainWindow, settings: Settings, tmp_path: Path) -> None:
    path, told = tmp_path / "a.corduroy", []
    save(window.document.project, path)
    second = MainWindow(first_project(), settings)
    marks = [FileMark(each.document, tmp_path / "state") for each in (window, second)]
    marks[1].shared.connect(told.append)
    window.files.open(path)
    second.files.open(path)
    assert len(told) == 1
    assert "a.corduroy is open in another window" in told[0]
    assert second.document.path == path  # read, as it may be only looked at
    window.files.new()
    second.files.open(path)
    assert len(told) == 1
    for mark in marks:
        mark.end()
    assert list((tmp_path / "state").rglob("*.lock")) == []
    close(second)


@pytest.mark.parametrize(
    ("names", "words"),
    [(("a.corduroy",), ""), (("note.pdf",), "note.pdf is not opened"), (("a.csv", "b.csv"), "2 files")],
)
def test_a_file_that_is_dropped(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, names: tuple[str, ...], words: str
) -> None:
    for name in names:
        save(window.document.project, tmp_path / name)
    drop(window, [tmp_path / name for name in names])
    if words:
        qtbot.waitUntil(window.notice.isVisible)
        assert words in window.notice.text.text()
        assert window.document.path is None
    else:
        qtbot.waitUntil(lambda: window.document.path == tmp_path / names[0])


def test_a_road_that_is_dropped_is_imported(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    file = tmp_path / "road.csv"
    file.write_text("distance,left,right\n" + "".join(f"{n * 0.1:.1f},0.001,0.002\n" for n in range(60)))
    with qtbot.waitSignal(window.pages.roads.asked):
        drop(window, [file])
    dialog = window.pages.roads.findChild(CsvDialog)
    assert dialog is not None
    dialog.reject()


def drop(window: MainWindow, files: list[Path]) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(file)) for file in files])
    place, action, left = QPoint(50, 50), Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    takers = []
    for aim in (window, window.variants.note, window.editor.at_hand.entries[0], window.plots.panels[0].view):
        enter = QDragEnterEvent(place, action, data, left, Qt.KeyboardModifier.NoModifier)
        QApplication.sendEvent(aim, enter)
        takers.append(enter.isAccepted())
    assert all(takers)
    QApplication.sendEvent(
        window, QDropEvent(QPointF(place), action, data, left, Qt.KeyboardModifier.NoModifier)
    )
