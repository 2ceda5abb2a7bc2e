"""Criteria of common practice: rules of thumb that are passed on without a source that could be opened.

They are kept apart from the user's targets and marked as what they are.  The numbers are those of courses and
handbooks as remembered: M. Olley's rules (1934, 1938) on front and rear frequencies, on bounce and pitch and
on k²/(a b), the range of ride frequencies of passenger cars, and that of the damping of body modes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from models.judge.figure import Figure
from models.target import Target

__all__ = ["PRACTICE", "PRACTICE_MEANING", "PRACTICE_TARGETS", "practice_figures"]

#: Name of the group.
PRACTICE = "Common practice, no source"

PRACTICE_MEANING = "Rules of thumb of the trade, from memory: a car that misses one is not wrong for that."

_NOTE = "Common practice, no source."


def practice_figures(figures: Mapping[str, Figure]) -> tuple[Figure, ...]:
    """The criteria that the key figures of a car (by key) allow; a smaller model has not all of them."""
    return tuple(_criteria({key: figure.value for key, figure in figures.items()}))


def _criteria(value: Mapping[str, float]) -> Iterator[Figure]:
    if {"front_ride_frequency", "rear_ride_frequency"} <= value.keys():
        front, rear = value["front_ride_frequency"], value["rear_ride_frequency"]
        yield _criterion(
            "practice_front_to_rear",
            "Front over rear ride frequency",
            front / rear if rear > 0 else float("nan"),
            "ratio",
            "Ride frequencies of the axles alone: the front below the rear, so that pitch dies soon.",
        )
        for axle, frequency in (("front", front), ("rear", rear)):
            yield _criterion(
                f"practice_{axle}_ride_frequency",
                f"{axle.capitalize()} ride frequency, passenger car",
                frequency,
                "frequency",
                "Ride frequency of the axle alone; 1.0 to 1.5 Hz in passenger cars.",
            )
    if {"bounce_frequency", "pitch_frequency"} <= value.keys():
        low, high = sorted((value["bounce_frequency"], value["pitch_frequency"]))
        yield _criterion(
            "practice_bounce_and_pitch",
            "Bounce and pitch, higher over lower",
            high / low if low > 0 else float("nan"),
            "ratio",
            "Natural frequencies of bounce and pitch: the higher at most 1.2 times the lower.",
        )
        yield _criterion(
            "practice_highest_body_frequency",
            "Higher of bounce and pitch",
            high,
            "frequency",
            "Natural frequencies of bounce and pitch: neither above 1.3 Hz.",
        )
    if "dynamic_index" in value:
        yield _criterion(
            "practice_dynamic_index",
            "Dynamic index near one",
            value["dynamic_index"],
            "ratio",
            "k²/(a b), 0.9 to 1.1: front and rear move all but independently of each other.",
        )
    for mode in ("bounce", "pitch", "roll"):
        if f"{mode}_damping" in value:
            yield _criterion(
                f"practice_{mode}_damping",
                f"{mode.capitalize()} damping ratio in ride",
                value[f"{mode}_damping"],
                "ratio",
                "Damping of the body modes over critical damping, 0.2 to 0.4 in ride.",
            )


def _criterion(key: str, label: str, value: float, kind: str, meaning: str) -> Figure:
    return Figure(key, label, value, kind, f"{meaning} {_NOTE}", "none", PRACTICE)


def _limits() -> dict[str, Target]:
    rows: tuple[tuple[str, str, float | None, float | None], ...] = (
        ("practice_front_to_rear", "ratio", None, 1.0),
        ("practice_front_ride_frequency", "frequency", 1.0, 1.5),
        ("practice_rear_ride_frequency", "frequency", 1.0, 1.5),
        ("practice_bounce_and_pitch", "ratio", None, 1.2),
        ("practice_highest_body_frequency", "frequency", None, 1.3),
        ("practice_dynamic_index", "ratio", 0.9, 1.1),
        ("practice_bounce_damping", "ratio", 0.2, 0.4),
        ("practice_pitch_damping", "ratio", 0.2, 0.4),
        ("practice_roll_damping", "ratio", 0.2, 0.4),
    )
    return {key: Target(metric=key, kind=kind, low=low, high=high) for key, kind, low, high in rows}


#: Key of a criterion -> its limits.
PRACTICE_TARGETS: dict[str, Target] = _limits()
