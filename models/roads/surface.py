"""Random surface of ISO 8608: spectrum of one track and coherence of two.

Wavenumbers n are in cycles per metre; spectra are one-sided.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import gamma, k1, kv

from models.fields import Part, Quantity

__all__ = [
    "REFERENCE_WAVENUMBER",
    "ROAD_CLASSES",
    "RoughSurface",
    "Roughness",
    "Waviness",
    "coherence",
    "displacement_psd",
    "road_class",
]

Array = NDArray[np.float64]

#: n0 of ISO 8608, cycles/m.
REFERENCE_WAVENUMBER = 0.1

#: Geometric mean of Gd(n0) of each class of ISO 8608, m³; a class ends at twice its mean.
ROAD_CLASSES: dict[str, float] = {letter: 16e-6 * 4**step for step, letter in enumerate("ABCDEFGH")}


Roughness = Annotated[
    float,
    Quantity(
        "road roughness",
        "Roughness",
        "Gd(n0): power spectral density of height at 0.1 cycles/m; 256 cm³ is the middle of class C.",
        low=1e-8,
        high=1.0,
        typical=(4e-6, 1024e-6),
    ),
]
Waviness = Annotated[
    float,
    Quantity(
        "ratio",
        "Waviness",
        "Exponent w of the spectrum; a higher one has more of the long waves. 2 is the usual road.",
        low=1.1,
        high=4.0,
        typical=(1.5, 3.0),
    ),
]


class RoughSurface(Part):
    """Random road surface, alike in all directions: Gd(n) = Gd(n0) (n/n0)^-w, n0 = 0.1 cycles/m."""

    roughness: Roughness = ROAD_CLASSES["C"]
    waviness: Waviness = 2.0


def displacement_psd(surface: RoughSurface, n: ArrayLike) -> Array:
    """One-sided PSD of the height of one track, m³ (m² per cycle/m), in the shape of ``n``.

    Gd(n) = Gd(n0) (n/n0)^-w (ISO 8608).

    Args:
        surface: the road.
        n: wavenumber, cycles/m, above 0.
    """
    wavenumber = np.asarray(n, dtype=np.float64)
    return surface.roughness * (wavenumber / REFERENCE_WAVENUMBER) ** -surface.waviness


def coherence(surface: RoughSurface, n: ArrayLike, track: ArrayLike) -> Array:
    """γ(n): cross-spectrum of left and right track over the spectrum of one, 0 to 1.

    For a surface alike in all directions γ = 2^(1-w/2)/Γ(w/2) x^(w/2) K_{w/2}(x) with x = 2π n t
    (Dodds and Robson, J. Sound Vib. 31 (1973) 175).  The ordinary coherence is γ².

    Args:
        surface: the road.
        n: wavenumber, cycles/m, 0 or above.
        track: distance of the two tracks t, m; broadcast with ``n``.
    """
    x = 2 * np.pi * np.asarray(n, dtype=np.float64) * np.asarray(track, dtype=np.float64)
    order = surface.waviness / 2
    result = np.zeros_like(x)
    # Above 40 γ is below 1e-14; at 0 the product is 0 · ∞ and its limit 1.
    inside = (x > 1e-9) & (x < 40.0)
    near = x[inside]
    # For the usual road, whose order is 1, three times as fast.
    bessel = k1(near) if order == 1 else kv(order, near)
    result[inside] = 2 ** (1 - order) / gamma(order) * near**order * bessel
    result[x <= 1e-9] = 1.0
    return np.clip(result, 0.0, 1.0)


def road_class(roughness: float) -> str:
    """Letter A to H of the class that holds ``roughness`` (Gd(n0), m³); H has no upper limit."""
    for letter, mean in ROAD_CLASSES.items():
        if roughness < 2 * mean:
            return letter
    return "H"
