"""Frequency weightings of ISO 2631-1 and ISO 2631-4 as transfer functions.

Each is a product of filters: a band limit (Butterworth high pass at f1 and low pass at f2), the transition
from acceleration to velocity (f3, f4, Q4), the upward step (f5, Q5, f6, Q6) and a gain.  With s = i 2πf,
w = 2πf_n and Q1 = Q2 = 1/√2:

    high pass   s² / (s² + w1 s/Q1 + w1²)
    low pass    1 / (1 + s/(Q2 w2) + (s/w2)²)
    transition  (1 + s/w3) / (1 + s/(Q4 w4) + (s/w4)²)
    step        (w5/w6)² (1 + s/(Q5 w5) + (s/w5)²) / (1 + s/(Q6 w6) + (s/w6)²)

The parameters are those of ISO 8041, as the table is reprinted in a manual of a measuring instrument
(https://www.easymanua.ls/larson-davis/hvm200/manual/686640?p=30); ISO 2631-1:1997, annex A, has the same
apart from Wb, which is of ISO 2631-4.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, pi, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["WEIGHTINGS", "Weighting", "weighting"]

Array = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]

_BUTTERWORTH = 1 / sqrt(2)


@dataclass(frozen=True, slots=True)
class Weighting:
    """Parameters of one weighting; frequencies in Hz, infinite where the part is left out.

    Attributes:
        use: what it weights.
        f1, f2: band limits.
        f3, f4, q4: transition; f3 alone infinite leaves a low pass of second order.
        f5, q5, f6, q6: upward step.
        gain: factor of the whole.
    """

    use: str
    f1: float
    f2: float
    f3: float = inf
    f4: float = inf
    q4: float = 1.0
    f5: float = inf
    q5: float = 1.0
    f6: float = inf
    q6: float = 1.0
    gain: float = 1.0

    def response(self, frequency: ArrayLike) -> ComplexArray:
        """Complex gain at the frequencies, Hz; same shape."""
        s: ComplexArray = 2j * pi * np.asarray(frequency, dtype=np.complex128)
        gain: ComplexArray = self.gain * s**2 / _pair(s, self.f1, _BUTTERWORTH) / (2 * pi * self.f1) ** 2
        gain = gain / _pair(s, self.f2, _BUTTERWORTH)
        gain = gain * (1 + s / (2 * pi * self.f3)) / _pair(s, self.f4, self.q4)
        if self.f5 < inf:
            step = _pair(s, self.f5, self.q5) / _pair(s, self.f6, self.q6)
            gain = gain * (self.f5 / self.f6) ** 2 * step
        return gain

    @property
    def decay(self) -> float:
        """Rate at which the slowest part of the free response dies away, 1/s.

        A pair of poles decays with w/(2 Q); all Q of the standard are above 1/2.
        """
        pairs = ((self.f1, _BUTTERWORTH), (self.f2, _BUTTERWORTH), (self.f4, self.q4), (self.f6, self.q6))
        return min(pi * frequency / q for frequency, q in pairs)


def _pair(s: ComplexArray, frequency: float, q: float) -> ComplexArray:
    """1 + s/(Q w) + (s/w)²; 1 for an infinite frequency."""
    x = s / (2 * pi * frequency)
    pair: ComplexArray = 1 + x / q + x**2
    return pair


#: Name of a weighting -> its parameters.
WEIGHTINGS: dict[str, Weighting] = {
    "Wk": Weighting("vertical at seat and feet", 0.4, 100.0, 12.5, 12.5, 0.63, 2.37, 0.91, 3.35, 0.91),
    "Wd": Weighting("horizontal at the seat; lateral and vertical at the back", 0.4, 100.0, 2.0, 2.0, 0.63),
    "Wc": Weighting("fore-aft at the seat back", 0.4, 100.0, 8.0, 8.0, 0.63),
    "We": Weighting("rotation at the seat", 0.4, 100.0, 1.0, 1.0, 0.63),
    "Wf": Weighting("motion sickness", 0.08, 0.63, inf, 0.25, 0.86, 0.0625, 0.80, 0.10, 0.80),
    "Wj": Weighting("vertical at the head lying down", 0.4, 100.0, f5=3.75, q5=0.91, f6=5.32, q6=0.91),
    "Wb": Weighting(
        "vertical in rail vehicles (ISO 2631-4)", 0.4, 100.0, 16.0, 16.0, 0.55, 2.5, 0.9, 4.0, 0.95, 1.024
    ),
}


def weighting(name: str, frequency: ArrayLike) -> ComplexArray:
    """Complex gain of a weighting.

    Args:
        name: key of :data:`WEIGHTINGS`.
        frequency: (F,) Hz, 0 or above.

    Raises:
        KeyError: there is no such weighting.
    """
    return WEIGHTINGS[name].response(frequency)
