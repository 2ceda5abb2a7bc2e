"""Clocking of a bar: how finely two splined heads of n1 and n2 teeth can be turned against each other.

Moved by i teeth at the front and j teeth at the rear, the bar turns by 360 (i/n1 - j/n2) deg.  All such
angles are the multiples of 360 / lcm(n1, n2) deg; one tooth on each head gives the vernier step 360/n1 -
360/n2.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import gcd, lcm, tau

from models.figure import Figure

__all__ = ["Clocking", "clocking", "clocking_figures", "smallest_step", "vernier_step"]


@dataclass(frozen=True, slots=True)
class Clocking:
    """Where the heads go.

    Attributes:
        wanted: angle wanted, rad.
        front, rear: teeth by which the heads are moved, with sign; the fewest that give the angle.
        angle: what they give, rad.
    """

    wanted: float
    front: int
    rear: int
    angle: float

    @property
    def error(self) -> float:
        """Angle given minus angle wanted, rad; half of the smallest step at most."""
        return self.angle - self.wanted


def smallest_step(front_teeth: int, rear_teeth: int) -> float:
    """Smallest angle between two clockings, rad."""
    return tau / lcm(front_teeth, rear_teeth)


def vernier_step(front_teeth: int, rear_teeth: int) -> float:
    """Angle of one tooth on the front head against one on the rear head, rad."""
    return abs(tau / front_teeth - tau / rear_teeth)


def clocking(front_teeth: int, rear_teeth: int, wanted: float) -> Clocking:
    """The clocking nearest to an angle, with the fewest teeth to move.

    Args:
        front_teeth, rear_teeth: of the two heads.
        wanted: angle from where both heads stand at tooth 0 and the unloaded levers at their design angle,
            rad.
    """
    steps = round(wanted / smallest_step(front_teeth, rear_teeth))
    common = gcd(front_teeth, rear_teeth)
    n, m = front_teeth // common, rear_teeth // common
    # i m - j n = steps has its solutions n apart in i; the one with the fewest teeth lies where i / n1 is
    # near 0 or j / n2 is, hence among these.
    first = (steps * pow(m, -1, n)) % n if n > 1 else 0
    turns = range(-2 - abs(steps) // (n * m), 3 + abs(steps) // (n * m))
    pairs = [(i, (i * m - steps) // n) for i in (first + turn * n for turn in turns)]
    front, rear = min(pairs, key=lambda pair: (abs(pair[0]) + abs(pair[1]), abs(pair[0])))
    return Clocking(wanted, front, rear, tau * (front / front_teeth - rear / rear_teeth))


def clocking_figures(
    front_teeth: int, rear_teeth: int, wanted: float, rise: tuple[float, float]
) -> tuple[Figure, ...]:
    """Figures of a clocking.

    Args:
        front_teeth, rear_teeth, wanted: as of :func:`clocking`.
        rise: how far the body rises over the front and over the rear axle per wind-up of the bars of both
            sides, m/rad.
    """
    found = clocking(front_teeth, rear_teeth, wanted)
    finest = smallest_step(front_teeth, rear_teeth)
    return (
        Figure(
            "tooth_angle_front", "Tooth, front", tau / front_teeth, "angle", "360° / teeth of the front head."
        ),
        Figure(
            "tooth_angle_rear", "Tooth, rear", tau / rear_teeth, "angle", "360° / teeth of the rear head."
        ),
        Figure(
            "vernier_step",
            "Vernier step",
            vernier_step(front_teeth, rear_teeth),
            "angle",
            "|360°/n1 - 360°/n2|: one tooth at the front against one at the rear.",
        ),
        Figure("smallest_step", "Smallest step", finest, "angle", "360° / lcm(n1, n2), over several teeth."),
        Figure(
            "trim_angle",
            "Trim angle wanted",
            wanted,
            "angle",
            "Wind-up of the bar at design trim, T / k: the unloaded levers stand that far from their "
            "design angle.",
        ),
        Figure(
            "clocking_front", "Teeth moved, front", found.front, "ratio", "Teeth from tooth 0; fewest in all."
        ),
        Figure(
            "clocking_rear", "Teeth moved, rear", found.rear, "ratio", "Teeth from tooth 0; fewest in all."
        ),
        Figure(
            "clocking_error",
            "Angle left over",
            found.error,
            "angle",
            "360° (i/n1 - j/n2) - angle wanted, at the nearest clocking.",
        ),
        *(
            Figure(
                f"trim_height_{key}_{axle}",
                f"{label}, {axle}",
                angle * height,
                "travel",
                f"{words} · rise of the body over the axle per wind-up, both sides clocked alike.",
            )
            for key, label, words, angle in (
                ("error", "Trim height error", "Angle left over", found.error),
                ("step", "Trim height per step", "Smallest step", finest),
            )
            for axle, height in zip(("front", "rear"), rise, strict=True)
        ),
    )
