"""Paints a chain into its two views."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPolygonF

from models.charts.chart import Array
from models.charts.ticks import round_ticks
from models.linkage import Drawn
from models.units import KINDS, UnitChoice, factor
from workbench.pages.linkage.sheet import SIDE, VIEWS, Sheet, View
from workbench.theme import Theme

__all__ = ["PATH", "Shown", "draw_chain", "draw_ground"]

#: Number of the first of the travels along which joints are drawn.
PATH = 4
#: Half of what is drawn of the axis of a body, m.
_AXIS = 0.04
_ACROSS, _UP = 46.0, 24.0  # room of a number, px
_JOINT = 2.6


@dataclass(frozen=True, eq=False)
class Shown:
    """A chain as it is drawn.

    Attributes:
        at: the chain at the travel shown, at design trim, in full rebound, in full jounce, and from
            :data:`PATH` on over its travel.
        radius: of the tyre, m.
    """

    at: Drawn
    radius: float

    @property
    def extent(self) -> Array:
        """(n, 3) all that has to be in sight."""
        joints = [joint for body in self.at.bodies for joint in (body.inlet, body.outlet, body.at[None, :])]
        return np.concatenate([*joints, np.zeros((1, 3))])


def draw_ground(painter: QPainter, sheet: Sheet, theme: Theme, units: UnitChoice) -> None:
    """Grid with its numbers, titles, and the middle of the wheel."""
    unit = units["travel"]
    scale = factor(unit, KINDS["travel"].si)
    rule, faint = QColor(theme.rule), QColor(theme.faint)
    for view in VIEWS:
        pane = sheet.panes[view]
        painter.setPen(QPen(rule, 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(pane)
        _rulers(painter, sheet, view, scale, rule, faint)
        painter.setPen(QColor(theme.ink))
        room = QRectF(pane.left(), 2, pane.width(), pane.top() - 4)
        text = painter.fontMetrics().elidedText(
            f"{view.title} ({unit})", Qt.TextElideMode.ElideRight, int(room.width())
        )
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text)


def _rulers(painter: QPainter, sheet: Sheet, view: View, scale: float, rule: QColor, faint: QColor) -> None:
    pane, metrics = sheet.panes[view], painter.fontMetrics()
    for across in (True, False):
        low, high = (end / scale for end in sheet.span(view, across))
        length = pane.width() if across else pane.height()
        for tick in round_ticks(low, high, max(int(length / (_ACROSS if across else _UP)), 3)):
            share = (tick.place - low) / (high - low)
            painter.setPen(faint if tick.place == 0 else rule)
            if across:
                x = round(pane.left() + share * pane.width()) + 0.5
                painter.drawLine(QPointF(x, pane.top()), QPointF(x, pane.bottom()))
            else:
                y = round(pane.bottom() - share * pane.height()) + 0.5
                painter.drawLine(QPointF(pane.left(), y), QPointF(pane.right(), y))
            painter.setPen(faint)
            width = metrics.horizontalAdvance(tick.text)
            if across and pane.left() <= x - width / 2 and x + width / 2 <= pane.right():
                painter.drawText(QPointF(x - width / 2, pane.bottom() + metrics.ascent() + 2), tick.text)
            elif not across and view is SIDE:
                painter.drawText(QPointF(pane.left() - width - 5, y + metrics.ascent() / 2 - 1), tick.text)


def draw_chain(painter: QPainter, sheet: Sheet, shown: Shown, theme: Theme, ends: bool) -> None:
    """The chain at the travel shown; behind it at design trim and, with ``ends``, in rebound and jounce."""
    soft = _mixed(theme.candidate, theme.paper, 0.14)
    strong = QColor(theme.candidate)
    ghost, faint = _mixed(theme.baseline, theme.paper, 0.75), _mixed(theme.baseline, theme.paper, 0.42)
    at_trim = float(shown.at.travel[0]) == 0.0
    for view in VIEWS:
        painter.save()
        painter.setClipRect(sheet.panes[view])
        _wheel(painter, sheet, view, shown, theme)
        if ends:
            for number in (2, 3):
                _pose(painter, sheet, view, shown.at, number, QPen(faint, 1.0), None)
            _paths(painter, sheet, view, shown.at, faint)
        if not at_trim:
            _pose(painter, sheet, view, shown.at, 1, QPen(ghost, 1.2), None)
        _pose(painter, sheet, view, shown.at, 0, QPen(strong, 2.2), QBrush(soft))
        _axes(painter, sheet, view, shown.at, QColor(theme.ink))
        painter.restore()


def _wheel(painter: QPainter, sheet: Sheet, view: View, shown: Shown, theme: Theme) -> None:
    """Circle of the tyre from the side; its middle plane from the front."""
    lift = float(shown.at.travel[0])
    centre = sheet.place(view, (0.0, 0.0, lift))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if view is SIDE:
        painter.setPen(QPen(_mixed(theme.faint, theme.paper, 0.5), 1.4))
        painter.drawEllipse(centre, sheet.scale * shown.radius, sheet.scale * shown.radius)
    else:
        painter.setPen(_dash_dot(_mixed(theme.faint, theme.paper, 0.7)))
        reach = sheet.scale * shown.radius
        painter.drawLine(QPointF(centre.x(), centre.y() - reach), QPointF(centre.x(), centre.y() + reach))
    painter.setPen(QPen(QColor(theme.faint), 1.2))
    for x, y in ((5.0, 0.0), (0.0, 5.0)):
        painter.drawLine(centre - QPointF(x, y), centre + QPointF(x, y))


def _pose(
    painter: QPainter, sheet: Sheet, view: View, at: Drawn, number: int, pen: QPen, fill: QBrush | None
) -> None:
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(fill or Qt.BrushStyle.NoBrush)
    for body in at.bodies:
        corners = (body.at, body.inlet[number], body.outlet[number])
        painter.drawPolygon(QPolygonF([sheet.place(view, corner) for corner in corners]))
    for link in at.links:
        painter.drawLine(sheet.place(view, link.start[number]), sheet.place(view, link.end[number]))
    if fill is not None:
        painter.setBrush(QBrush(pen.color()))
        for body in at.bodies:
            for joint in (body.inlet[number], body.outlet[number]):
                painter.drawEllipse(sheet.place(view, joint), _JOINT, _JOINT)


def _paths(painter: QPainter, sheet: Sheet, view: View, at: Drawn, colour: QColor) -> None:
    painter.setPen(QPen(colour, 1.0, Qt.PenStyle.DotLine))
    for body in at.bodies:
        for joint in (body.inlet, body.outlet):
            painter.drawPolyline(sheet.line(view, joint[PATH:]))


def _axes(painter: QPainter, sheet: Sheet, view: View, at: Drawn, colour: QColor) -> None:
    """What is fixed to the car: the axes on which the bodies turn."""
    painter.setPen(_dash_dot(colour))
    for body in at.bodies:
        reach = _AXIS * body.axis
        painter.drawLine(sheet.place(view, body.at - reach), sheet.place(view, body.at + reach))


def _dash_dot(colour: QColor) -> QPen:
    pen = QPen(colour, 1.0)
    pen.setDashPattern([9.0, 3.0, 1.5, 3.0])
    return pen


def _mixed(colour: str, ground: str, share: float) -> QColor:
    over, under = QColor(colour), QColor(ground)
    return QColor.fromRgbF(
        share * over.redF() + (1 - share) * under.redF(),
        share * over.greenF() + (1 - share) * under.greenF(),
        share * over.blueF() + (1 - share) * under.blueF(),
    )
