"""Arrows of the forces on one side of a car: where they stand and how long they are, without a screen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from models.analysis import Analysis
from models.ride.corner_forces import PARTS, corner_forces, fitted_parts
from workbench.stage.running_gear import Bar, Wheel
from workbench.stage.scene import Frame, sample_at
from workbench.stage.silhouette import Point

__all__ = ["LETTERS", "Arrow", "Kind", "arrows", "newtons_per_metre", "shown_parts"]

Kind = Literal["change", "whole"]

#: Part -> letter at its arrow.
LETTERS = {
    "tyre": "t",
    "spring": "s",
    "stop": "e",
    "damper": "d",
    "stabiliser": "r",
    "interconnection": "i",
    "trim spring": "k",
    "diagonal coupling": "x",
}
#: Length of the largest tyre force of the runs, m in the drawing.
_LONGEST = 0.60
#: The tyre's arrow stands this far beside the wheel centre, in radii.
_BESIDE = 1.16
#: Corners of the near side.
_NEAR = (1, 3)


@dataclass(frozen=True, slots=True)
class Arrow:
    """A force at its place.

    Attributes:
        tail: where it starts.
        height: drawn length upward, m; below zero it points down.
        part: key of :data:`LETTERS`.
    """

    tail: Point
    height: float
    part: str


def shown_parts(analysis: Analysis) -> tuple[str, ...]:
    """Parts that have arrows: the tyre, and what the car has."""
    fitted = fitted_parts(analysis.car)
    return tuple(part for part in LETTERS if part == "tyre" or part in fitted)


def newtons_per_metre(analyses: Sequence[Analysis], kind: Kind) -> float:
    """Scale of the arrows, N per metre of the drawing: the largest tyre force has about the longest."""
    loads = [analysis.tyre_load for analysis in analyses]
    largest = max(
        float(np.abs(load if kind == "whole" else load - load[:, :1]).max(initial=1.0)) for load in loads
    )
    return largest / _LONGEST


def arrows(analysis: Analysis, frame: Frame, kind: Kind, scale: float) -> list[Arrow]:
    """Arrows of the near side at the time of a frame; ``scale`` in N per metre of the drawing."""
    sample = sample_at(analysis, frame.time)
    response = analysis.nonlinear.response if analysis.nonlinear else None
    forces = corner_forces(
        analysis.car, analysis.model, analysis.stand, analysis.time, response, slice(sample, sample + 1)
    )
    load = analysis.tyre_load
    tyre, parts = load[:, sample], forces.force[:, :, 0]
    if kind == "change":
        tyre, parts = tyre - load[:, 0], parts - forces.rest
    values = dict(zip(PARTS, parts, strict=True)) | {"tyre": tyre}
    shown = shown_parts(analysis)
    made = []
    for corner, wheel in zip(_NEAR, (frame.near.front, frame.near.rear), strict=True):
        for part in shown:
            tail = _place(part, wheel, frame)
            made.append(Arrow(tail, float(values[part][corner]) / scale, part))
    return made


def _place(part: str, wheel: Wheel, frame: Frame) -> Point:
    """Where a part presses on the body, or the road on the wheel."""
    aside = wheel.outward * wheel.radius
    match part:
        case "tyre":
            return Point(wheel.centre.x + _BESIDE * aside, wheel.road)
        case "spring" if wheel.spring:
            return wheel.spring.mount
        case "damper" if wheel.damper:
            return wheel.damper.mount
        case "stabiliser" if wheel.stabiliser:
            return wheel.stabiliser.mount
        case "interconnection" if wheel.cylinder:
            return wheel.cylinder.mount
        case "interconnection" if isinstance(frame.link, Bar):
            lever = frame.link.front if wheel.outward > 0 else frame.link.rear
            return lever.root
        case "trim spring":
            return Point(wheel.pivot.x - 0.4 * aside, wheel.pivot.z)
        case "diagonal coupling":
            return frame.near.pose.place(wheel.centre.x - 0.9 * aside, 2.4 * wheel.radius)
    return frame.near.pose.place(wheel.centre.x + 0.3 * aside, 2.75 * wheel.radius)
