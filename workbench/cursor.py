"""The one time cursor that the stage and all time plots follow, and its playback."""

from __future__ import annotations

import time

from PySide6.QtCore import QObject, QTimer, Signal

__all__ = ["SPEEDS", "TimeCursor"]

#: Playback speeds offered, as shares of real time.
SPEEDS = (0.1, 0.25, 0.5, 1.0)

_FRAME_MS = 16


class TimeCursor(QObject):
    """A place in time between 0 and ``duration``, moved by hand or by playback.

    Attributes:
        speed: playback speed as a share of real time.
        loop: begin anew at the end, or stop there.
    """

    moved = Signal(float)
    duration_changed = Signal(float)
    playing_changed = Signal(bool)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._time = 0.0
        self._duration = 1.0
        self.speed = 1.0
        self.loop = True
        self._timer = QTimer(self, interval=_FRAME_MS)
        self._timer.timeout.connect(self._advance)
        self._last_tick = 0.0

    @property
    def time(self) -> float:
        """Place of the cursor, s."""
        return self._time

    @property
    def duration(self) -> float:
        """End of the time axis, s."""
        return self._duration

    @property
    def playing(self) -> bool:
        """Whether playback runs."""
        return self._timer.isActive()

    def set_duration(self, duration: float) -> None:
        """Follow a new length of the time response."""
        if duration == self._duration:
            return
        self._duration = duration
        self.duration_changed.emit(duration)
        if self._time > duration:
            self.move_to(0.0)

    def move_to(self, seconds: float) -> None:
        """Move the cursor; emits only on a real change."""
        seconds = min(max(seconds, 0.0), self._duration)
        if seconds != self._time:
            self._time = seconds
            self.moved.emit(seconds)

    def play(self) -> None:
        """Start playback from the present place, or from the start if that is the end."""
        if not self.playing:
            if self._time >= self._duration:
                self.move_to(0.0)
            self._last_tick = time.perf_counter()
            self._timer.start()
            self.playing_changed.emit(True)

    def pause(self) -> None:
        """Stop playback and stay."""
        if self.playing:
            self._timer.stop()
            self.playing_changed.emit(False)

    def toggle(self) -> None:
        """Play or pause."""
        if self.playing:
            self.pause()
        else:
            self.play()

    def _advance(self) -> None:
        now = time.perf_counter()
        elapsed, self._last_tick = now - self._last_tick, now
        ahead = self._time + elapsed * self.speed
        if self.loop:
            self.move_to(ahead % self._duration)
        else:
            self.move_to(ahead)
            if ahead >= self._duration:
                self.pause()
