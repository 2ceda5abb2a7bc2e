"""The kinds of road on offer, each with a sketch of its profile."""

from __future__ import annotations

from typing import Any, get_args

import numpy as np
from PySide6.QtCore import QPointF, QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap, QPolygonF, QShowEvent
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from models.roads import Event, MeasuredRoad, Ramp, RandomRoad, SineSweep, Step, Washboard
from models.roads.report import road_course
from models.roads.surface import RoughSurface
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["EVENT_TYPES", "RoadLibrary"]

EVENT_TYPES: dict[str, Any] = {
    event.model_fields["kind"].default: event for event in get_args(get_args(Event)[0])
}

_ICON = QSize(54, 18)
_POINTS = 160
#: Points of a random road that are sketched, and pixels of the picture for one of the screen.
_SHORT, _RATIO = 600, 2
#: What the sketch shows of a kind, where that is not what it begins with.
_SKETCHES: dict[str, Event] = {
    "step": Step(start=2.0),
    "ramp": Ramp(start=2.0),
    "washboard": Washboard(length=20.0, start=1.0),
    "sine sweep": SineSweep(
        start_frequency=0.5, end_frequency=3.0, duration=4.0, start_amplitude=0.02, end_amplitude=0.02
    ),
    "random road": RandomRoad(),
    "measured road": MeasuredRoad(
        step=0.5, left="0 1 4 2 -3 -1 3 8 2 -5 -2 1 0 5 1 -2 0", right=" ".join(["0"] * 17)
    ),
}


class RoadLibrary(QListWidget):
    """List of the kinds; choosing one by mouse or key tells so.

    Signals:
        kind_chosen(str): the user chose a kind.
    """

    kind_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._sketched: Theme | None = None
        self.setAccessibleName("Kinds of road")
        self.setIconSize(_ICON)
        self.setFont(small_font(self.font()))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for kind, event_type in EVENT_TYPES.items():
            item = QListWidgetItem(kind[0].upper() + kind[1:], self)
            item.setToolTip(str(event_type.__doc__).partition("\n")[0])
            item.setIcon(_empty())
        self.currentRowChanged.connect(self._choose)
        self.setFixedHeight(self.sizeHintForRow(0) * self.count() + 2 * self.frameWidth())

    def show_kind(self, kind: str) -> None:
        """Mark the kind in force."""
        with QSignalBlocker(self):
            self.setCurrentRow(list(EVENT_TYPES).index(kind))

    def set_theme(self, theme: Theme) -> None:
        """Sketch in the colours of a theme, as soon as the list is in sight."""
        self._theme = theme
        if self.isVisible():
            self._sketch_all()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._sketch_all()

    def _sketch_all(self) -> None:
        if self._theme is self._sketched:
            return
        self._sketched = self._theme
        for row, kind in enumerate(EVENT_TYPES):
            self.item(row).setIcon(_sketch(_SKETCHES.get(kind, EVENT_TYPES[kind]()), self._theme))

    def _choose(self, row: int) -> None:
        if row >= 0:
            self.kind_chosen.emit(list(EVENT_TYPES)[row])


def _sketch(event: Event, theme: Theme) -> QIcon:
    """Profile of an event as an icon; on the marked line it is drawn in paper."""
    place, heights = road_course(event, RoughSurface(), 1.5)
    height = heights[0]
    if isinstance(event, RandomRoad):
        place, height = place[:_SHORT], height[:_SHORT]
    x = np.linspace(place[0], place[-1], _POINTS)
    y = np.interp(x, place, height)
    share = (y - y.min()) / max(float(np.ptp(y)), 1e-9)
    width, rise = _RATIO * (_ICON.width() - 4), _RATIO * (_ICON.height() - 6)
    line = QPolygonF(
        [
            QPointF(2 * _RATIO + width * n / (_POINTS - 1), 3 * _RATIO + rise * (1 - up))
            for n, up in enumerate(share.tolist())
        ]
    )
    icon = QIcon(_drawn(line, theme.candidate))
    icon.addPixmap(_drawn(line, theme.paper), QIcon.Mode.Selected)
    return icon


def _empty() -> QIcon:
    """Keeps the room of a sketch."""
    pixmap = QPixmap(_ICON)
    pixmap.fill(Qt.GlobalColor.transparent)
    return QIcon(pixmap)


def _drawn(line: QPolygonF, colour: str) -> QPixmap:
    pixmap = QPixmap(_ICON * _RATIO)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(colour), 1.4 * _RATIO))
    painter.drawPolyline(line)
    painter.end()
    pixmap.setDevicePixelRatio(_RATIO)
    return pixmap
