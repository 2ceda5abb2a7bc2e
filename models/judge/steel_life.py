"""Life of every part in steel that a car carries its loads with, over its road mix.

Forces are those of the car as it drives, stress that of the part as it is described: a size that has not been
applied to the car changes the stress and not the forces.  The levers of bars are taken at design trim.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import inf, nan

from models.fields import Path, described
from models.force_elements import force_elements
from models.hardware import (
    PLACES,
    BarSpring,
    GasStrut,
    Hardware,
    InterconnectionBar,
    Place,
    StabiliserBar,
    SteelPart,
    TorsionBar,
    TrimBar,
    allowed_stress,
    material_of,
    stabiliser_beam,
    stress,
)
from models.hardware.fatigue import damage, in_stress_of, life_factor
from models.hardware.leaf import MultiLeafSpring, ParabolicLeafSpring
from models.hardware.sn_curve import StressType
from models.judge.fatigue import Life, StressedPart, fatigue_figures, life
from models.judge.figure import Figure
from models.judge.road_loads import RoadLoads, force_cycles, loaded_elements
from models.part_loads import place_of
from models.vehicle import Vehicle

__all__ = ["FatiguePart", "fatigue_parts", "left_out", "life_of_size", "steel_life_figures", "steel_lives"]

_NAMES = {name: note.label for name, note, _ in described(Hardware) if note is not None}


@dataclass(frozen=True, slots=True)
class FatiguePart:
    """A part in steel on one side of the car.

    Attributes:
        place: of the hardware.
        side: "left" or "right"; empty for a bar across the car.
        stressed: how its stress follows from the force of its element.
        steel: the part as described.
    """

    place: Place
    side: str
    stressed: StressedPart
    steel: SteelPart

    @property
    def name(self) -> str:
        """Name of the place for a reader."""
        return _NAMES[self.place]

    @property
    def line_path(self) -> Path:
        """Where the S–N line stands in the hardware."""
        bar = ("bar",) if isinstance(self.steel, BarSpring | InterconnectionBar | TrimBar) else ()
        return (self.place, *bar, "material", "fatigue")


def fatigue_parts(vehicle: Vehicle, hardware: Hardware) -> tuple[FatiguePart, ...]:
    """Parts that are described and that carry load in this car, place by place, left before right."""
    return tuple(part for place in PLACES for part in _at(vehicle, hardware, place))


def left_out(vehicle: Vehicle, hardware: Hardware) -> tuple[str, ...]:
    """Sentences on the parts that are described and get no life, and why."""
    counted = {part.place for part in fatigue_parts(vehicle, hardware)}
    told = []
    for place in PLACES:
        part = getattr(hardware, place)
        if isinstance(part, GasStrut):
            told.append(f"{_NAMES[place]}: gas has no stress in metal.")
        elif part is not None and place not in counted:
            told.append(f"{_NAMES[place]}: not in the car; apply their size to give it theirs.")
    return tuple(told)


def steel_lives(loads: Sequence[RoadLoads], vehicle: Vehicle, hardware: Hardware) -> tuple[Life, ...]:
    """Lives of the parts, as :func:`fatigue_parts` names them.

    Args:
        loads: of the mix, by this car.
        vehicle: the car that drove.
        hardware: its parts.
    """
    return tuple(
        life(loads, part.stressed, material_of(part.steel).fatigue, hardware.life_target)
        for part in fatigue_parts(vehicle, hardware)
    )


def steel_life_figures(part: FatiguePart, found: Life) -> tuple[Figure, ...]:
    """Life of a part in numbers, and its greatest stress against the limit of the material."""
    kind, limit = part.stressed.stress, allowed_stress(part.steel)
    peak = found.peak / in_stress_of(found.line, kind)
    named = "von Mises" if isinstance(part.steel, StabiliserBar) else kind
    return (
        *fatigue_figures(found),
        Figure(
            "steel_peak",
            "Greatest stress",
            peak,
            "stress",
            f"Greatest nominal {named} stress on any road, static share included: load of the part times "
            f"{part.stressed.stress_per_force:.4g} Pa per N or N·m.",
            "lower",
        ),
        Figure(
            "steel_use",
            "Utilisation",
            peak / limit,
            "share",
            f"Greatest {named} stress on any road / allowed stress of the material, {limit / 1e6:.4g} MPa.",
            "lower",
        ),
    )


def life_of_size(
    loads: Sequence[RoadLoads], vehicle: Vehicle, hardware: Hardware, place: Place
) -> Callable[[SteelPart | TorsionBar], float]:
    """Life of the part at a place made in another size, for :func:`models.hardware.bar_sizes` and its kin.

    The forces stay as they were driven and only the stress scales, which holds for sizes of the same rate.

    Args:
        loads: of the mix, by this car.
        vehicle: the car that drove.
        hardware: its parts; with the reliability asked for.
        place: whose size changes.

    Returns:
        From a size (a bar of its lever, or the whole part) to the life of the side that lives shorter, m; NaN
        where the car carries no load there.
    """
    present, reliability = getattr(hardware, place), hardware.life_target.reliability
    forces = [force_cycles(loads, part.stressed.element) for part in _at(vehicle, hardware, place)]

    def of(size: SteelPart | TorsionBar) -> float:
        made = present.model_copy(update={"bar": size}) if isinstance(size, TorsionBar) else size
        if not forces:
            return nan
        line = material_of(made).fatigue
        scale = _stress_per_force(vehicle, place, made) * in_stress_of(line, _kind(made))
        worst = max(damage(line, force.scaled(scale)) for force in forces)
        return life_factor(line, reliability) / worst if worst > 0 else inf

    return of


def _at(vehicle: Vehicle, hardware: Hardware, place: Place) -> Iterator[FatiguePart]:
    steel = getattr(hardware, place)
    if steel is None or isinstance(steel, GasStrut):
        return
    per_force = _stress_per_force(vehicle, place, steel)
    for element in loaded_elements(vehicle):
        if place_of(element) == place:
            side = next((word for word in element.split() if word in ("left", "right")), "")
            name = f"{_NAMES[place]}, {side}" if side else _NAMES[place]
            yield FatiguePart(place, side, StressedPart(name, element, per_force, _kind(steel)), steel)


def _kind(steel: SteelPart) -> StressType:
    bent = isinstance(steel, MultiLeafSpring | ParabolicLeafSpring | StabiliserBar)
    return "normal" if bent else "shear"


def _stress_per_force(vehicle: Vehicle, place: Place, steel: SteelPart) -> float:
    """Stress per force of the element of the ride model at design trim, Pa per N or N·m."""
    if isinstance(steel, BarSpring):
        # The element's force at the spring is told at the wheel, and from there in the bar.
        spring = (vehicle.front if place == "front_spring" else vehicle.rear).spring
        return float(stress(steel, spring.motion_ratio))
    if isinstance(steel, StabiliserBar):
        return stabiliser_beam(steel).stress_per_torque(_lever_ratio(vehicle, place))
    return float(stress(steel, 1.0))


def _lever_ratio(vehicle: Vehicle, place: Place) -> float:
    """Turn of the stabiliser bar of the car per travel of its wheel, by ratio or linkage, rad/m."""
    bar = next(element for element in force_elements(vehicle) if place_of(element.name) == place)
    return max(abs(ratio) for ratio in bar.incidence)
