"""Asks what is to be filmed and writes it while the work goes on."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QCloseEvent, QPalette, QStandardItemModel
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDoubleSpinBox,
    QFileDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from models.errors import InputError
from workbench.cursor import SPEEDS
from workbench.runner import Job, Runner
from workbench.stage.film import (
    FORMATS,
    LARGEST,
    LEAST,
    FilmSettings,
    missing_for,
    most_frames_per_second,
    write_film,
)
from workbench.stage.stage_view import StageView

__all__ = ["FilmDialog"]

#: Sizes offered beside that of the stage, px.
_SIZES = ((1280, 320), (1600, 300), (1280, 720), (1920, 1080))
_RATE = 25
_LANE = "film"


class FilmDialog(QDialog):
    """Size, rate, span, speed and format of a film.

    The film is drawn in a thread of its own, so that neither the stage nor results wait for it, and shows the
    stage as it was when it was begun.

    Signals:
        written(str): path of a film that is whole.
    """

    written = Signal(str)

    def __init__(
        self, stage: StageView, duration: float, folder: Path, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Film of the stage")
        self._stage, self._folder = stage, folder
        self._runner = Runner(self)
        self.format_box = QComboBox(self)
        self.size_box = QComboBox(self)
        self.width_box, self.height_box = (
            _whole(self, name, low, high)
            for name, low, high in (("Width", LEAST[0], LARGEST[0]), ("Height", LEAST[1], LARGEST[1]))
        )
        self.rate_box = _whole(self, "Frames per second", 1, 60, " per second")
        self.start_box, self.end_box = (_seconds(self, name, duration) for name in ("From", "To"))
        self.speed_box = QComboBox(self)
        self._summary, self._trouble = QLabel(self), QLabel(self)
        self._progress = QProgressBar(self)
        self._runner.progressed.connect(self._show_progress)
        self.start_button = QPushButton("Write film…", self)
        self.stop_button = QPushButton("Close", self)
        self._fill()
        self._lay_out()
        self.end_box.setValue(duration)
        self._connect()
        self._show_summary()

    @property
    def settings(self) -> FilmSettings:
        """What is chosen."""
        return FilmSettings(
            width=self.width_box.value(),
            height=self.height_box.value(),
            rate=float(self.rate_box.value()),
            start=self.start_box.value(),
            end=self.end_box.value(),
            speed=float(self.speed_box.currentData()),
        )

    @property
    def busy(self) -> bool:
        """Whether a film is being written."""
        return not self.start_button.isEnabled()

    def write(self, path: Path) -> None:
        """Write the film to a file; the dialog stays open and shows how far it is."""
        picture, settings = self._stage.picture, self.settings

        def work(job: Job) -> Path:
            return write_film(picture, settings, path, job.report)

        self._show_busy(True)
        self._runner.start(_LANE, f"Filming {path.name}", work, self._end, self._fail)

    def cancel(self) -> None:
        """Stop writing; nothing is left of the film."""
        self._runner.cancel(_LANE)
        self._show_busy(False)
        self._say("Cancelled; nothing was written.")

    def closeEvent(self, event: QCloseEvent) -> None:
        """Closing ends a film that is being written."""
        self._runner.stop()
        super().closeEvent(event)

    # -- building ------------------------------------------------------------------------------------

    def _fill(self) -> None:
        for suffix, text in FORMATS.items():
            self.format_box.addItem(text, suffix)
            if missing := missing_for(suffix):
                model = self.format_box.model()
                assert isinstance(model, QStandardItemModel)
                item = model.item(self.format_box.count() - 1)
                item.setEnabled(False)
                item.setToolTip(missing)
                self.format_box.setToolTip(missing)
        ratio = self._stage.devicePixelRatioF()
        own = round(self._stage.width() * ratio), round(self._stage.height() * ratio)
        own = min(max(own[0], LEAST[0]), LARGEST[0]), min(max(own[1], LEAST[1]), LARGEST[1])
        for text, size in (("as on the stage", own), *((f"{w} × {h}", (w, h)) for w, h in _SIZES)):
            self.size_box.addItem(text, size)
        self.width_box.setValue(own[0])
        self.height_box.setValue(own[1])
        self.rate_box.setValue(_RATE)
        for speed in SPEEDS:
            self.speed_box.addItem(f"{Fraction(speed).limit_denominator(100)} ×", speed)
        self.speed_box.setCurrentIndex(self.speed_box.count() - 1)

    def _lay_out(self) -> None:
        form = QFormLayout()
        size = self._row(self.size_box, self.width_box, QLabel("×", self), self.height_box)
        span = self._row(self.start_box, QLabel("to", self), self.end_box)
        for text, row, box in (
            ("For&mat", self.format_box, self.format_box),
            ("&Size", size, self.size_box),
            ("&Rate", self.rate_box, self.rate_box),
            ("Span of the r&un", span, self.start_box),
            ("S&peed", self.speed_box, self.speed_box),
        ):
            label = QLabel(text, self)
            label.setBuddy(box)
            if not box.accessibleName():
                box.setAccessibleName(text.replace("&", ""))
            form.addRow(label, row)
        self._trouble.setWordWrap(True)
        self._progress.setRange(0, 100)
        self._progress.setVisible(False)
        buttons = QHBoxLayout()
        buttons.addWidget(self._progress, 1)
        buttons.addStretch(1)
        buttons.addWidget(self.stop_button)
        buttons.addWidget(self.start_button)
        self.start_button.setDefault(True)
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addWidget(self._summary)
        column.addWidget(self._trouble)
        column.addLayout(buttons)

    def _row(self, *widgets: QWidget) -> QHBoxLayout:
        row = QHBoxLayout()
        for widget in widgets:
            row.addWidget(widget)
        row.addStretch(1)
        return row

    def _connect(self) -> None:
        self.size_box.activated.connect(self._take_size)
        self.format_box.currentIndexChanged.connect(lambda _row: self._show_summary())
        self.speed_box.currentIndexChanged.connect(lambda _row: self._show_summary())
        for box in (self.width_box, self.height_box, self.rate_box, self.start_box, self.end_box):
            box.valueChanged.connect(lambda _value: self._show_summary())
        self.start_button.clicked.connect(self._ask)
        self.stop_button.clicked.connect(self._stop)

    # -- working -------------------------------------------------------------------------------------

    @property
    def _suffix(self) -> str:
        return str(self.format_box.currentData())

    def _take_size(self) -> None:
        width, height = self.size_box.currentData()
        self.width_box.setValue(width)
        self.height_box.setValue(height)

    def _show_summary(self) -> None:
        self.rate_box.setMaximum(most_frames_per_second(self._suffix))
        settings = self.settings
        try:
            settings.check(self._suffix)
        except InputError as refusal:
            self._say(str(refusal))
            self._summary.clear()
            self.start_button.setEnabled(False)
            return
        frames = len(settings.times)
        self._say("")
        self._summary.setText(f"{frames} frames, {frames / settings.rate:.2f} s of film")
        self.start_button.setEnabled(True)

    def _ask(self) -> None:
        suffix = self._suffix
        start = str(self._folder / f"stage{suffix}")
        name, _ = QFileDialog.getSaveFileName(self, "Write the film to", start, FORMATS[suffix])
        if name:
            path = Path(name)
            self.write(path if path.suffix.lower() == suffix else path.with_name(path.name + suffix))

    def _stop(self) -> None:
        if self.busy and self._progress.isVisible():
            self.cancel()
        else:
            self.close()

    def _end(self, path: Path) -> None:
        self._show_busy(False)
        self._say(f"Written: {path}", good=True)
        self.written.emit(str(path))

    def _fail(self, error: Exception) -> None:
        self._show_busy(False)
        self._say(f"The film was not written. {error}")

    def _show_busy(self, busy: bool) -> None:
        self._progress.setValue(0)
        self._progress.setVisible(busy)
        self.start_button.setEnabled(not busy)
        self.stop_button.setText("Cancel" if busy else "Close")
        for box in (
            self.findChildren(QComboBox) + self.findChildren(QSpinBox) + self.findChildren(QDoubleSpinBox)
        ):
            box.setEnabled(not busy)
        if busy:
            self._say("")

    def _show_progress(self, share: float) -> None:
        self._progress.setValue(round(100 * share))

    def _say(self, text: str, good: bool = False) -> None:
        self._trouble.setText(text)
        self._trouble.setVisible(bool(text))
        role = QPalette.ColorRole.WindowText if good else QPalette.ColorRole.PlaceholderText
        self._trouble.setForegroundRole(role)


def _whole(parent: QWidget, name: str, low: int, high: int, suffix: str = " px") -> QSpinBox:
    box = QSpinBox(parent)
    box.setRange(low, high)
    box.setSuffix(suffix)
    box.setAccessibleName(name)
    return box


def _seconds(parent: QWidget, name: str, most: float) -> QDoubleSpinBox:
    box = QDoubleSpinBox(parent)
    box.setDecimals(3)
    box.setSingleStep(0.1)
    box.setRange(0.0, most)
    box.setSuffix(" s")
    box.setAccessibleName(name)
    return box
