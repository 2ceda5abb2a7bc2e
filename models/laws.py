"""Force laws of elements as plain mathematics: force and slope over deflection or speed.

A spring law is the change of force from design trim, so that law(0) = 0; the static force that trim sets
(preload) is kept beside it.  Deflections and forces are scalars or arrays in SI; torsional elements have
rad and N·m, fluid ones m³ and Pa.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.constants import atm

__all__ = ["Bilinear", "Cubic", "Digressive", "Gas", "Law", "Linear", "Progressive", "Table"]

Array = NDArray[np.float64]


class Law(Protocol):
    """A force law; arrays in, arrays of the same shape out."""

    def force(self, x: ArrayLike) -> Array:
        """Force at ``x``."""

    def slope(self, x: ArrayLike) -> Array:
        """Slope of the force at ``x``; at a kink the mean of both sides."""


@dataclass(frozen=True, slots=True)
class Linear:
    """F = k x."""

    k: float

    def force(self, x: ArrayLike) -> Array:
        return np.asarray(self.k * np.asarray(x, dtype=float))

    def slope(self, x: ArrayLike) -> Array:
        return np.full(np.shape(x), self.k)


@dataclass(frozen=True, slots=True)
class Cubic:
    """F = k x + c x³."""

    k: float
    c: float

    def force(self, x: ArrayLike) -> Array:
        x = np.asarray(x, dtype=float)
        return np.asarray((self.k + self.c * x**2) * x)

    def slope(self, x: ArrayLike) -> Array:
        x = np.asarray(x, dtype=float)
        return np.asarray(self.k + 3 * self.c * x**2)


@dataclass(frozen=True, slots=True)
class Progressive:
    """Stop in the direction ``sign``: F = sign (k p + c p²), p = max(sign x - gap, 0)."""

    gap: float
    k: float
    c: float
    sign: float = 1.0

    def force(self, x: ArrayLike) -> Array:
        p = np.maximum(self.sign * np.asarray(x, dtype=float) - self.gap, 0.0)
        return np.asarray(self.sign * (self.k + self.c * p) * p)

    def slope(self, x: ArrayLike) -> Array:
        x = np.asarray(x, dtype=float)
        p = self.sign * x - self.gap
        return np.where(p > 0, self.k + 2 * self.c * p, np.where(p == 0, 0.5 * self.k, 0.0))


@dataclass(frozen=True, slots=True)
class Table:
    """Straight lines between points and, with the end slopes, beyond them.

    Attributes:
        x: increasing places.
        f: forces there; law(0) = 0 is the caller's part.
    """

    x: tuple[float, ...]
    f: tuple[float, ...]

    @classmethod
    def through_zero(cls, x: Sequence[float], f: Sequence[float]) -> Table:
        """Table of the change of force from that at x = 0."""
        raw = cls(tuple(x), tuple(f))
        return cls(raw.x, tuple(float(value) for value in np.asarray(f) - raw.force(0.0)))

    def force(self, x: ArrayLike) -> Array:
        x = np.asarray(x, dtype=float)
        xs, fs = np.array(self.x), np.array(self.f)
        i = np.clip(np.searchsorted(xs, x, side="right") - 1, 0, xs.size - 2)
        slope = (fs[i + 1] - fs[i]) / (xs[i + 1] - xs[i])
        return np.asarray(fs[i] + slope * (x - xs[i]))

    def slope(self, x: ArrayLike) -> Array:
        x = np.asarray(x, dtype=float)
        xs = np.array(self.x)
        slopes = np.diff(self.f) / np.diff(xs)
        last = slopes.size - 1
        right = np.clip(np.searchsorted(xs, x, side="right") - 1, 0, last)
        left = np.clip(np.searchsorted(xs, x, side="left") - 1, 0, last)
        return np.asarray(0.5 * (slopes[left] + slopes[right]))


@dataclass(frozen=True, slots=True)
class Gas:
    """Polytropic gas: change of A (p0 (V0 / (V0 - A x))^n - p_atm) from x = 0.

    Past nine tenths of the volume the law goes on straight, so that no state divides by zero.

    Attributes:
        area: A, m² (1 for an element whose deflection is a volume).
        volume: V0, m³.
        exponent: n.
        static: static force over atmosphere, A (p0 - p_atm), N (or Pa).
    """

    area: float
    volume: float
    exponent: float
    static: float

    @property
    def pressure(self) -> float:
        """p0, absolute, Pa."""
        return self.static / self.area + float(atm)

    @property
    def end(self) -> float:
        """Deflection at nine tenths of the volume."""
        return 0.9 * self.volume / self.area

    def force(self, x: ArrayLike) -> Array:
        x = np.asarray(x, dtype=float)
        inside = np.minimum(x, self.end)
        full = self.area * self.pressure
        ratio = 1.0 - self.area * inside / self.volume
        return np.asarray(full * (ratio**-self.exponent - 1.0) + self.slope(self.end) * (x - inside))

    def slope(self, x: ArrayLike) -> Array:
        inside = np.minimum(np.asarray(x, dtype=float), self.end)
        ratio = 1.0 - self.area * inside / self.volume
        k = self.exponent * self.area**2 * self.pressure / self.volume
        return np.asarray(k * ratio ** (-self.exponent - 1.0))


@dataclass(frozen=True, slots=True)
class Bilinear:
    """Damper F = c v with one coefficient in jounce (v > 0) and one in rebound."""

    jounce: float
    rebound: float

    def force(self, x: ArrayLike) -> Array:
        x = np.asarray(x, dtype=float)
        return np.asarray(np.where(x > 0, self.jounce, self.rebound) * x)

    def slope(self, x: ArrayLike) -> Array:
        x = np.asarray(x, dtype=float)
        mean = 0.5 * (self.jounce + self.rebound)
        return np.where(x > 0, self.jounce, np.where(x < 0, self.rebound, mean))


@dataclass(frozen=True, slots=True)
class Digressive:
    """Bilinear damper whose slope falls to ``share`` of itself past the knee speed."""

    jounce: float
    rebound: float
    knee: float
    share: float

    def force(self, x: ArrayLike) -> Array:
        x = np.asarray(x, dtype=float)
        speed = np.abs(x)
        bent = np.minimum(speed, self.knee) + self.share * np.maximum(speed - self.knee, 0.0)
        return np.asarray(np.where(x > 0, self.jounce, self.rebound) * np.sign(x) * bent)

    def slope(self, x: ArrayLike) -> Array:
        x = np.asarray(x, dtype=float)
        before = Bilinear(self.jounce, self.rebound).slope(x)
        speed = np.abs(x)
        at_knee = 0.5 * (1 + self.share)
        return before * np.where(speed < self.knee, 1.0, np.where(speed > self.knee, self.share, at_knee))
