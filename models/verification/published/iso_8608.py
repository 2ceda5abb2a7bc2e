"""Classes of road roughness and coherence of two tracks."""

from __future__ import annotations

import numpy as np

from models.roads import ROAD_CLASSES, RoughSurface, coherence, displacement_psd, road_class
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER"]

CHAPTER = Chapter("iso-8608", "Roads of ISO 8608")

ISO = "ISO 8608:1995 and 2016, annex C"


@CHAPTER.check(
    "Road classes", source=ISO, status="from memory", reason="rounding; a letter is right or wrong"
)
def classes() -> Numbers:
    """Geometric mean of Gd(n0) of each class, 1e-6 m³; the letter of the mean and just inside each limit.

    A letter that is right counts 1.
    """
    for place, letter in enumerate("ABCDEFGH"):
        mean = 16 * 4**place
        yield beside(f"{letter}: mean, 1e-6 m³", 1e6 * ROAD_CLASSES[letter], mean, relative=1e-12)
        inside = [
            mean,
            *([] if letter == "A" else [mean / 2 * 1.001]),
            *([] if letter == "H" else [mean * 1.998]),
        ]
        right = [float(road_class(1e-6 * value) == letter) for value in inside]
        yield beside(f"{letter}: letter of mean and limits is right", right, 1.0)


@CHAPTER.check(
    "Velocity spectrum of the classes, flat for waviness 2",
    source=ISO,
    status="from memory",
    reason="half a unit of the last printed digit",
)
def velocity_spectrum() -> Numbers:
    """(2π n)² Gd(n) at 0.02, 0.1 and 3 c/m, 1e-6 m."""
    n = np.array([0.02, 0.1, 3.0])
    for letter, printed in (("A", 6.3), ("B", 25.3), ("C", 101.1), ("D", 404.3), ("E", 1617.0)):
        velocity = (2 * np.pi * n) ** 2 * displacement_psd(RoughSurface(roughness=ROAD_CLASSES[letter]), n)
        yield beside(f"{letter}: Gv, 1e-6 m", 1e6 * velocity, printed, within=0.05)


@CHAPTER.check(
    "Coherence of two tracks of an isotropic surface",
    source="C. J. Dodds and J. D. Robson, J. Sound Vib. 31 (1973) 175-183 (formula from memory); numbers by "
    "the cosine integral of the surface spectrum",
    status="computed apart",
    reason="half a unit of the last of the digits computed",
)
def track_coherence() -> Numbers:
    """Cross by auto spectrum of tracks 1.5 m apart; for waviness 2 it is x K1(x), x = 2π n B."""
    for waviness, n, expected in (
        (2.0, 0.02, 0.959173),
        (2.0, 0.05, 0.841470),
        (2.0, 0.1, 0.626419),
        (2.0, 0.2, 0.307057),
        (2.0, 0.5, 0.026276),
        (1.5, 0.1, 0.525064),
        (2.5, 0.1, 0.701411),
        (3.0, 0.1, 0.756908),
    ):
        found = coherence(RoughSurface(waviness=waviness), np.array([n]), 1.5)
        yield beside(f"waviness {waviness:g}, {n:g} c/m", found, expected, within=5.1e-7)
