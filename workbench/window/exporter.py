"""Figures, data, tables and pictures to files and the clipboard, made in the worker thread."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMimeData, QObject, Signal
from PySide6.QtGui import QGuiApplication, QImage
from PySide6.QtWidgets import QFileDialog, QWidget

from models.charts import Chart
from models.exports.batch import write_data
from models.exports.figure_groups import Subject
from models.exports.figures import FIGURE_FORMS, FigureForm, write_figures
from models.project.write_file import write_file
from models.units import UnitChoice
from workbench.document import Document
from workbench.runner import Job, Runner
from workbench.settings import Settings
from workbench.window.data_dialog import DataDialog

__all__ = ["FIGURE_FORMS", "FORMATS", "Exporter", "write_all"]

#: Suffix -> what the file dialog calls it.
FORMATS = {
    ".pdf": "PDF figure (*.pdf)",
    ".svg": "SVG figure (*.svg)",
    ".png": "PNG figure (*.png)",
    ".csv": "Data as CSV (*.csv)",
}


def write_all(job: Job, charts: Sequence[Chart], folder: Path, units: UnitChoice, heading: str) -> int:
    """Write every chart in every format into ``folder``; gives the number of files."""
    from models.charts.files import export  # matplotlib takes a second to import: only when needed

    targets = [(chart, folder / f"{chart.key}{suffix}") for chart in charts for suffix in FORMATS]
    for number, (chart, path) in enumerate(targets):
        job.report(number / len(targets))
        export(chart, path, units, heading)
    return len(targets)


class Exporter(QObject):
    """Asks where to and writes.

    Signals:
        refused(str), done(str): for the notice and the status bar.
    """

    refused = Signal(str)
    done = Signal(str)

    def __init__(self, document: Document, settings: Settings, runner: Runner, window: QWidget) -> None:
        super().__init__(window)
        self._document = document
        self._settings = settings
        self._runner = runner
        self._window = window

    def ask(self, chart: Chart) -> None:
        """Export one chart to a file that the user names; the suffix says the format."""
        start = self._folder() / f"{chart.key}.pdf"
        name, chosen = QFileDialog.getSaveFileName(
            self._window, "Export the figure or its data", str(start), ";;".join(FORMATS.values())
        )
        if name:
            path = Path(name)
            if path.suffix.lower() not in FORMATS:
                suffix = next(suffix for suffix, text in FORMATS.items() if text == chosen)
                path = path.with_name(path.name + suffix)
            self.export(chart, path)

    def export(self, chart: Chart, path: Path) -> None:
        """Write one chart."""
        units, heading = dict(self._settings.units), self._heading()

        def work(_job: Job) -> Path:
            from models.charts.files import export

            export(chart, path, units, heading)
            return path

        self._start(f"Exporting {path.name}", work, lambda written: self.done.emit(f"Exported {written}"))

    def ask_table(self, text: str) -> None:
        """Write a table to a CSV file that the user names."""
        name, _ = QFileDialog.getSaveFileName(
            self._window, "Export the table", str(self._folder() / "table.csv"), FORMATS[".csv"]
        )
        if name:
            path = Path(name)

            self._write(path, lambda: text.encode("utf-8"))

    def ask_all(self, charts: Sequence[Chart]) -> None:
        """Export several charts in all formats into a folder that the user names."""
        name = QFileDialog.getExistingDirectory(self._window, "Export all figures into", str(self._folder()))
        if name:
            units, heading, folder = dict(self._settings.units), self._heading(), Path(name)
            self._start(
                "Exporting figures",
                lambda job: write_all(job, charts, folder, units, heading),
                lambda number: self.done.emit(f"Exported {number} files to {folder}"),
            )

    def ask_figures(self, form: FigureForm) -> None:
        """Export every figure of the project, on show or not, into a folder that the user names."""
        start = str(self._folder())
        name = QFileDialog.getExistingDirectory(self._window, "Export all figures of the project into", start)
        if name:
            project, path, folder = self._document.project, self._document.path, Path(name)
            subject, missing = Subject(project, path, dict(self._settings.units)), list[str]()
            self._start(
                "Exporting all figures",
                lambda job: write_figures(subject, folder, form, job.report, missing),
                lambda files: self._tell_figures(len(files), folder, missing),
            )

    def ask_data(self) -> None:
        """Ask for data, variants and format, and export them into a folder that the user names."""
        dialog = DataDialog(self._document.project, self._settings, self._window)
        dialog.accepted.connect(partial(self._ask_data_folder, dialog))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def _ask_data_folder(self, dialog: DataDialog) -> None:
        start = str(self._folder())
        name = QFileDialog.getExistingDirectory(self._window, "Export data into", start)
        if name:
            project, wish, folder = self._document.project, dialog.wish, Path(name)
            self._start(
                "Exporting data",
                lambda job: write_data(project, wish, folder, job.report),
                lambda files: self.done.emit(f"Exported {_files(len(files))} to {folder}"),
            )

    def ask_picture(self) -> None:
        """Write a picture of the window, as it is now, to a PNG file that the user names."""
        image = self._picture()
        start = str(self._folder() / "window.png")
        name, _ = QFileDialog.getSaveFileName(
            self._window, "Save the picture of the window", start, "PNG picture (*.png)"
        )
        if name:
            path = Path(name)
            path = path if path.suffix.lower() == ".png" else path.with_name(f"{path.name}.png")
            self._write(path, lambda: _png(image))

    def copy_picture(self) -> None:
        """Put a picture of the window on the clipboard."""
        QGuiApplication.clipboard().setImage(self._picture())
        self.done.emit("Copied the picture of the window")

    def copy(self, chart: Chart) -> None:
        """Put the figure of a chart on the clipboard, as picture and as drawing."""
        units, heading = dict(self._settings.units), self._heading()

        def work(_job: Job) -> tuple[bytes, bytes]:
            from models.charts.figure import figure_bytes

            return figure_bytes(chart, "png", units, heading), figure_bytes(chart, "svg", units, heading)

        self._start("Copying the figure", work, lambda drawn: self._put(chart, *drawn), "copy")

    def _put(self, chart: Chart, png: bytes, svg: bytes) -> None:
        data = QMimeData()
        data.setImageData(QImage.fromData(QByteArray(png)))
        data.setData("image/png", QByteArray(png))
        data.setData("image/svg+xml", QByteArray(svg))
        QGuiApplication.clipboard().setMimeData(data)
        self.done.emit(f"Copied {chart.title}")

    def _picture(self) -> QImage:
        return self._window.grab().toImage()

    def _tell_figures(self, count: int, folder: Path, missing: Sequence[str]) -> None:
        self.done.emit(f"Exported {_files(count)} to {folder}")
        if missing:
            self.refused.emit("These figures could not be made.\n" + "\n".join(missing))

    def _write(self, path: Path, content: Callable[[], bytes]) -> None:
        """Write one file; its content is made in the worker thread."""
        self._start(
            f"Exporting {path.name}",
            lambda _job: write_file(path, content()),
            lambda _nothing: self.done.emit(f"Exported {path}"),
        )

    def _start(
        self, title: str, work: Callable[[Job], Any], done: Callable[[Any], None], lane: str = "export"
    ) -> None:
        self._runner.start(lane, title, work, done, lambda error: self.refused.emit(str(error)))

    def _folder(self) -> Path:
        return self._document.path.parent if self._document.path else Path.home()

    def _heading(self) -> str:
        project = self._document.project
        return f"{project.name}: {project.candidate} against {project.baseline}"


def _files(count: int) -> str:
    return "1 file" if count == 1 else f"{count} files"


def _png(image: QImage) -> bytes:
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]  # the stubs want the format as bytes
    return bytes(data.data())
