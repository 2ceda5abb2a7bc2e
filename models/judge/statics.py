"""Where the car stands in its load cases: key figures of the one chosen, and a table of all."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import nan

import numpy as np

from models.analysis import Analysis
from models.assembly import CORNERS, mechanics
from models.errors import InputError
from models.judge.figure import Figure
from models.statics import Statics, statics
from models.units import KINDS, UnitChoice, format_value
from models.vehicle import LoadCase, Vehicle

__all__ = ["LoadCaseRow", "attitude_words", "load_case_row", "load_case_table", "statics_figures"]

# An angle below this, rad, is level for a reader: 0.003 degrees.
_LEVEL = 5e-5
_AXLES = ("front", "rear")


@dataclass(frozen=True, slots=True)
class LoadCaseRow:
    """How the car stands in one load case, SI; numbers are NaN where it does not stand.

    Attributes:
        name: of the load case.
        tyre_force: FL, FR, RL, RR, N.
        trim: change of the body height over front and rear axle from design trim, m.
        roll, pitch: of the body against design trim, rad (left side up, nose down).
        jounce_left, rebound_left: front and rear, m: the lesser of left and right; infinite without stops.
        front_share: share of the weight on the front wheels.
        reason: why it does not stand; empty where it does.
        warnings: what is out of the ordinary although it stands.
    """

    name: str
    tyre_force: tuple[float, float, float, float]
    trim: tuple[float, float]
    roll: float
    pitch: float
    jounce_left: tuple[float, float]
    rebound_left: tuple[float, float]
    front_share: float
    reason: str = ""
    warnings: tuple[str, ...] = ()

    @property
    def stable(self) -> bool:
        """Whether the car stands."""
        return not self.reason


def load_case_table(vehicle: Vehicle, load_cases: Iterable[LoadCase]) -> tuple[LoadCaseRow, ...]:
    """One row per load case; a load that the car cannot have is a row with the reason."""
    return tuple(_row(vehicle, load) for load in load_cases)


def load_case_row(name: str, stand: Statics) -> LoadCaseRow:
    """Row of an equilibrium."""
    if not stand.stable:
        return _without_numbers(name, stand.reason)
    roll, pitch = stand.attitude
    force = stand.tyre_force
    return LoadCaseRow(
        name=name,
        tyre_force=(float(force[0]), float(force[1]), float(force[2]), float(force[3])),
        trim=(float(stand.trim[:2].mean()), float(stand.trim[2:].mean())),
        roll=roll,
        pitch=pitch,
        jounce_left=(float(stand.jounce_left[:2].min()), float(stand.jounce_left[2:].min())),
        rebound_left=(float(stand.rebound_left[:2].min()), float(stand.rebound_left[2:].min())),
        front_share=float(force[:2].sum() / force.sum()),
        warnings=stand.warnings,
    )


def attitude_words(roll: float, pitch: float, units: UnitChoice) -> tuple[str, str]:
    """Where the nose and which side is low, for a reader: ("up 0.42", "left 0.30"), or "level" each."""
    return _angle_words(pitch, "up", "down", units), _angle_words(roll, "left", "right", units)


def _angle_words(angle: float, below: str, above: str, units: UnitChoice) -> str:
    if not np.isfinite(angle):
        return "–"
    if abs(angle) < _LEVEL:
        return "level"
    return f"{above if angle > 0 else below} {format_value(abs(angle), units['angle'], KINDS['angle'].si, 2)}"


def statics_figures(analysis: Analysis) -> tuple[Figure, ...]:
    """Figures of the load case that the car carries."""
    row = load_case_row(analysis.load.name, analysis.stand)
    return (
        *(
            Figure(
                f"trim_{axle}",
                f"Trim change {axle}",
                row.trim[end],
                "travel",
                f"Load case: change of the body height over the {axle} axle from design trim; down below 0.",
            )
            for end, axle in enumerate(_AXLES)
        ),
        Figure(
            "rest_pitch",
            "Pitch at rest, nose down",
            row.pitch,
            "angle",
            "Load case: pitch of the body against design trim; above 0 nose down, below 0 nose up.",
        ),
        *(
            Figure(
                f"corner_load_{corner}",
                f"Corner load {corner}",
                row.tyre_force[number],
                "force",
                f"Load case: vertical tyre force {corner} at rest.",
            )
            for number, corner in enumerate(CORNERS)
        ),
        *_travel_left("jounce", "bump stop", row.jounce_left),
        *_travel_left("rebound", "rebound stop", row.rebound_left),
        Figure(
            "front_weight_share",
            "Front share of the weight",
            row.front_share,
            "share",
            "Load case: tyre forces of the front wheels over those of all wheels at rest.",
        ),
    )


def _travel_left(way: str, stop: str, left: tuple[float, float]) -> tuple[Figure, ...]:
    return tuple(
        Figure(
            f"{way}_left_{axle}",
            f"{way.capitalize()} left {axle}",
            left[end],
            "travel",
            f"Load case: {axle} wheel travel to the {stop} at rest, the lesser of left and right; below 0 it "
            "is pressed; none without a stop.",
            "higher",
        )
        for end, axle in enumerate(_AXLES)
    )


def _row(vehicle: Vehicle, load: LoadCase) -> LoadCaseRow:
    try:
        return load_case_row(load.name, statics(mechanics(vehicle, load)))
    except InputError as error:
        return _without_numbers(load.name, error.problems[0].reason)


def _without_numbers(name: str, reason: str) -> LoadCaseRow:
    two = (nan, nan)
    return LoadCaseRow(name, (nan, nan, nan, nan), two, nan, nan, two, two, nan, reason)
