"""Spectrum of a profile, and the class of ISO 8608 that fits it.

The spectrum is Welch's: Hann windows that overlap by half, a straight line taken off each, at most 204.8 m
long, so that a kilometre gives nine of them.  Its lines are averaged in third octaves, of which each has a
known number of degrees of freedom, and ln Gd(n) = ln Gd(n0) - w ln(n/n0) is fitted to them by least squares,
weighted by what chance alone does to them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import digamma, polygamma, stdtrit

from models.errors import InputError
from models.roads.surface import REFERENCE_WAVENUMBER, RoughSurface, road_class

__all__ = ["BAND", "SurfaceFit", "ThirdOctaves", "fit_surface", "spectrum", "third_octaves"]

Array = NDArray[np.float64]

#: Wavenumbers in which ISO 8608 has roads fitted, cycles/m.
BAND = (0.011, 2.83)
#: Longest window, m.
WINDOW = 204.8
#: Share of intervals that hold the true value.
CONFIDENCE = 0.95

# Lines at the lower end that the straight line taken off and the window falsify, and the share of the
# highest wavenumber up to which points joined by straight lines keep their height.
_FIRST_LINE, _HIGHEST_SHARE = 3.0, 0.5
_FEWEST_BANDS = 4
# Far below the smoothest road, and above what rounding leaves of a flat one, m³.
_FLAT = 1e-18
# Squared correlation of neighbouring windows that overlap by half, and of lines one and two apart (Hann).
_WINDOWS_ALIKE, _LINES_ALIKE = (1 / 6) ** 2, ((2 / 3) ** 2, (1 / 6) ** 2)


@dataclass(frozen=True, eq=False)
class ThirdOctaves:
    """Spectrum averaged in third octaves.

    Attributes:
        n: (B,) middle of each, as mean of the logarithms of its lines, cycles/m.
        psd: (B,) m³.
        freedom: (B,) degrees of freedom of each.
    """

    n: Array
    psd: Array
    freedom: Array


@dataclass(frozen=True)
class SurfaceFit:
    """Straight line of a spectrum in logarithms, with 95 % intervals.

    Attributes:
        roughness: Gd(n0), m³.
        roughness_interval: m³.
        waviness: w.
        waviness_interval: of the same.
        band: wavenumbers fitted, cycles/m.
        letter: class of ISO 8608 of Gd(n0).
        extrapolated: n0 lies outside the band.
    """

    roughness: float
    roughness_interval: tuple[float, float]
    waviness: float
    waviness_interval: tuple[float, float]
    band: tuple[float, float]
    letter: str
    extrapolated: bool

    def psd(self, n: Array) -> Array:
        """Fitted spectrum, m³."""
        line: Array = self.roughness * (n / REFERENCE_WAVENUMBER) ** -self.waviness
        return line

    def surface(self) -> RoughSurface:
        """Random surface of this fit, as near as its limits allow; raises a validation error elsewhere."""
        return RoughSurface(roughness=self.roughness, waviness=self.waviness)


def spectrum(heights: Array, step: float) -> tuple[Array, Array]:
    """(F,) wavenumbers above 0, cycles/m, and (..., F) one-sided PSD, m³.

    Args:
        heights: (..., N) profiles, m.
        step: distance of two points, m.
    """
    from scipy.signal import welch  # a third of a second to import: only when a road is judged

    n, psd = welch(
        heights, 1 / step, window="hann", nperseg=_window(heights.shape[-1], step), detrend="linear", axis=-1
    )
    return n[1:], psd[..., 1:]


def third_octaves(heights: Array, step: float, band: tuple[float, float] = BAND) -> ThirdOctaves:
    """Spectrum of one profile (N,), or the mean of that of several (..., N), in third octaves of the band.

    Several count as one when it comes to chance: two tracks are alike in their long waves.

    Raises:
        InputError: the road is too short or its points stand too far apart for a band.
    """
    points = heights.shape[-1]
    size = _window(points, step)
    n, psd = spectrum(heights, step)
    psd = psd.reshape(-1, len(n)).mean(axis=0)
    low = max(band[0], _FIRST_LINE / (size * step))
    high = min(band[1], _HIGHEST_SHARE * 0.5 / step)
    bands = 3 * np.log2(high / low) if high > low else 0.0
    if bands < _FEWEST_BANDS:
        reason = (
            f"{points} points, {step:g} m apart, leave waves of {1 / high:.3g} to {1 / low:.3g} m; "
            "a fit needs a longer road or closer points"
        )
        raise InputError.of("road", points, reason)
    edges = np.geomspace(low, high, int(bands) + 1)
    index = np.digitize(n, edges) - 1
    groups = [np.flatnonzero(index == number) for number in range(int(bands))]
    groups = [group for group in groups if len(group)]
    windows = 1 + 2 * (points - size) // size
    return ThirdOctaves(
        n=np.array([np.exp(np.log(n[group]).mean()) for group in groups]),
        psd=np.array([psd[group].mean() for group in groups]),
        freedom=np.array([2 * _independent_windows(windows) * _independent_lines(len(g)) for g in groups]),
    )


def fit_surface(heights: Array, step: float, band: tuple[float, float] = BAND) -> SurfaceFit:
    """Class that fits one profile (N,), or the mean of the spectra of several (..., N).

    Args:
        heights: profiles, m.
        step: distance of two points, m.
        band: wavenumbers to fit, cycles/m, as far as the road shows them.

    Raises:
        InputError: the road is too short, too coarse, or flat.
    """
    bands = third_octaves(heights, step, band)
    if bands.psd.min() < _FLAT:
        raise InputError.of("road", 0.0, "the road is flat within the band; there is nothing to fit")
    half = bands.freedom / 2
    # ln of a mean square of few degrees of freedom lies below the ln of what it estimates.
    level = np.log(bands.psd) - (digamma(half) - np.log(half))
    basis = np.stack([np.ones_like(level), -np.log(bands.n / REFERENCE_WAVENUMBER)], axis=1)
    weight = 1 / polygamma(1, half)
    covariance = np.linalg.inv(basis.T @ (weight[:, None] * basis))
    found = covariance @ basis.T @ (weight * level)
    left = len(level) - 2
    misfit = float(weight @ (level - basis @ found) ** 2) / left
    # Scatter beyond chance means that the road is no straight line: the interval grows with it.
    reach = float(stdtrit(left, (1 + CONFIDENCE) / 2)) * np.sqrt(max(misfit, 1.0) * np.diag(covariance))
    (level_low, wave_low), (level_high, wave_high) = found - reach, found + reach
    low, high = float(bands.n[0]), float(bands.n[-1])
    roughness = float(np.exp(found[0]))
    return SurfaceFit(
        roughness=roughness,
        roughness_interval=(float(np.exp(level_low)), float(np.exp(level_high))),
        waviness=float(found[1]),
        waviness_interval=(float(wave_low), float(wave_high)),
        band=(low, high),
        letter=road_class(roughness),
        extrapolated=not low <= REFERENCE_WAVENUMBER <= high,
    )


def _window(points: int, step: float) -> int:
    return min(points, max(8, round(WINDOW / step)))


def _independent_windows(windows: int) -> float:
    return windows / (1 + 2 * (windows - 1) / windows * _WINDOWS_ALIKE)


def _independent_lines(lines: int) -> float:
    near, far = _LINES_ALIKE
    shared = 2 * (lines - 1) / lines * near + 2 * max(lines - 2, 0) / lines * far
    return lines / (1 + shared)
