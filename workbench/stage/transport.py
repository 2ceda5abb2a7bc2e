"""Playback controls under the stage: run, step, scrub, slow motion, exaggeration."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from PySide6.QtCore import QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QSlider, QSpinBox, QToolButton, QWidget

from models.units import METRIC, UnitChoice
from workbench.cursor import SPEEDS, TimeCursor
from workbench.icons import icon
from workbench.stage.readout import running
from workbench.stage.stage_view import DEFAULT_EXAGGERATION, EXAGGERATION_RANGE
from workbench.theme import LIGHT, Theme

__all__ = ["Transport"]

#: Step of the slider, s, and length of a film frame at full speed, s.
_TICK, _FRAME = 1e-3, 1 / 60
_SLIDER_PAGE = 100
_ICON_SIZE = QSize(20, 20)
_TIPS = {
    "play": "Play or pause",
    "step_back": "One frame back",
    "step_forward": "One frame forward",
    "loop": "Begin anew at the end",
}
_ICONS = {"play": "play", "step_back": "step-back", "step_forward": "step-forward", "loop": "loop"}


class Transport(QWidget):
    """Moves the time cursor; the exaggeration is announced to whoever draws."""

    exaggeration_changed = Signal(float)

    def __init__(self, cursor: TimeCursor, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._cursor = cursor
        self._theme: Theme = LIGHT
        self._units: UnitChoice = METRIC
        self._shortcuts: dict[str, str] = {}
        self._buttons = {
            "step_back": self._button("Step back", self.step_back),
            "play": self._button("Play", cursor.toggle),
            "step_forward": self._button("Step forward", self.step_forward),
            "loop": self._button("Loop", self._set_loop),
        }
        self._buttons["loop"].setCheckable(True)
        self._buttons["loop"].setChecked(cursor.loop)
        self._slider = self._make_slider()
        self._label = QLabel()
        self._label.setAccessibleName("Time")
        self._label.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._speed = self._make_speed()
        self._exaggeration = self._make_exaggeration()
        self._lay_out()
        cursor.moved.connect(self._show_time)
        cursor.duration_changed.connect(self._show_duration)
        cursor.playing_changed.connect(self._show_playing)
        self._show_duration(cursor.duration)
        self.set_theme(self._theme)

    # -- what others call ----------------------------------------------------------------------------

    def set_theme(self, theme: Theme) -> None:
        """Draw the icons in the ink of a theme."""
        self._theme = theme
        for key, button in self._buttons.items():
            name = "pause" if key == "play" and self._cursor.playing else _ICONS[key]
            button.setIcon(icon(name, theme.ink))

    def set_units(self, units: UnitChoice) -> None:
        """Write the time in another unit."""
        self._units = units
        self._show_duration(self._cursor.duration)

    def add_tools(self, tools: QWidget) -> None:
        """Put more controls at the end of the row."""
        row = self.layout()
        assert row is not None
        row.addWidget(tools)

    def set_shortcuts(self, shortcuts: Mapping[str, str]) -> None:
        """Tell the keys of "play", "step_back", "step_forward" and "loop" in the tooltips."""
        self._shortcuts = dict(shortcuts)
        self._show_tips()

    def step_forward(self) -> None:
        """Hold and go one frame on; a frame is as long as playback makes it."""
        self._step(1)

    def step_back(self) -> None:
        """Hold and go one frame back."""
        self._step(-1)

    def take_key(self, event: QKeyEvent) -> bool:
        """Do what a key means on the stage; whether it means something."""
        key, wide = event.key(), bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        match key:
            case Qt.Key.Key_Space:
                self._cursor.toggle()
            case Qt.Key.Key_Left | Qt.Key.Key_Right:
                way = 1 if key == Qt.Key.Key_Right else -1
                if wide:
                    self._cursor.pause()
                    self._cursor.move_to(self._cursor.time + way * _SLIDER_PAGE * _TICK)
                else:
                    self._step(way)
            case Qt.Key.Key_Home | Qt.Key.Key_End:
                self._cursor.pause()
                self._cursor.move_to(0.0 if key == Qt.Key.Key_Home else self._cursor.duration)
            case Qt.Key.Key_Up | Qt.Key.Key_Down:
                self._exaggeration.stepBy(1 if key == Qt.Key.Key_Up else -1)
            case _:
                return False
        return True

    @property
    def exaggeration(self) -> float:
        """Factor on displacements that the user chose."""
        return float(self._exaggeration.value())

    # -- building ------------------------------------------------------------------------------------

    def _button(self, name: str, pressed: Callable[[], None]) -> QToolButton:
        button = QToolButton(self)
        button.setAccessibleName(name)
        button.setAutoRaise(True)
        button.setIconSize(_ICON_SIZE)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        button.clicked.connect(lambda _checked: pressed())
        return button

    def _make_slider(self) -> QSlider:
        slider = QSlider(Qt.Orientation.Horizontal, self)
        slider.setAccessibleName("Time")
        slider.setToolTip("Drag through the time of the run; arrow keys step, page keys leap 0.1 s")
        slider.setSingleStep(round(_FRAME / _TICK))
        slider.setPageStep(_SLIDER_PAGE)
        slider.valueChanged.connect(lambda tick: self._cursor.move_to(tick * _TICK))
        return slider

    def _make_speed(self) -> QComboBox:
        box = QComboBox(self)
        box.setAccessibleName("Playback speed")
        box.setToolTip("Playback speed as a share of real time")
        for speed in SPEEDS:
            box.addItem(f"{Fraction(speed).limit_denominator(100)} ×", speed)
        box.setCurrentIndex(box.findData(self._cursor.speed))
        box.currentIndexChanged.connect(lambda _index: setattr(self._cursor, "speed", box.currentData()))
        return box

    def _make_exaggeration(self) -> QSpinBox:
        box = QSpinBox(self)
        box.setAccessibleName("Vertical exaggeration")
        box.setToolTip("Draw all vertical displacements larger by this factor: road, wheels and body alike")
        box.setPrefix("vertical ×")
        box.setRange(*(round(end) for end in EXAGGERATION_RANGE))
        box.setValue(round(DEFAULT_EXAGGERATION))
        box.valueChanged.connect(lambda value: self.exaggeration_changed.emit(float(value)))
        return box

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 2, 8, 2)
        row.setSpacing(4)
        for key in ("step_back", "play", "step_forward", "loop"):
            row.addWidget(self._buttons[key])
        row.addSpacing(6)
        row.addWidget(self._slider, 1)
        row.addSpacing(6)
        row.addWidget(self._label)
        row.addSpacing(6)
        row.addWidget(self._speed)
        row.addWidget(self._exaggeration)
        self._show_tips()

    # -- following the cursor ------------------------------------------------------------------------

    def _show_duration(self, duration: float) -> None:
        with QSignalBlocker(self._slider):
            self._slider.setRange(0, round(duration / _TICK))
        widest = self._time_text(duration)
        metrics = self._label.fontMetrics()
        # Fixed both ways: else each text of each frame would lay out the whole window anew.
        self._label.setFixedSize(metrics.horizontalAdvance(widest) + 8, metrics.height() + 2)
        self._show_time(self._cursor.time)

    def _show_time(self, seconds: float) -> None:
        with QSignalBlocker(self._slider):
            self._slider.setValue(round(seconds / _TICK))
        self._label.setText(self._time_text(seconds))

    def _show_playing(self, playing: bool) -> None:
        button = self._buttons["play"]
        button.setIcon(icon("pause" if playing else "play", self._theme.ink))
        button.setAccessibleName("Pause" if playing else "Play")

    def _show_tips(self) -> None:
        for key, button in self._buttons.items():
            keys = self._shortcuts.get(key)
            button.setToolTip(f"{_TIPS[key]} ({keys})" if keys else _TIPS[key])

    def _time_text(self, seconds: float) -> str:
        end = running(self._cursor.duration, "time", self._units)
        return f"{running(seconds, 'time', self._units).split()[0]} / {end}"

    def _set_loop(self) -> None:
        self._cursor.loop = self._buttons["loop"].isChecked()

    def _step(self, frames: int) -> None:
        self._cursor.pause()
        self._cursor.move_to(self._cursor.time + frames * _FRAME * self._cursor.speed)
