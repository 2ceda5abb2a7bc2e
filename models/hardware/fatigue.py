"""Life of a part from the cycles of its stress: mean stress, S–N line, Miner's sum, reliability.

Stress in these functions is that for which the S–N line is given, its ``stress_factor`` not yet applied.
Mean stress counts by its size: in shear its sign has no meaning, and of a bent bar one side is in tension.
"""

from __future__ import annotations

from math import inf, log, sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import ndtri

from models.hardware.cycles import Cycles
from models.hardware.sn_curve import SNCurve, StressType

__all__ = [
    "NOT_COVERED",
    "cycles_to_failure",
    "damage",
    "in_stress_of",
    "life_factor",
    "line_amplitude",
    "stress_margin",
]

Array = NDArray[np.float64]

#: What an estimate of life leaves out.
NOT_COVERED: tuple[str, ...] = (
    "Corrosion, stone chips, wear in bushes and splines.",
    "Notches, surface, size and residual stress, but for what the S–N line and its stress factor hold.",
    "Setting and creep, and the sense of a pre-set bar: mean stress counts the same in both directions.",
    "Local bending and clamping of ends, levers, bolts and welds.",
    "Abuse that is no road of the mix, load changes, jacking, braking and cornering, cycles from one road to "
    "another.",
    "That the order of large and small loads matters; Miner's sum knows no order.",
)

_LIMITS = (1e-3, 1e3)


def in_stress_of(line: SNCurve, stress: StressType) -> float:
    """What a stress counts on the line: 1, or √3 between shear and normal stress (von Mises)."""
    if stress == line.stress:
        return 1.0
    return sqrt(3.0) if line.stress == "normal" else 1 / sqrt(3.0)


def line_amplitude(line: SNCurve, amplitude: Array, mean: Array) -> Array:
    """Amplitude at the stress ratio of the line that does the same damage, Pa.

    Args:
        line: its mean-stress rule.
        amplitude, mean: of the cycles, alike in shape, Pa.
    """
    if line.mean_rule == "none":
        return amplitude
    mean = np.abs(mean)
    of_line = (1 + line.ratio) / (1 - line.ratio)  # mean over amplitude
    if line.mean_rule == "Goodman":
        left = 1 - mean / line.ultimate
        reversed_ = np.divide(amplitude, left, out=np.full(np.shape(amplitude), inf), where=left > 0)
        with np.errstate(invalid="ignore"):
            back: Array = reversed_ / (1 + reversed_ * of_line / line.ultimate)
        return np.where(np.isfinite(reversed_), back, inf)
    safe = np.where(amplitude > 0, amplitude, 1.0)
    factor: Array = _haigh(line.sensitivity, mean / safe) / _haigh(line.sensitivity, np.array(of_line))
    return amplitude * factor


def cycles_to_failure(line: SNCurve, amplitude: Array) -> Array:
    """Life of the line at amplitudes of its own stress ratio, cycles; infinite where none does damage."""
    rate = _rate(line, amplitude)
    life: Array = np.divide(1.0, rate, out=np.full(rate.shape, inf), where=rate > 0)
    return life


def damage(line: SNCurve, cycles: Cycles) -> float:
    """Miner's sum n/N over the damage at failure: 1 where a part on the line fails."""
    factor = line.stress_factor
    amplitude = line_amplitude(line, factor * cycles.range / 2, factor * cycles.mean)
    return float(np.sum(cycles.count * _rate(line, amplitude))) / line.damage_sum


def life_factor(line: SNCurve, reliability: float) -> float:
    """Life that a share of the parts survives, over the life of the line; lives are log-normal."""
    return float(10 ** (line.scatter * (ndtri(line.survival) - ndtri(reliability))))


def stress_margin(line: SNCurve, cycles: Cycles, repeats: float) -> float:
    """Factor by which all stress may grow until the cycles do damage 1 in ``repeats`` times of them.

    Args:
        line: its rules; the factor acts on amplitude and mean stress.
        cycles: of one passing.
        repeats: passings that the part should last, the scatter of life included.

    Returns:
        0.001 to 1000, the ends standing for anything beyond; infinite without cycles.
    """
    if not len(cycles.range):
        return inf

    def excess(power: float) -> float:
        done = repeats * damage(line, cycles.scaled(float(np.exp(power))))
        return min(max(log(done), -700.0), 700.0) if 0 < done < inf else (700.0 if done else -700.0)

    low, high = (log(limit) for limit in _LIMITS)
    if excess(low) >= 0 or excess(high) <= 0:
        return _LIMITS[0] if excess(low) >= 0 else _LIMITS[1]
    return float(np.exp(brentq(excess, low, high, xtol=1e-9)))


def _haigh(sensitivity: float, mean: Array) -> Array:
    """Amplitude at R = -1 over an amplitude at mean stress ``mean``, which is given in amplitudes."""
    third = sensitivity / 3
    bend = (1 + sensitivity) / (1 + third)
    return np.where(mean <= 1, 1 + sensitivity * mean, bend * (1 + third * np.minimum(mean, 3.0)))


def _rate(line: SNCurve, amplitude: Array) -> Array:
    """Damage of one cycle, 1/N."""
    relative = np.asarray(amplitude, dtype=np.float64) / line.amplitude
    slope = {"second slope": line.second_slope, "same slope": line.slope, "endurance limit": inf}[line.below]
    rate: Array = (
        np.where(relative >= 1, relative**line.slope, np.minimum(relative, 1.0) ** slope) / line.cycles
    )
    return np.where(relative < max(line.omitted, 1.0 if slope == inf else 0.0), 0.0, rate)
