"""A chart as plain data: curves, axes with units, marks.  Drawn elsewhere, on screen or on paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from models.units import KINDS, UnitChoice, factor

__all__ = ["Array", "Axis", "Chart", "Curve", "Form", "Mark", "Note", "Place", "Role", "Side", "Span"]

Array = NDArray[np.float64]
Role = Literal["candidate", "baseline", "other", "limit"]
Place = Literal["body", "front", "rear"]
Side = Literal["", "left", "right"]
Form = Literal["line", "path", "points"]


@dataclass(frozen=True, slots=True)
class Axis:
    """What is measured along an axis.

    Attributes:
        label: name of the quantity.
        kind: key in :data:`models.units.KINDS`.
        form: "value"; "power", a value that spans many decades; "psd", its square per Hz; "gain", its
            amplitude per amplitude of ``per``.
        per: kind of the input of a gain.
        sign: what a positive value means, in words.
        log: drawn in decades.
        names: what stands at 1, 2, ... in place of numbers, along x or, of lying bars, up y.
    """

    label: str
    kind: str
    form: Literal["value", "power", "psd", "gain"] = "value"
    per: str = ""
    sign: str = ""
    log: bool = False
    names: tuple[str, ...] = ()

    def display(self, units: UnitChoice) -> tuple[float, str]:
        """SI value of one unit of display, and its text: a shown number is SI value / scale."""
        unit, scale = self._unit(self.kind, units)
        if self.form == "psd":
            return scale**2, f"{_bracketed(unit)}²/Hz"
        if self.form == "gain":
            per_unit, per_scale = self._unit(self.per, units)
            return scale / per_scale, f"{_bracketed(unit)}/{_bracketed(per_unit)}"
        return scale, unit

    def title(self, units: UnitChoice) -> str:
        """Label with unit and sign: "Pitch angle (deg, nose down +)"; of names the label alone."""
        if self.names:
            return self.label
        return f"{self.label} ({self.unit_and_sign(units)})"

    def name_at(self, place: float) -> str:
        """Name nearest to a place; empty where there are no names."""
        if not self.names:
            return ""
        return self.names[min(max(round(place), 1), len(self.names)) - 1]

    def unit_and_sign(self, units: UnitChoice) -> str:
        """Unit and meaning of a positive value; of a pure number the meaning alone, where there is one.

        Names have neither.
        """
        if self.names:
            return ""
        unit = self.display(units)[1]
        return ", ".join(part for part in ("" if unit == "1" and self.sign else unit, self.sign) if part)

    @staticmethod
    def _unit(kind: str, units: UnitChoice) -> tuple[str, float]:
        unit = units[kind]
        return unit, factor(unit, KINDS[kind].si)


def _bracketed(unit: str) -> str:
    return f"({unit})" if any(sign in unit for sign in "/·") else unit


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """One line of a chart.

    Attributes:
        variant: name of the variant.
        label: place in words ("front left"), empty for the body.
        x, y: (N,) values, SI.
        role: candidate, baseline or one of the other variants, drawn as colour; a limit is faint.
        place: body and front solid, rear dashed.
        side: left heavy, right light; empty where both sides are the same.
        shade: number of an other variant, which picks its colour.
        form: a line over ascending x; a path that goes anywhere, in pieces where it is NaN; or points alone.
    """

    variant: str
    label: str
    x: Array
    y: Array
    role: Role = "candidate"
    place: Place = "body"
    side: Side = ""
    shade: int = 0
    form: Form = "line"

    @property
    def name(self) -> str:
        """Variant and place: "Softer rear, front left"."""
        return ", ".join(part for part in (self.variant, self.label) if part)

    @property
    def identity(self) -> tuple[str, ...]:
        """Everything but the numbers."""
        return (self.variant, self.label, self.role, self.place, self.side, str(self.shade), self.form)


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on the x axis worth a faint line, SI."""

    x: float
    label: str


@dataclass(frozen=True, slots=True)
class Note:
    """A short text at a place of the chart, SI."""

    x: float
    y: float
    text: str


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the x axis over which something lasts, SI; spans of one label share a row."""

    start: float
    end: float
    label: str
    role: Role = "candidate"


@dataclass(frozen=True, slots=True, eq=False)
class Chart:
    """A chart to be drawn: other variants first, then the baseline, and the candidate on top of them."""

    key: str
    title: str
    x: Axis
    y: Axis
    curves: tuple[Curve, ...]
    marks: tuple[Mark, ...] = ()
    spans: tuple[Span, ...] = ()
    notes: tuple[Note, ...] = ()

    @property
    def over_time(self) -> bool:
        """Whether the time cursor belongs on this chart."""
        return self.x.kind == "time"

    @property
    def measure(self) -> Axis:
        """The axis along which the chart measures: y, but x of lying bars."""
        return self.x if self.y.names else self.y

    @property
    def subject(self) -> tuple[object, ...]:
        """What the axes show; while it stays the same, a view keeps its ranges."""
        return (self.key, self.x, self.y)

    @property
    def curve_set(self) -> tuple[tuple[str, ...], ...]:
        """Which curves there are; while it stays the same, only numbers have changed."""
        return tuple(curve.identity for curve in self.curves)

    def extent(self, axis: Literal["x", "y"]) -> tuple[float, float]:
        """Least and greatest finite value of all curves, SI; positive ones only on a log axis.

        An axis of names holds them all.
        """
        own = self.x if axis == "x" else self.y
        if own.names:
            return 0.5, len(own.names) + 0.5
        log = own.log
        lows, highs = [], []
        for curve in self.curves:
            values = curve.x if axis == "x" else curve.y
            values = values[np.isfinite(values) & (values > 0)] if log else values[np.isfinite(values)]
            if values.size:
                lows.append(float(values.min()))
                highs.append(float(values.max()))
        if not lows:
            return (1.0, 1.0) if log else (0.0, 0.0)
        return min(lows), max(highs)
