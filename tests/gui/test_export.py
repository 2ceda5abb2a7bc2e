"""Figures and their numbers on paper: what is written is what is shown."""

from __future__ import annotations

import csv
import errno
import os
import re
import zlib
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QContextMenuEvent, QGuiApplication, QImage
from PySide6.QtWidgets import QFileDialog, QMenu, QToolButton
from pytestqt.qtbot import QtBot
from scipy.io import loadmat

from models.charts import Chart
from models.errors import InputError
from models.exports import unique_stems
from models.exports.figure_groups import GROUPS
from models.units import INCH_POUND, UnitChoice
from tests.gui.hands import Hands
from workbench.plots.canvas import Canvas
from workbench.window.data_dialog import DataDialog
from workbench.window.exporter import FORMATS
from workbench.window.main_window import MainWindow


def pdf_text(path: Path) -> str:
    """Text of a PDF of matplotlib: the strings of its TJ and Tj operators, kerning left out."""
    streams = re.findall(rb"stream\r?\n(.*?)endstream", path.read_bytes(), re.DOTALL)
    text = []
    for stream in streams:
        try:
            content = zlib.decompress(stream)
        except zlib.error:
            continue
        for shown in re.findall(rb"\[(.*?)\]\s*TJ|(\(.*?\))\s*Tj", content, re.DOTALL):
            pieces = re.findall(rb"\(((?:\\.|[^\\()])*)\)", shown[0] or shown[1])
            codes = re.sub(rb"\\(.)", rb"\1", b"".join(pieces), flags=re.DOTALL)
            # A composite font has codes of two bytes, which matplotlib takes from Unicode.
            text.append(codes.decode("utf-16-be" if b"\0" in codes else "latin-1", errors="replace"))
    return "\n".join(text)


def table(path: Path) -> tuple[list[str], np.ndarray]:
    """Titles and numbers of a CSV file."""
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    titles, *rows = csv.reader(lines)
    return titles, np.array(rows, dtype=float)


def assert_same_numbers(path: Path, chart: Chart, units: UnitChoice) -> None:
    titles, numbers = table(path)
    assert titles[0] == chart.x.title(units)
    scale_x, scale_y = (axis.display(units)[0] for axis in (chart.x, chart.y))
    for curve in chart.curves:
        column = next(n for n, title in enumerate(titles) if curve.name in title)
        assert chart.y.display(units)[1] in titles[column]
        # Nine digits are written.
        np.testing.assert_allclose(numbers[:, 0], curve.x / scale_x, rtol=1e-8)
        np.testing.assert_allclose(numbers[:, column], curve.y / scale_y, rtol=1e-8, atol=1e-300)


@pytest.mark.parametrize("suffix", list(FORMATS))
def test_one_plot_through_its_menu(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, suffix: str
) -> None:
    path = tmp_path / "figure"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_args: (str(path), FORMATS[suffix]))
    panel = window.plots.panels[0]
    menu = panel.findChild(QToolButton).menu()
    assert isinstance(menu, QMenu)
    with qtbot.waitSignal(window.exporter.done, timeout=20_000):
        menu.actions()[0].trigger()
    written = path.with_name(f"figure{suffix}")
    chart, units = panel.chart, window.settings.units
    assert chart is not None
    if suffix == ".csv":
        assert_same_numbers(written, chart, units)
    elif suffix == ".png":
        assert QImage(str(written)).width() > 1000
    else:
        text = pdf_text(written) if suffix == ".pdf" else written.read_text(encoding="utf-8")
        for words in (chart.x.title(units), chart.y.title(units), "joined torsion bars"):
            assert words in text


def test_all_plots_in_the_units_on_show(
    window: MainWindow, hands: Hands, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands.choose("inch_pound")
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_args: str(tmp_path))
    charts = window.plots.charts()
    with qtbot.waitSignal(window.exporter.done, timeout=60_000):
        hands.choose("export_figures")
    assert {path.suffix for path in tmp_path.iterdir()} >= set(FORMATS)
    for chart in charts:
        assert_same_numbers(tmp_path / f"{chart.key}.csv", chart, INCH_POUND)
        for suffix in FORMATS:
            assert (tmp_path / f"{chart.key}{suffix}").stat().st_size > 1000
    heave = next(chart for chart in charts if chart.key == "time-heave-acceleration")
    assert "ft/s²" in heave.y.title(INCH_POUND)
    assert "ft/s" in pdf_text(tmp_path / "time-heave-acceleration.pdf")


def test_a_folder_that_cannot_be_written_is_told(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    chart = window.plots.charts()[0]
    with qtbot.waitSignal(window.exporter.refused, timeout=20_000):
        window.exporter.export(chart, tmp_path / "nowhere" / "figure.csv")
    assert window.notice.isVisible()


def test_a_plot_goes_to_the_clipboard_as_shown_and_as_printed(window: MainWindow, qtbot: QtBot) -> None:
    panel = window.plots.panels[0]
    menu = panel.findChild(QToolButton).menu()
    assert isinstance(menu, QMenu)
    next(action for action in menu.actions() if action.text() == "Copy as shown").trigger()
    assert QGuiApplication.clipboard().pixmap().width() == panel.view.width()
    # A right click without a drag, and Ctrl+C on the plot.
    canvas = panel.view.findChild(Canvas)
    with qtbot.waitSignal(menu.aboutToShow):
        qtbot.mouseClick(canvas.viewport(), Qt.MouseButton.RightButton, pos=canvas.viewport().rect().center())
    menu.close()
    with qtbot.waitSignal(menu.aboutToShow):
        place = canvas.rect().center()
        event = QContextMenuEvent(QContextMenuEvent.Reason.Keyboard, place, canvas.mapToGlobal(place))
        QGuiApplication.sendEvent(canvas, event)
    menu.close()
    canvas.setFocus()
    with qtbot.waitSignal(window.exporter.done, timeout=20_000):
        qtbot.keyClick(canvas, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    data = QGuiApplication.clipboard().mimeData()
    assert QGuiApplication.clipboard().image().width() > 1000
    assert panel.chart is not None
    drawing = bytes(data.data("image/svg+xml").data()).decode("utf-8")
    assert panel.chart.y.title(window.settings.units) in drawing


def test_data_of_the_variants_chosen(
    window: MainWindow, hands: Hands, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_args: str(tmp_path / "data"))
    project = window.document.project
    for kinds, form, files in (({"spectrum"}, "mat", 2), ({"spectrum", "sweep"}, "csv", 4)):
        hands.choose("export_data")
        dialog = window.findChild(DataDialog)
        for name, box in dialog.kinds.items():
            box.setChecked(name in kinds)
        dialog.format_box.setCurrentIndex(dialog.format_box.findData(form))
        assert dialog.note.text().startswith(f"{files} files")
        with qtbot.waitSignal(window.exporter.done, timeout=20_000):
            qtbot.mouseClick(dialog.go, Qt.MouseButton.LeftButton)
        qtbot.waitUntil(lambda: window.findChild(DataDialog) is None)
    names = sorted(path.name for path in (tmp_path / "data").iterdir())
    stems = unique_stems([project.candidate, project.baseline])
    assert names == sorted(
        [f"{kind}-{stem}.csv" for kind in ("spectrum", "sweep") for stem in stems]
        + [f"spectrum-{stem}.mat" for stem in stems]
    )
    found = loadmat(tmp_path / "data" / f"spectrum-{stems[0]}.mat", simplify_cells=True)
    candidate = window.engine.candidate
    assert candidate is not None
    degree = np.pi / 180
    np.testing.assert_allclose(found["pitch"] * degree**2, candidate.ride.channel("pitch"), rtol=1e-12)
    # The last choice is offered again, and without data there is nothing to go on with.
    hands.choose("export_data")
    dialog = window.findChild(DataDialog)
    assert {name for name, box in dialog.kinds.items() if box.isChecked()} == {"spectrum", "sweep"}
    for box in dialog.kinds.values():
        box.setChecked(False)
    assert not dialog.go.isEnabled()
    dialog.reject()


def test_all_figures_and_what_could_not_be_made(
    window: MainWindow, hands: Hands, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(_subject: object) -> list[object]:
        raise InputError.of("", "", "the car does not stand")

    for group in GROUPS:  # all of them take a while
        monkeypatch.setitem(GROUPS, group, refused if group == "life" else lambda _subject: ())
    monkeypatch.setitem(GROUPS, "ride", lambda _subject: [("psd-pitch", window.plots.charts()[2])])
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_args: str(tmp_path / "all"))
    with qtbot.waitSignals([window.exporter.done, window.exporter.refused], timeout=30_000):
        hands.choose("export_all_svg")
    assert [path.name for path in (tmp_path / "all").iterdir()] == ["ride-psd-pitch.svg"]
    assert "life: the car does not stand" in window.notice.text.text()


def test_a_picture_of_the_window(
    window: MainWindow, hands: Hands, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "window.png"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_args: (str(path.with_suffix("")), ""))
    with qtbot.waitSignal(window.exporter.done, timeout=20_000):
        hands.choose("export_picture")
    size = window.size() * window.devicePixelRatio()
    assert QImage(str(path)).size() == size
    hands.choose("copy_picture")
    assert QGuiApplication.clipboard().image().size() == size
    before = path.read_bytes()

    def full(_descriptor: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with qtbot.waitSignal(window.exporter.refused, timeout=20_000) as refused:
        hands.choose("export_picture")
    assert "no space left on device. What was there before is untouched." in refused.args[0]
    assert path.read_bytes() == before
