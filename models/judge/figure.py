"""Key figures and the groups in which they are read."""

from __future__ import annotations

from collections.abc import Iterable

from models.figure import Better, Figure

__all__ = ["GROUPS", "ROUNDING", "Better", "Figure", "grouped"]

#: Groups of figures in the order in which they are read, and what each is about.
GROUPS: dict[str, str] = {
    "Levelness": "How still the body keeps its attitude, on the random road and in the run.",
    "Comfort": "What the driver feels: accelerations, plain and weighted after ISO 2631-1.",
    "Control": "How the wheels stay on the road, and how much of their travel that takes.",
    "Modes": "Natural frequencies, damping and motion centres of body and wheels.",
    "Rates": "Stiffness of the suspension in the four modes and at each axle.",
    "Handling": "What braking, driving and cornering do to the attitude and the tyre loads.",
    "Frame": "How the suspension twists and bends the frame at its section.",
    "Trim": "How the car stands in its load case.",
}

#: A figure below it is given as 0.  In the SI unit of any figure far below what can be measured, and far
#: above what sums leave of a roll or a twist that a symmetric car does not have (found: up to 1e-11).
ROUNDING = 1e-9


def grouped(group: str, figures: Iterable[Figure]) -> tuple[Figure, ...]:
    """The figures as members of a group of :data:`GROUPS`; what is only rounding becomes 0."""
    return tuple(
        Figure(one.key, one.label, _without_rounding(one.value), one.kind, one.meaning, one.better, group)
        for one in figures
    )


def _without_rounding(value: float) -> float:
    return 0.0 if abs(value) < ROUNDING else value
