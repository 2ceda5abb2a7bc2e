"""One picture of the stage, on whatever is painted on: the widget or a frame of a film."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QColor, QFont, QPainter

from models.hardware import Hardware
from models.roads import SineSweep
from models.units import METRIC, UnitChoice
from workbench.polygon import polygon
from workbench.stage import readout
from workbench.stage.actor import Actor
from workbench.stage.angle_painter import draw_angles
from workbench.stage.angles import angle_marks
from workbench.stage.camera import ABOVE, FOOT, Camera, distance_behind, fitted
from workbench.stage.car_painter import draw_body, draw_car, draw_ghost
from workbench.stage.force_painter import draw_arrows, draw_force_scale, draw_letters
from workbench.stage.forces import Kind, arrows, newtons_per_metre, shown_parts
from workbench.stage.ground_painter import Ground, draw_foot
from workbench.stage.horizon import view_of
from workbench.stage.horizon_painter import HorizonPlace, draw_horizon, draw_horizon_scale, horizon_place
from workbench.stage.pens import Pens
from workbench.stage.posts import draw_posts
from workbench.stage.road_strip import RoadStrip
from workbench.stage.room import clearance_marks, travel_gauges
from workbench.stage.room_painter import draw_clearances, draw_gauges
from workbench.stage.scene import Frame, road_speed, stage_frame
from workbench.stage.silhouette import Point
from workbench.stage.view_options import ViewOptions
from workbench.theme import LIGHT, Theme

__all__ = ["StagePicture"]

_NOTE = "The cars appear here as soon as there is a result: give the candidate its values."
#: The driver's eye is so far above the middle of his head, m.
_EYE = 0.03
#: Between points of the seat's path, px.
_PATH_SPACING = 3.0
#: Share of a car's colour in the path behind it.
_PATH_STRENGTH = 0.75
#: Between the words and the scale of the forces, px.
_FORCE_GAP = 10.0
#: Words over a car that drives behind begin right of the clock, px.
_CLOCK_WIDTH = 150.0
#: Their foot over the roof, as a share of the room for motion.
_HEADING = 0.45


@dataclass(frozen=True, eq=False)
class _Shown:
    """A car in a picture: where it stands and how it is drawn."""

    name: str
    actor: Actor
    frame: Frame
    camera: Camera
    level: float
    pens: Pens


@dataclass(frozen=True, eq=False)
class StagePicture:
    """All that a picture of the stage shows, but for the time.

    It is never changed, so that a film can be drawn in another thread while the stage goes on.

    Attributes:
        candidate, baseline, strip: cars and road, or None.
        hardware: parts in steel of candidate and baseline.
        options: what is shown beside them.
        exaggeration: factor on all displacements.
        theme, units, font: how.
    """

    candidate: Actor | None = None
    baseline: Actor | None = None
    strip: RoadStrip | None = None
    hardware: tuple[Hardware, Hardware] = (Hardware(), Hardware())
    options: ViewOptions = field(default_factory=ViewOptions)
    exaggeration: float = 5.0
    theme: Theme = LIGHT
    units: UnitChoice = field(default_factory=lambda: METRIC)
    font: QFont = field(default_factory=QFont)

    def paint(self, painter: QPainter, width: int, height: int, ratio: float, time: float) -> None:
        """Draw the stage at a time.

        Args:
            painter: draws in pixels of the screen's unit.
            width, height: size of the picture, px.
            ratio: device pixels per pixel.
            time: s.
        """
        painter.fillRect(QRect(0, 0, width, height), QColor(self.theme.paper))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(_fonts(self.font.toString())[0])
        if self.candidate is None or self.strip is None:
            pens = Pens(self.theme, 1.0, ratio, self.theme.candidate)
            readout.centred_note(painter, (width, height), _NOTE, pens)
        else:
            _Drawing(self, self.candidate, self.strip, (float(width), float(height)), ratio, time).draw(
                painter
            )

    @property
    def ghost(self) -> Actor | None:
        """The baseline where it is shown."""
        return self.baseline if self.options.ghost else None

    @property
    def behind(self) -> float:
        """How far behind the candidate the baseline drives, m; 0 where it is drawn over it."""
        if self.candidate is None or self.ghost is None or self.options.arrangement == "overlaid":
            return 0.0
        return distance_behind(self.candidate.paths.body, self.ghost.paths.body)


class _Drawing:
    """One picture on its way."""

    def __init__(
        self,
        picture: StagePicture,
        leader: Actor,
        strip: RoadStrip,
        size: tuple[float, float],
        ratio: float,
        time: float,
    ) -> None:
        self.picture, self.strip, self.size = picture, strip, size
        width, height = size
        ghost = picture.ghost
        bodies = (leader.paths.body, ghost.paths.body) if ghost else (leader.paths.body,)
        camera = fitted(width, height, bodies, picture.behind)
        self.windscreens: HorizonPlace | None = None
        if picture.options.horizon:
            self.windscreens = horizon_place(width, camera.y, len(bodies))
            if self.windscreens is not None:
                camera = fitted(width, height, bodies, picture.behind, self.windscreens.strip)
        self.camera = camera
        self.pens = Pens(picture.theme, camera.scale, ratio, picture.theme.candidate)
        self.lead = self._shown("candidate", leader, time, 0.0, self.pens)
        self.rise = strip.camera_height(self.lead.frame.distance, picture.exaggeration)
        self.other = None
        if ghost is not None:
            pens = Pens(picture.theme, camera.scale, ratio, picture.theme.baseline)
            self.other = self._shown("baseline", ghost, time, picture.behind, pens)
        self.cars = [car for car in (self.lead, self.other) if car is not None]

    def _shown(self, name: str, actor: Actor, time: float, behind: float, pens: Pens) -> _Shown:
        """A car; one that drives behind comes to the same place later, on posts at once."""
        analysis, exaggeration = actor.analysis, self.picture.exaggeration
        speed = road_speed(analysis)
        frame = stage_frame(analysis, time - behind / speed if speed else time, exaggeration)
        middle = frame.distance - analysis.vehicle.wheelbase / 2
        level = exaggeration * self.strip.level(middle)
        return _Shown(name, actor, frame, self.camera.behind(behind), level, pens)

    def draw(self, painter: QPainter) -> None:
        """From back to front."""
        picture, lead = self.picture, self.lead
        width, height = self.size
        small, _ = fonts = _fonts(picture.font.toString())
        far_side = any(car.actor.far_side for car in self.cars)
        ground = Ground(self.strip, lead.frame, self.camera, self.rise, width, self.pens)
        ground.draw_earth(painter)
        self._cars(painter)
        if picture.options.trace:
            for car in reversed(self.cars):
                self._path(painter, car)
        run = lead.actor.analysis.run
        if isinstance(run.event, SineSweep):
            for car in self.cars if picture.behind else [lead]:
                draw_posts(painter, car.frame, car.camera, car.actor.far_side, self.pens)
        else:
            ground.draw_lines(painter, far_side)
        draw_foot(painter, run.event, lead.frame, self.camera, (width, height), self.pens, picture.units)
        labels = [
            readout.draw_labels(painter, car.frame, car.camera, self.rise, car.pens, picture.units)
            for car in self._whole_cars()
        ]
        readout.draw_scale(painter, self.camera, picture.exaggeration, width, self.pens, picture.units)
        self._horizons(painter)
        y = self._words(painter, fonts)
        if picture.options.forces != "none":
            self._forces(painter, picture.options.forces, y, small)
        if picture.options.room:
            self._room(painter, small, labels)

    def _whole_cars(self) -> list[_Shown]:
        """Cars that are drawn in full."""
        return self.cars if self.picture.behind else [self.lead]

    def _cars(self, painter: QPainter) -> None:
        if self.picture.behind:
            for car in reversed(self.cars):
                painter.setTransform(car.camera.transform(self.rise))
                draw_body(painter, car.frame, car.actor.paths, car.actor.far_side, car.pens)
                draw_car(painter, car.frame, car.actor.paths, car.level, car.pens)
        else:
            lead = self.lead
            painter.setTransform(self.camera.transform(self.rise))
            draw_body(painter, lead.frame, lead.actor.paths, lead.actor.far_side, lead.pens)
            if self.other is not None:
                draw_ghost(painter, self.other.frame, self.other.actor.paths, self.other.pens)
            draw_car(painter, lead.frame, lead.actor.paths, lead.level, lead.pens)
        painter.resetTransform()

    def _path(self, painter: QPainter, car: _Shown) -> None:
        """Where the seat point came along."""
        camera = car.camera
        reach = camera.x / camera.scale + car.frame.hip.x
        path = car.actor.seat_path
        x, z = path.until(car.frame.time, car.frame.exaggeration, reach, _PATH_SPACING / camera.scale)
        painter.setPen(car.pens.line(car.pens.soft(car.pens.colour, _PATH_STRENGTH), 1.0))
        line = polygon(camera.x + camera.scale * x, camera.y - camera.scale * (z - self.rise))
        painter.drawPolyline(line)

    def _words(self, painter: QPainter, fonts: tuple[QFont, QFont]) -> float:
        """Clock, and attitude of the cars beside it or over each; gives the last base line, px."""
        units, behind = self.picture.units, self.picture.behind
        y = readout.draw_clock(painter, self.lead.frame, self.pens, units, fonts, stacked=behind > 0)
        if not behind:
            rows = [
                (car.name, car.frame, car.pens.colour, 3.0 if car is self.lead else 1.2) for car in self.cars
            ]
            return readout.draw_key(painter, rows, y, self.pens, units)
        for car in self.cars:
            body = car.actor.paths.body
            foot = car.camera.point(Point(body.tail, body.roof + _HEADING * ABOVE))
            left = max(foot.x() + 8.0, _CLOCK_WIDTH)
            end = car.camera.point(Point(body.nose, 0.0)).x() + 20.0
            name = car.name
            if car is self.other:
                name = f"{name}, {readout.running(behind, 'length', units, resolution=0.1)} behind"
            box = QRectF(left, 0.0, end - left, foot.y())
            readout.draw_heading(painter, name, car.frame, box, car.pens, units)
        return y

    def _horizons(self, painter: QPainter) -> None:
        place = self.windscreens
        if place is None:
            return
        for number, car in enumerate(self.cars):
            body, seat = car.actor.paths.body, car.actor.analysis.vehicle.seat
            view = view_of(car.frame, body.head.z + _EYE, seat.y)
            draw_horizon(painter, place, number, view, car.name, car.pens)
        draw_horizon_scale(painter, place, self.picture.exaggeration, self.pens, self.picture.units)

    def _forces(self, painter: QPainter, kind: Kind, y: float, small: QFont) -> None:
        cars = self._whole_cars()
        scale = newtons_per_metre([car.actor.analysis for car in cars], kind)
        letters = _lettering(small)
        for car in cars:
            shown = arrows(car.actor.analysis, car.frame, kind, scale)
            draw_arrows(painter, shown, car.camera, self.rise, car.pens, letters)
        parts = dict.fromkeys(part for car in cars for part in shown_parts(car.actor.analysis))
        painter.setFont(small)
        span = y + _FORCE_GAP, self.camera.y - 2.0
        per_pixel = scale / self.camera.scale
        draw_force_scale(painter, kind, per_pixel, span, self.pens, self.picture.units)
        draw_letters(painter, tuple(parts), self.size[1] - FOOT - 2.0, self.pens)

    def _room(self, painter: QPainter, small: QFont, labels: list[list[QRectF]]) -> None:
        """Travel to the stops, clearance and angles of the cars that are drawn in full."""
        units, letters = self.picture.units, _lettering(small)
        for car, words in zip(self._whole_cars(), labels, strict=True):
            analysis = car.actor.analysis
            gauges = travel_gauges(analysis, car.frame)
            taken = draw_gauges(painter, gauges, car.camera, self.rise, car.pens, units, letters)
            taken += readout.contact_boxes(car.frame, car.camera, self.rise)
            marks = clearance_marks(analysis, car.frame, car.actor.clearance)
            taken = draw_clearances(painter, marks, car.camera, self.rise, car.pens, units, letters, taken)
            steel = self.picture.hardware[0 if car is self.lead else 1]
            angles = angle_marks(analysis, car.frame, steel)
            draw_angles(painter, angles, car.camera, self.rise, car.pens, units, letters, taken + words)


def _lettering(small: QFont) -> QFont:
    """A size smaller still, for what is written into the drawing."""
    letters = QFont(small)
    letters.setPixelSize(11)
    return letters


@lru_cache(maxsize=4)
def _fonts(described: str) -> tuple[QFont, QFont]:
    """Small and large text with figures of equal width."""
    made = []
    for size in (12, 19):
        font = QFont()
        font.fromString(described)
        font.setPixelSize(size)
        font.setFeature(QFont.Tag("tnum"), 1)
        made.append(font)
    return made[0], made[1]
