"""The widget that shows the stage at the time of the cursor."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from models.analysis import Analysis
from models.roads import SineSweep
from models.units import METRIC, UnitChoice
from workbench.cursor import TimeCursor
from workbench.stage import readout
from workbench.stage.camera import fitted
from workbench.stage.car_painter import CarPaths, draw_cars
from workbench.stage.ground_painter import Ground, draw_foot
from workbench.stage.pens import Pens
from workbench.stage.posts import draw_posts
from workbench.stage.road_strip import RoadStrip, road_strip
from workbench.stage.scene import sides_differ, stage_frame
from workbench.stage.silhouette import silhouette
from workbench.theme import LIGHT, Theme

__all__ = ["DEFAULT_EXAGGERATION", "EXAGGERATION_RANGE", "StageView"]

DEFAULT_EXAGGERATION = 5.0
EXAGGERATION_RANGE = (1.0, 20.0)


@dataclass(frozen=True, eq=False)
class _Actor:
    """One car with its lines."""

    analysis: Analysis
    paths: CarPaths


class StageView(QWidget):
    """Side view of the candidate, with the baseline as a ghost, on the road of the run."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Stage")
        self.setAccessibleDescription("Side view of candidate and baseline driving over the road")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(640, 170)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self._candidate: _Actor | None = None
        self._baseline: _Actor | None = None
        self._strip: RoadStrip | None = None
        self._far_side = False
        self._theme: Theme = LIGHT
        self._units: UnitChoice = METRIC
        self._exaggeration = DEFAULT_EXAGGERATION
        self._ghost_visible = True
        self._cursor: TimeCursor | None = None

    def sizeHint(self) -> QSize:
        """Wide and low, as it lies across the top."""
        return QSize(1200, 280)

    def set_analyses(self, candidate: Analysis | None, baseline: Analysis | None) -> None:
        """Show other results."""
        self._candidate = _actor(candidate)
        self._baseline = _actor(baseline)
        self._strip = road_strip(candidate) if candidate else None
        self._far_side = candidate is not None and sides_differ(candidate)
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours."""
        self._theme = theme
        self.update()

    def set_units(self, units: UnitChoice) -> None:
        """Write numbers in other units."""
        self._units = units
        self.update()

    def set_cursor(self, cursor: TimeCursor) -> None:
        """Follow a time cursor."""
        if self._cursor is not None:
            self._cursor.moved.disconnect(self._follow)
        self._cursor = cursor
        cursor.moved.connect(self._follow)
        self.update()

    @property
    def exaggeration(self) -> float:
        """Factor on all displacements."""
        return self._exaggeration

    def set_exaggeration(self, factor: float) -> None:
        """Draw displacements ``factor`` times as large, within :data:`EXAGGERATION_RANGE`."""
        low, high = EXAGGERATION_RANGE
        factor = min(max(factor, low), high)
        if factor != self._exaggeration:
            self._exaggeration = factor
            self.update()

    @property
    def ghost_visible(self) -> bool:
        """Whether the baseline is drawn."""
        return self._ghost_visible

    @ghost_visible.setter
    def ghost_visible(self, visible: bool) -> None:
        if visible != self._ghost_visible:
            self._ghost_visible = visible
            self.update()

    def _follow(self, _seconds: float) -> None:
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the frame of the present time."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._theme.paper))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        small, large = self._fonts()
        painter.setFont(small)
        if self._candidate is None or self._strip is None:
            note = "The cars appear here as soon as there is a result: give the candidate its values."
            readout.centred_note(
                painter, (self.width(), self.height()), note, Pens(self._theme, 1.0, self.devicePixelRatioF())
            )
        else:
            self._draw(painter, self._candidate, self._strip, (small, large))
        painter.end()

    def _draw(self, painter: QPainter, actor: _Actor, strip: RoadStrip, fonts: tuple[QFont, QFont]) -> None:
        ghost = self._baseline if self._ghost_visible else None
        width, height = float(self.width()), float(self.height())
        bodies = (actor.paths.body, ghost.paths.body) if ghost else (actor.paths.body,)
        camera = fitted(width, height, bodies)
        pens = Pens(self._theme, camera.scale, self.devicePixelRatioF())
        time = self._cursor.time if self._cursor else 0.0
        frame = stage_frame(actor.analysis, time, self._exaggeration)
        rise = strip.camera_height(frame.distance, self._exaggeration)
        other = stage_frame(ghost.analysis, time, self._exaggeration) if ghost else None

        ground = Ground(strip, frame, camera, rise, width, pens)
        ground.draw_earth(painter)
        painter.setTransform(camera.transform(rise))
        shadow = (other, ghost.paths) if other and ghost else None
        draw_cars(painter, (frame, actor.paths), shadow, self._far_side, pens)
        painter.resetTransform()
        run = actor.analysis.run
        if isinstance(run.event, SineSweep):
            draw_posts(painter, frame, camera, self._far_side, pens)
        else:
            ground.draw_lines(painter, self._far_side)
        draw_foot(painter, run.event, frame, camera, (width, height), pens, self._units)
        readout.draw_labels(painter, frame, camera, rise, pens, self._units)
        readout.draw_scale(painter, camera, self._exaggeration, width, pens, self._units)
        readout.draw_key(painter, frame, other, pens, self._units, fonts)

    def _fonts(self) -> tuple[QFont, QFont]:
        """Small and large text with figures of equal width."""
        small, large = QFont(self.font()), QFont(self.font())
        small.setPixelSize(12)
        large.setPixelSize(19)
        for font in (small, large):
            font.setFeature(QFont.Tag("tnum"), 1)
        return small, large


def _actor(analysis: Analysis | None) -> _Actor | None:
    return _Actor(analysis, CarPaths(silhouette(analysis.vehicle))) if analysis else None
