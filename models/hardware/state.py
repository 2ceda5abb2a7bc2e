"""What a part carries in the states in which its stress is looked at, and the figures that follow."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import inf, isnan, nan

from models.figure import Figure

__all__ = ["LoadState", "greatest", "margin_figures", "reverse_figures", "state_figures", "state_key"]


@dataclass(frozen=True, slots=True)
class LoadState:
    """Load of a part in one state of the car.

    Attributes:
        key: "design", "jounce", "rebound", "roll", "wound", ..., or "case <number>" for a load case.
        name: the state in words.
        load: from the unloaded part; N of a spring at the spring itself, N·m of a bar.
    """

    key: str
    name: str
    load: float


def greatest(states: Iterable[LoadState]) -> float:
    """Load of the greatest magnitude among the states, without sign; NaN without any."""
    return max((abs(state.load) for state in states), default=nan)


def state_key(what: str, state: LoadState) -> str:
    """Key of the figure that tells something ("Shear stress") of a state."""
    return f"{what} {state.key}".lower().replace(" ", "_").replace("-", "_")


def state_figures(
    states: Iterable[LoadState],
    what: str,
    kind: str,
    meaning: str,
    value: Callable[[float], float],
) -> tuple[Figure, ...]:
    """One figure per state.

    Args:
        states: the states.
        what: what is told of each ("Shear stress").
        kind: key in :data:`models.units.KINDS`.
        meaning: words and formula.
        value: SI value from the load.
    """
    return tuple(
        Figure(state_key(what, s), f"{what}, {s.name}", value(s.load), kind, meaning) for s in states
    )


def margin_figures(highest: float, limit: float, limit_meaning: str) -> tuple[Figure, ...]:
    """Allowed stress and safety against it; both stresses in Pa, the highest NaN without a state."""
    safety = limit / highest if highest > 0 or isnan(highest) else inf
    return (
        Figure("allowed_stress", "Allowed stress", limit, "stress", limit_meaning),
        Figure(
            "safety",
            "Safety",
            safety,
            "ratio",
            "Allowed stress / highest stress of all states, both as amounts.",
            "higher",
        ),
    )


def reverse_figures(
    states: Iterable[LoadState], setting: str, stress: Callable[[float], float]
) -> tuple[Figure, ...]:
    """Stress of a pre-set part against the sense in which it carries the car; empty for one not pre-set.

    Args:
        states: the states; the load at design trim has the sense of the pre-setting.
        setting: "pre-set" or "not pre-set".
        stress: Pa from the load.
    """
    if setting != "pre-set":
        return ()
    loads = [state.load for state in states]
    sense = -1.0 if loads and loads[0] < 0 else 1.0
    against = max((max(-sense * load, 0.0) for load in loads), default=nan)
    return (
        Figure(
            "reverse_stress",
            "Stress against the pre-set sense",
            stress(against),
            "stress",
            "Greatest stress of all states in the other sense than at design trim; a pre-set part "
            "should see none.",
            "lower",
        ),
    )
