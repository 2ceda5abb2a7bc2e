"""A random road out of its spectrum, the same for a seed whatever the speed or the length of a run.

The mean height of the two tracks and half their difference are independent Gaussian processes with
the spectra G (1 + γ)/2 and G (1 - γ)/2.  Each is made by inverse FFT from complex Gaussian
amplitudes, not from fixed amplitudes with random phases, so that spectra and RMS values scatter from
seed to seed as those of real stretches of road do.

The road is laid in blocks of 819.2 m, sampled every 25 mm, each from its own random stream
(seed, block number).  Block 0 begins at distance zero and is always the same; further blocks are
made only if a run gets there.  Neighbours overlap by 102.4 m, where they are blended with weights
whose squares add up to one, which keeps the variance.  Waves from one block length down to 100 mm
(10 cycles/m, the upper limit of ISO 8608) are present.  Samples are joined by straight lines, which
takes 0.8 % from the height of waves of 0.5 m.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy import fft

from models.roads.surface import RoughSurface, coherence, displacement_psd

__all__ = ["random_heights"]

Array = NDArray[np.float64]

SAMPLE_DISTANCE = 0.025
BLOCK_SAMPLES = 2**15
OVERLAP_SAMPLES = 2**12
HIGHEST_WAVENUMBER = 10.0
FADE_LENGTH = 5.0

_STRIDE = BLOCK_SAMPLES - OVERLAP_SAMPLES


def random_heights(surface: RoughSurface, seed: int, distance: Array, track: float) -> Array:
    """(2, N) height of the left and the right track, m.

    Flat up to distance zero; from there measured from the height at zero and faded in over 5 m, so
    that a run begins at rest.

    Args:
        surface: spectrum of the road.
        seed: picks the road.
        distance: (N,) m.
        track: distance of the two tracks, m.
    """
    furthest = max(float(distance.max(initial=0.0)), 0.0)
    heights = _lay(surface, seed, int(furthest / SAMPLE_DISTANCE) + 2, track)
    heights -= heights[:, :1]
    place = np.arange(heights.shape[1]) * SAMPLE_DISTANCE
    ahead = np.maximum(distance, 0.0)
    faded = np.sin(np.pi / 2 * np.clip(ahead / FADE_LENGTH, 0.0, 1.0)) ** 2
    mean, half_difference = (faded * np.interp(ahead, place, row) for row in heights)
    return np.stack([mean + half_difference, mean - half_difference])


def _lay(surface: RoughSurface, seed: int, samples: int, track: float) -> Array:
    """(2, samples) mean of the tracks and half their difference, blocks joined, m."""
    amplitudes = _amplitudes(surface, track)
    last = max(0, samples - OVERLAP_SAMPLES - 1) // _STRIDE
    road = np.zeros((2, last * _STRIDE + BLOCK_SAMPLES))
    angle = np.linspace(0.0, np.pi / 2, OVERLAP_SAMPLES)
    for number in range(last + 1):
        block = _block(amplitudes, seed, number)
        if number > 0:
            block[:, :OVERLAP_SAMPLES] *= np.sin(angle)
        if number < last:
            block[:, _STRIDE:] *= np.cos(angle)
        road[:, number * _STRIDE : number * _STRIDE + BLOCK_SAMPLES] += block
    return road[:, :samples]


def _amplitudes(surface: RoughSurface, track: float) -> Array:
    """(2, bins) standard deviation of the cosine and sine amplitudes of each wave, m."""
    step = 1.0 / (BLOCK_SAMPLES * SAMPLE_DISTANCE)
    n = step * np.arange(1, int(HIGHEST_WAVENUMBER / step) + 1)
    psd = displacement_psd(surface, n)
    shared = coherence(surface, n, track)
    return np.sqrt(step * psd * np.stack([(1 + shared) / 2, (1 - shared) / 2]))


def _block(amplitudes: Array, seed: int, number: int) -> Array:
    """(2, BLOCK_SAMPLES) one block, m."""
    random = np.random.Generator(np.random.PCG64([seed, number]))
    pairs = random.standard_normal((2, amplitudes.shape[1], 2)).view(np.complex128)[..., 0]
    spectrum = np.zeros((2, BLOCK_SAMPLES // 2 + 1), dtype=np.complex128)
    # a cos + b sin is the real part of (a - ib) e^{ikx}; irfft takes half of it, times its length.
    spectrum[:, 1 : amplitudes.shape[1] + 1] = amplitudes * pairs * (BLOCK_SAMPLES / 2)
    heights: Array = fft.irfft(spectrum, n=BLOCK_SAMPLES, axis=1)
    return heights
