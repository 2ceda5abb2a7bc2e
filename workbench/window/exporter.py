"""Figures and their data to files, drawn in the worker thread."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QWidget

from models.charts import Chart
from models.project.safe_write import write_safely
from models.units import UnitChoice
from workbench.document import Document
from workbench.runner import Job, Runner
from workbench.settings import Settings

__all__ = ["FORMATS", "Exporter", "write_all"]

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

            def work(_job: Job) -> Path:
                write_safely(path, text.encode("utf-8"))
                return path

            self._start(f"Exporting {path.name}", work, lambda written: self.done.emit(f"Exported {written}"))

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

    def _start(self, title: str, work: object, done: object) -> None:
        self._runner.start("export", title, work, done, lambda error: self.refused.emit(str(error)))  # type: ignore[arg-type]

    def _folder(self) -> Path:
        return self._document.path.parent if self._document.path else Path.home()

    def _heading(self) -> str:
        project = self._document.project
        return f"{project.name}: {project.candidate} against {project.baseline}"
