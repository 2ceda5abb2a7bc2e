"""What a reader asks of the parts in steel: what each gives and bears, state by state, and whether the car
has the same rates.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import nan

from models.fields import described, follow
from models.hardware import PLACES, Change, Hardware, LoadState, Place, changes
from models.hardware.state import state_key
from models.judge.figure import Figure
from models.part_loads import design_loads, loads_of, part_figures, part_loads
from models.vehicle import LoadCase, Vehicle

__all__ = [
    "PLACE_NAMES",
    "TOLERANCE",
    "PartReport",
    "StateRow",
    "StateTable",
    "differing",
    "is_exceeded",
    "part_reports",
]

#: Names of the places for a reader.
PLACE_NAMES: Mapping[str, str] = {
    name: note.label for name, note, _ in described(Hardware) if note is not None and name in PLACES
}

#: Share by which steel and car may differ before a reader is told: sizes are rounded to those that are sold.
TOLERANCE = 0.01

# Figures that say by themselves that something is wrong.
_WRONG = {
    "safety": lambda value: value < 1,
    "reverse_stress": lambda value: value > 0,
    "travel_to_solid": lambda value: value < 0,
    "buckling_use": lambda value: value >= 1,
    "use": lambda value: value > 1,
}
_LIMITS = ("allowed_stress", "allowed_pressure")


@dataclass(frozen=True, slots=True)
class StateRow:
    """One state of the car: figures in the order of the columns of its table."""

    key: str
    name: str
    cells: tuple[Figure, ...]


@dataclass(frozen=True, slots=True)
class StateTable:
    """Figures that a part has in each state, one row per state.

    Attributes:
        columns: what is told, such as "Shear stress"; the last one is "Use" where the part has a limit.
        rows: the states.
    """

    columns: tuple[str, ...]
    rows: tuple[StateRow, ...]


@dataclass(frozen=True, slots=True)
class PartReport:
    """All about one place.

    Attributes:
        place: of the hardware.
        part: what is described there; None where nothing is.
        figures: those that do not depend on the state.
        states: those that do.
        groups: further figures by title: "Clocking", "Motor".
        changes: what the part makes of the car, whether the car has it or not.
        loads: of the worse side as the part sees them: N of a spring, N·m of a bar.
    """

    place: Place
    part: object
    figures: tuple[Figure, ...]
    states: StateTable
    groups: tuple[tuple[str, tuple[Figure, ...]], ...]
    changes: tuple[Change, ...]
    loads: tuple[LoadState, ...]

    @property
    def name(self) -> str:
        """Name of the place for a reader."""
        return PLACE_NAMES[self.place]

    def value(self, key: str) -> float:
        """Value of a figure that does not depend on the state; NaN where the part has none of that name."""
        return next((figure.value for figure in self.figures if figure.key == key), nan)

    @property
    def safety(self) -> float:
        """Allowed stress (of gas: pressure) over the greatest; NaN without a part."""
        return self.value("safety")

    @property
    def highest_stress(self) -> float:
        """Greatest amount of the stress in any state, Pa; NaN without a part, or of gas."""
        return self.value("allowed_stress") / self.safety

    @property
    def mismatch(self) -> tuple[Change, ...]:
        """Values of the car that differ from the steel by more than :data:`TOLERANCE`."""
        return tuple(change for change in self.changes if not abs(change.difference) <= TOLERANCE)


def part_reports(
    vehicle: Vehicle, hardware: Hardware, cases: Sequence[LoadCase] = ()
) -> dict[Place, PartReport]:
    """Report on every place, those without a part too.

    Args:
        vehicle: the car.
        hardware: its parts.
        cases: load cases beside the car as described.
    """
    parts = part_loads(vehicle, cases)
    design = design_loads(vehicle, parts)
    figures = part_figures(vehicle, hardware, cases, parts)
    reports = {}
    for place in PLACES:
        part = getattr(hardware, place)
        loads = loads_of(vehicle, part, place, parts)
        plain, states = _by_state(figures.get(place, ()), loads)
        groups = [("Clocking", figures.get(f"clocking {place}", ()))]
        groups += [("Motor", figures.get("motor", ()))] if place == "trim" else []
        reports[place] = PartReport(
            place=place,
            part=part,
            figures=plain,
            states=states,
            groups=tuple((title, members) for title, members in groups if members),
            changes=changes(vehicle, hardware, place, design),
            loads=loads,
        )
    return reports


def differing(report: PartReport, vehicle: Vehicle) -> tuple[Change, ...]:
    """Changes that would make the car another one, however little."""
    return tuple(change for change in report.changes if follow(vehicle, change.path) != change.value)


def is_exceeded(figure: Figure) -> bool:
    """Whether a figure says by itself that a limit is exceeded."""
    rule = _WRONG.get(figure.key)
    return rule is not None and rule(figure.value)


def _by_state(
    figures: Iterable[Figure], states: Sequence[LoadState]
) -> tuple[tuple[Figure, ...], StateTable]:
    """Figures apart and together by state, as :func:`models.hardware.state.state_figures` names them."""
    plain: list[Figure] = []
    cells: dict[str, dict[str, Figure]] = {}
    for figure in figures:
        what = figure.label.partition(", ")[0]
        state = next((one for one in states if figure.key == state_key(what, one)), None)
        if state is None:
            plain.append(figure)
        else:
            cells.setdefault(what, {})[state.key] = figure
    limit = next((figure for figure in plain if figure.key in _LIMITS), None)
    rows = []
    for state in states if cells else ():
        row = tuple(column[state.key] for column in cells.values())
        rows.append(StateRow(state.key, state.name, (*row, *_use(row, limit))))
    columns = (*cells, *(["Use"] if limit and cells else []))
    return tuple(plain), StateTable(columns, tuple(rows))


def _use(row: Sequence[Figure], limit: Figure | None) -> tuple[Figure, ...]:
    if limit is None:
        return ()
    stress = next(figure for figure in row if figure.kind == limit.kind)
    what = stress.label.partition(",")[0]
    return (
        Figure(
            "use",
            "Use",
            abs(stress.value) / limit.value,
            "share",
            f"{what} / {limit.label.lower()}, as amounts; above 100 % it is exceeded.",
            "lower",
        ),
    )
