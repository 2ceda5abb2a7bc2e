"""The widget that shows the stage at the time of the cursor."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from models.analysis import Analysis
from models.hardware import Hardware
from models.units import UnitChoice
from workbench.cursor import TimeCursor
from workbench.stage.actor import Actor
from workbench.stage.picture import StagePicture
from workbench.stage.road_strip import road_strip
from workbench.stage.view_options import Arrangement, Forces, ViewOptions
from workbench.theme import Theme

__all__ = ["DEFAULT_EXAGGERATION", "EXAGGERATION_RANGE", "StageView"]

DEFAULT_EXAGGERATION = 5.0
EXAGGERATION_RANGE = (1.0, 20.0)


class StageView(QWidget):
    """Side view of candidate and baseline on the road of the run.

    Signals:
        options_changed(): another choice of what is shown; once for each real change.
    """

    options_changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Stage")
        self.setAccessibleDescription("Side view of candidate and baseline driving over the road")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(640, 170)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self._picture = StagePicture(exaggeration=DEFAULT_EXAGGERATION, font=self.font())
        self._cursor: TimeCursor | None = None
        #: What keys do while the stage has the focus; whether a key means something.
        self.take_key: Callable[[QKeyEvent], bool] = lambda _event: False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._due = QTimer(self, singleShot=True, interval=0)
        self._due.timeout.connect(self.update)

    def sizeHint(self) -> QSize:
        """Wide and low, as it lies across the top."""
        return QSize(1200, 280)

    def set_analyses(self, candidate: Analysis | None, baseline: Analysis | None) -> None:
        """Show other results; painted right after what is due already: in a drag the plots come first."""
        self._picture = replace(
            self._picture,
            candidate=self._actor(candidate),
            baseline=self._actor(baseline),
            strip=road_strip(candidate) if candidate else None,
        )
        self._due.start()

    def set_hardware(self, candidate: Hardware, baseline: Hardware) -> None:
        """Show the angles of other parts in steel."""
        present = self._picture.hardware
        if candidate is not present[0] or baseline is not present[1]:
            self._show(hardware=(candidate, baseline))

    def _actor(self, analysis: Analysis | None) -> Actor | None:
        """Of a result that is on the stage already, as the baseline is through a drag, what there is."""
        present = (self._picture.candidate, self._picture.baseline)
        known = (actor for actor in present if actor is not None and actor.analysis is analysis)
        return next(known, None) or (Actor(analysis) if analysis else None)

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours."""
        self._show(theme=theme)

    def set_units(self, units: UnitChoice) -> None:
        """Write numbers in other units."""
        self._show(units=units)

    def set_cursor(self, cursor: TimeCursor) -> None:
        """Follow a time cursor."""
        if self._cursor is not None:
            self._cursor.moved.disconnect(self._follow)
        self._cursor = cursor
        cursor.moved.connect(self._follow)
        self.update()

    @property
    def picture(self) -> StagePicture:
        """What is shown now, but for the time; it stays as it is while the stage goes on."""
        return replace(self._picture, font=self.font())

    @property
    def exaggeration(self) -> float:
        """Factor on all displacements."""
        return self._picture.exaggeration

    def set_exaggeration(self, factor: float) -> None:
        """Draw displacements ``factor`` times as large, within :data:`EXAGGERATION_RANGE`."""
        low, high = EXAGGERATION_RANGE
        factor = min(max(factor, low), high)
        if factor != self.exaggeration:
            self._show(exaggeration=factor)

    @property
    def options(self) -> ViewOptions:
        """What is shown beside the candidate."""
        return self._picture.options

    @options.setter
    def options(self, options: ViewOptions) -> None:
        if options != self.options:
            self._show(options=options)
            self.options_changed.emit()

    @property
    def ghost_visible(self) -> bool:
        """Whether the baseline is drawn."""
        return self.options.ghost

    @ghost_visible.setter
    def ghost_visible(self, visible: bool) -> None:
        self.options = replace(self.options, ghost=visible)

    @property
    def arrangement(self) -> Arrangement:
        """The baseline over the candidate or behind it."""
        return self.options.arrangement

    @arrangement.setter
    def arrangement(self, arrangement: Arrangement) -> None:
        self.options = replace(self.options, arrangement=arrangement)

    @property
    def horizon_visible(self) -> bool:
        """Whether the view through the windscreens is shown."""
        return self.options.horizon

    @horizon_visible.setter
    def horizon_visible(self, visible: bool) -> None:
        self.options = replace(self.options, horizon=visible)

    @property
    def trace_visible(self) -> bool:
        """Whether the path of the seat point is drawn."""
        return self.options.trace

    @trace_visible.setter
    def trace_visible(self, visible: bool) -> None:
        self.options = replace(self.options, trace=visible)

    @property
    def forces(self) -> Forces:
        """Which forces have arrows."""
        return self.options.forces

    @forces.setter
    def forces(self, forces: Forces) -> None:
        self.options = replace(self.options, forces=forces)

    @property
    def room_visible(self) -> bool:
        """Whether travel to the stops and ground clearance are shown."""
        return self.options.room

    @room_visible.setter
    def room_visible(self, visible: bool) -> None:
        self.options = replace(self.options, room=visible)

    def _show(self, **changes: Any) -> None:
        self._picture = replace(self._picture, **changes)
        self.update()

    def _follow(self, _seconds: float) -> None:
        if not self._due.isActive():
            self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self.take_key(event):
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the frame of the present time."""
        painter = QPainter(self)
        time = self._cursor.time if self._cursor else 0.0
        self._picture.paint(painter, self.width(), self.height(), self.devicePixelRatioF(), time)
        if self.hasFocus():
            painter.setPen(QColor(self._picture.theme.candidate))
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
            painter.setBrush(Qt.BrushStyle.NoBrush)  # the last one of the picture would cover it
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()
