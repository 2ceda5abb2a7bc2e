"""Measures of a weighted acceleration after ISO 2631-1:1997 (definitions and limits from memory).

Records are samples at equal steps; integrals over time are taken by the trapezoidal rule over the record,
which lasts (N - 1) steps.  A measure of a record of zeros is 0, and so are the ratios.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.comfort.weighting import weighting

__all__ = [
    "REACTIONS",
    "Measures",
    "estimated_dose_value",
    "measures",
    "motion_sickness_dose",
    "mtvv",
    "reactions",
    "rms",
    "rms_of_psd",
    "running_rms",
    "sickness_share",
    "total_value",
    "vibration_dose_value",
]

Array = NDArray[np.float64]

#: Integration time of the running RMS, s.
RUNNING_TIME = 1.0

#: Limits up to which the RMS alone is enough: crest factor, MTVV / a_w and VDV / (a_w T^¼).
CREST_LIMIT, MTVV_LIMIT, DOSE_LIMIT = 9.0, 1.5, 1.75

#: Share of people, not used to it, who vomit per motion sickness dose, (m/s^1.5)⁻¹: 1/3 of a per cent.
SICKNESS_PER_DOSE = 1 / 300

#: Words for a total value and the range they stand for, m/s² (annex C.2.3, for public transport, from memory;
#: the thresholds also in public scripts).  They overlap, and are information, not limits.
REACTIONS: tuple[tuple[str, float, float], ...] = (
    ("not uncomfortable", 0.0, 0.315),
    ("a little uncomfortable", 0.315, 0.63),
    ("fairly uncomfortable", 0.5, 1.0),
    ("uncomfortable", 0.8, 1.6),
    ("very uncomfortable", 1.25, 2.5),
    ("extremely uncomfortable", 2.0, np.inf),
)


def rms_of_psd(
    frequency: Array,
    psd: Array,
    name: str | None = None,
    band: tuple[float, float] | None = None,
) -> float:
    """RMS behind a weighting, from a spectrum: root of ∫ |W|² S df over the closed band.

    The weighted spectrum is taken as linear between the frequencies.

    Args:
        frequency: (F,) Hz, rising.
        psd: (F,) one-sided, unit squared per Hz.
        name: weighting; None for none.
        band: lowest and highest frequency, Hz; by default all that there is.

    Raises:
        ValueError: the band reaches beyond the frequencies.
    """
    density = psd if name is None else psd * np.abs(weighting(name, frequency)) ** 2
    if band is not None:
        low, high = band
        if not frequency[0] <= low < high <= frequency[-1]:
            raise ValueError(
                f"band {low:.6g} to {high:.6g} Hz is outside the allowed range "
                f"({frequency[0]:.6g} to {frequency[-1]:.6g} Hz)"
            )
        inside = frequency[(frequency > low) & (frequency < high)]
        cut = np.concatenate([[low], inside, [high]])
        frequency, density = cut, np.interp(cut, frequency, density)
    return float(np.sqrt(np.trapezoid(density, frequency)))


def rms(acceleration: Array, step: float) -> float:
    """Root mean square over the record."""
    return float(np.sqrt(_integral(acceleration**2, step) / _duration(acceleration, step)))


def vibration_dose_value(acceleration: Array, step: float) -> float:
    """VDV, (∫ a_w⁴ dt)^¼, m/s^1.75."""
    return float(_integral(acceleration**2 * acceleration**2, step) ** 0.25)


def estimated_dose_value(rms_value: float, duration: float) -> float:
    """eVDV, 1.4 a_w T^¼: the VDV of a vibration without shocks, m/s^1.75."""
    return 1.4 * rms_value * float(duration**0.25)


def running_rms(acceleration: Array, step: float) -> Array:
    """(N,) root mean square over the last second up to each sample; before the record all is at rest."""
    square = acceleration**2
    integral = np.concatenate([[0.0], np.cumsum(square[1:] + square[:-1]) * (step / 2)])
    time = step * np.arange(len(square))
    before = np.interp(time - RUNNING_TIME, time, integral)  # 0 where the second begins before the record
    root: Array = np.sqrt(np.maximum(integral - before, 0.0) / RUNNING_TIME)
    return root


def mtvv(acceleration: Array, step: float) -> float:
    """Maximum transient vibration value: greatest running RMS."""
    return float(running_rms(acceleration, step).max())


def motion_sickness_dose(acceleration: Array, step: float) -> float:
    """MSDV_z, (∫ a_w² dt)^½ of a vertical acceleration weighted by Wf, m/s^1.5."""
    return float(np.sqrt(_integral(acceleration**2, step)))


def sickness_share(dose: float) -> float:
    """Share of people (0 to 1) who may vomit after a motion sickness dose, Km · MSDV_z with Km = 1/3 %."""
    return min(SICKNESS_PER_DOSE * dose, 1.0)


def total_value(parts: Iterable[tuple[float, float]]) -> float:
    """Vibration total value a_v, √(Σ k² a_w²), of (k, a_w) of several axes or points."""
    return float(np.sqrt(sum((k * value) ** 2 for k, value in parts)))


def reactions(total: float) -> tuple[str, ...]:
    """Words of :data:`REACTIONS` whose ranges hold a total value, m/s²; one or two."""
    return tuple(word for word, low, high in REACTIONS if low <= total < high)


@dataclass(frozen=True, slots=True)
class Measures:
    """A weighted record in numbers; m/s², or rad/s² for a rotation.

    Attributes:
        duration: of the record, s.
        rms: weighted RMS a_w.
        peak: greatest magnitude.
        mtvv: greatest RMS over one second.
        dose: vibration dose value VDV, m/s^1.75.
    """

    duration: float
    rms: float
    peak: float
    mtvv: float
    dose: float

    @property
    def estimated_dose(self) -> float:
        """eVDV: what the VDV would be without shocks, m/s^1.75."""
        return estimated_dose_value(self.rms, self.duration)

    @property
    def crest_factor(self) -> float:
        """Peak / a_w."""
        return _ratio(self.peak, self.rms)

    @property
    def mtvv_ratio(self) -> float:
        """MTVV / a_w."""
        return _ratio(self.mtvv, self.rms)

    @property
    def dose_ratio(self) -> float:
        """VDV / (a_w T^¼)."""
        return _ratio(self.dose, self.rms * self.duration**0.25)

    @property
    def basic_method_suffices(self) -> bool:
        """Whether the RMS tells enough; else shocks have to be judged by the VDV or the MTVV."""
        return (
            self.crest_factor <= CREST_LIMIT
            and self.mtvv_ratio <= MTVV_LIMIT
            and self.dose_ratio <= DOSE_LIMIT
        )


def measures(acceleration: Array, step: float) -> Measures:
    """All measures of a weighted record (N,), N at least 2."""
    return Measures(
        duration=_duration(acceleration, step),
        rms=rms(acceleration, step),
        peak=float(np.abs(acceleration).max()),
        mtvv=mtvv(acceleration, step),
        dose=vibration_dose_value(acceleration, step),
    )


def _duration(acceleration: Array, step: float) -> float:
    return (len(acceleration) - 1) * step


def _integral(values: Array, step: float) -> float:
    """By the trapezoidal rule."""
    return step * float(values.sum() - (values[0] + values[-1]) / 2)


def _ratio(value: float, reference: float) -> float:
    return value / reference if reference > 0 else 0.0
