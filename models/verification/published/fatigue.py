"""Counting of cycles and damage: the example of the standard, and a narrow-band Gaussian history."""

from __future__ import annotations

from collections import Counter
from math import gamma, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from models.hardware.cycles import count_cycles, together
from models.hardware.fatigue import damage
from models.hardware.sn_curve import SNCurve
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER", "HISTORY"]

CHAPTER = Chapter("fatigue", "Cycles and fatigue")

ASTM = "ASTM E1049-85, Fig. 6"
HISTORY = np.array([-2.0, 1, -3, 5, -1, 3, -4, 4, -2])


@CHAPTER.check(
    "Counts by range of the standard's example",
    source=f"{ASTM}, in the tests of the rainflow package; the sequence in rdrr.io, addisonklinke/rainflow",
    status="seen",
    reason="counts are exact",
)
def counts_by_range() -> Numbers:
    """Sequence -2, 1, -3, 5, -1, 3, -4, 4, -2."""
    found = count_cycles(HISTORY)
    counts: Counter[float] = Counter()
    for size, count in zip(found.range.tolist(), found.count.tolist(), strict=True):
        counts[size] += count
    expected = {3.0: 0.5, 4.0: 1.5, 6.0: 0.5, 8.0: 1.0, 9.0: 0.5}
    yield beside("number of ranges", len(counts), len(expected))
    for size, count in expected.items():
        yield beside(f"cycles of range {size:g}", counts[size], count)


@CHAPTER.check(
    "Ranges and means in the order of counting",
    source=f"{ASTM}, sequence counted by hand with the rule of three points",
    status="computed apart",
    reason="counts are exact",
)
def cycles_in_order() -> Numbers:
    """The same sequence as it stands, and with points put between its turns, which change nothing."""
    ranges, means = [3, 4, 4, 8, 9, 8, 6], [-0.5, -1, 1, 1, 0.5, 0, 1]
    halves = [0.5, 0.5, 1, 0.5, 0.5, 0.5, 0.5]
    dense = np.interp(np.linspace(0, 8, 81), np.arange(9), HISTORY).repeat(2)
    for name, history in (("as it stands", HISTORY), ("with points between", dense)):
        found = count_cycles(history)
        yield beside(f"{name}: ranges", found.range, ranges)
        yield beside(f"{name}: means", found.mean, means)
        yield beside(f"{name}: counts", found.count, halves)


@CHAPTER.check(
    "Miner's sum of the standard's example",
    source=f"{ASTM}, Σ n ΔS^m by hand",
    status="closed form",
    reason="rounding",
)
def miners_sum() -> Numbers:
    """1094 for m = 3, 67 838 for m = 5; in MPa, on a line through 50 MPa at 1e5 cycles."""
    knee, cycles, unit = 50e6, 1e5, 1e6
    for slope, total in ((3.0, 1094.0), (5.0, 67838.0)):
        line = SNCurve(amplitude=knee, cycles=cycles, slope=slope, below="same slope", mean_rule="none")
        sum_ = damage(line, count_cycles(HISTORY * unit)) * cycles / (unit / 2 / knee) ** slope
        yield beside(f"Σ n ΔS^{slope:g}", sum_, total, relative=1e-12)


CENTRE, BAND, STEP, LENGTH, SIGMA, HISTORIES = 10.0, 1.0, 1 / 400, 2000.0, 60e6, 5


def narrow_band(generator: np.random.Generator) -> NDArray[np.float64]:
    """Lines of equal height and random phase between 9.5 and 10.5 Hz."""
    count = round(LENGTH / STEP)
    frequency = np.fft.rfftfreq(count, STEP)
    inside = np.abs(frequency - CENTRE) <= BAND / 2
    lines = np.zeros(len(frequency), dtype=complex)
    lines[inside] = np.exp(2j * pi * generator.random(inside.sum()))
    history = np.fft.irfft(lines, count)
    return np.asarray(SIGMA * history / history.std())


@CHAPTER.check(
    "Damage of a narrow-band Gaussian history",
    source="J. S. Bendat, Probability functions for random responses, NASA CR-33, 1964; peaks: S. O. Rice",
    status="from memory",
    reason="three standard errors, from B T independent samples of an envelope of bandwidth B and the "
    "relative variance Γ(1 + k)/Γ(1 + k/2)² - 1 of S^k; and 1 % for the samples beside the peaks (0.1 % of "
    "a peak in the mean at 40 per period, 0.5 % of its fifth power) and for a band that has a width; cycles "
    "to 1e-3, as realisations differ by some ten of 100,000",
)
def rayleigh_peaks() -> Numbers:
    """Damage D = ν T (√2 σ)^k Γ(1 + k/2)/C for N S^k = C, amplitudes of Rayleigh's distribution.

    60 MPa RMS between 9.5 and 10.5 Hz, five histories of 2000 s; √(m4/m2) peaks per second.
    """
    generator = np.random.default_rng(7)
    counted = together([count_cycles(narrow_band(generator)) for _ in range(HISTORIES)])
    rate, duration = sqrt(CENTRE**2 + BAND**2 / 12), HISTORIES * LENGTH
    peaks = sqrt((CENTRE**4 + CENTRE**2 * BAND**2 / 2 + BAND**4 / 80) / rate**2)
    yield beside("cycles", counted.count.sum(), peaks * duration, relative=1e-3)
    for slope in (3.0, 5.0):
        line = SNCurve(
            amplitude=100e6, cycles=1e6, slope=slope, below="same slope", mean_rule="none", damage_sum=1.0
        )
        mean_power = (sqrt(2) * SIGMA) ** slope * gamma(1 + slope / 2)
        expected = rate * duration * mean_power / (1e6 * 100e6**slope)
        error = sqrt((gamma(1 + slope) / gamma(1 + slope / 2) ** 2 - 1) / (BAND * duration))
        yield beside(f"damage at k = {slope:g}", damage(line, counted), expected, relative=3 * error + 0.01)
