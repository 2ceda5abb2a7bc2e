"""All checks, in the order of the manual."""

from __future__ import annotations

from models.verification import invariants
from models.verification.check import Chapter, Check
from models.verification.engines import counting, equations, frame, lagrange, python_control, slides
from models.verification.published import (
    car_modes,
    damping,
    fatigue,
    four_bar,
    iri,
    iso_2631,
    iso_8608,
    manoeuvres,
    pitch_plane,
    quarter_car,
    springs,
    stabiliser,
    studies,
)

__all__ = ["CHAPTERS", "CHECKS"]

CHAPTERS: tuple[Chapter, ...] = (
    pitch_plane.CHAPTER,
    car_modes.CHAPTER,
    quarter_car.CHAPTER,
    iso_8608.CHAPTER,
    iri.CHAPTER,
    iso_2631.CHAPTER,
    manoeuvres.CHAPTER,
    four_bar.CHAPTER,
    springs.CHAPTER,
    stabiliser.CHAPTER,
    fatigue.CHAPTER,
    damping.CHAPTER,
    studies.CHAPTER,
    python_control.CHAPTER,
    slides.CHAPTER,
    lagrange.CHAPTER,
    equations.CHAPTER,
    frame.CHAPTER,
    counting.CHAPTER,
    invariants.CHAPTER,
    invariants.UNITS,
)

CHECKS: tuple[Check, ...] = tuple(check for chapter in CHAPTERS for check in chapter.checks)
