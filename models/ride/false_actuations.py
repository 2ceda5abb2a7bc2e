"""How often the levelling acts where it should not: on a rough road, with no change of load.

The car drives over each road once, with its nonlinear laws; then controllers with many delays look at the
filtered height side by side.  What their motors do to the height is added as small changes about the
equilibrium, through the same low-pass: up to the first actuation of a controller nothing is left out, and
none is none.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil, exp

import numpy as np
from numpy.typing import NDArray

from models.assembly import mechanics
from models.errors import InputError
from models.ride.levelling import SAMPLES, STEP, Plant, plant_of, road_under_wheels, stands
from models.ride.levelling_car import height_per_wind_up
from models.ride.levelling_control import LOOK, at_rest, looked, looks_of, low_passed
from models.ride.nonlinear import simulate
from models.roads import ROAD_CLASSES, RoughSurface
from models.run import Run
from models.vehicle import AS_DESIGNED, Levelling, Vehicle

__all__ = ["CLASSES", "DELAYS", "FalseActuations", "false_actuations"]

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

#: Roads that a levelling has to leave alone.
CLASSES = ("C", "D", "E")
#: (25,) delays that are tried beside the one that is set, s.
DELAYS: Array = np.linspace(0.0, 12.0, 25)

# Length of road that is run at once, s: the histories of a longer one fill the memory.
_STRETCH = 60.0
_DRIVEN = 0.8  # share of the work that the drive is


@dataclass(frozen=True, eq=False)
class FalseActuations:
    """Actuations of a car that drives with no change of load.

    Attributes:
        classes: of the roads, by ISO 8608.
        minutes: driven on each.
        speed: m/s.
        delay: the one that is set, s.
        delays: (D,) the ones that were tried, s.
        counts: (classes, D) actuations with each.
        set_counts: (classes,) actuations with the delay that is set.
    """

    classes: tuple[str, ...]
    minutes: float
    speed: float
    delay: float
    delays: Array
    counts: Whole
    set_counts: Whole

    @property
    def in_words(self) -> str:
        """What the delay that is set does."""
        span = f"{self.minutes:.3g} minute" + ("s" if self.minutes != 1 else "")
        if not self.set_counts.any():
            word = "class" if len(self.classes) == 1 else "classes"
            return f"No actuation in {span} on {word} {', '.join(self.classes)}."
        found = (
            f"{count or 'none'} on class {name}"
            for name, count in zip(self.classes, self.set_counts, strict=True)
        )
        return f"False actuations in {span}: {', '.join(found)}."


def false_actuations(
    vehicle: Vehicle,
    run: Run,
    classes: tuple[str, ...] = CLASSES,
    minutes: float = 10.0,
    seed: int = 1,
    delays: Array = DELAYS,
    report: Callable[[float], None] | None = None,
) -> FalseActuations:
    """Count actuations on random roads.

    Args:
        vehicle: the car as designed, with a levelling.
        run: its speed and the waviness of its surface are used.
        classes: of the roads, A to H.
        minutes: to drive on each, 0.1 to 120.
        seed: picks the roads.
        delays: (D,) to try beside the one that is set, s.
        report: told the share that is done.

    Raises:
        InputError: a class or a time is not allowed, no levelling is fitted, or the car does not stand.
    """
    _check(classes, minutes)
    car = mechanics(vehicle)
    stand = stands(car, AS_DESIGNED.name)
    plant = plant_of(vehicle, car, stand)
    looks = round(60.0 * minutes / LOOK)
    seen = np.empty((len(classes), looks))
    for row, name in enumerate(classes):
        surface = RoughSurface(roughness=ROAD_CLASSES[name], waviness=run.surface.waviness)
        t = np.asarray(STEP * np.arange(looks * SAMPLES + 1), dtype=np.float64)
        road = road_under_wheels(car, surface, seed, run.speed, t)
        told = (lambda done, row=row: report((row + done) / len(classes) * _DRIVEN)) if report else None
        height = _height(plant, t, road, told)
        filtered = low_passed(height, 0.0, vehicle.levelling.filter_time, STEP)
        seen[row] = filtered[SAMPLES::SAMPLES]
    tried = np.append(delays, vehicle.levelling.delay)
    counts = _counts(vehicle.levelling, seen, tried, height_per_wind_up(car, plant.bars), report)
    return FalseActuations(
        classes=tuple(classes),
        minutes=minutes,
        speed=run.speed,
        delay=vehicle.levelling.delay,
        delays=np.asarray(delays, dtype=float),
        counts=counts[:, :-1],
        set_counts=counts[:, -1],
    )


def _check(classes: tuple[str, ...], minutes: float) -> None:
    for name in classes:
        if name not in ROAD_CLASSES:
            raise InputError.of("road class", name, f"Road class: '{name}' is none of A to H (ISO 8608)")
    if not 0.1 <= minutes <= 120.0:
        raise InputError.of(
            "minutes", minutes, f"Time: {minutes:.6g} min is outside the allowed range (0.1 to 120 min)"
        )


def _height(plant: Plant, t: Array, road: Array, report: Callable[[float], None] | None) -> Array:
    """(N,) height of the trimmed axle over design trim on a road, the motor standing, m."""
    height = np.empty(len(t))
    q, rate = plant.ready.start, np.zeros(len(plant.ready.start))
    stretch = round(_STRETCH / STEP)
    for number in range(ceil((len(t) - 1) / stretch)):
        if report is not None:
            report(number * stretch / len(t))
        part = slice(number * stretch, min((number + 1) * stretch, len(t) - 1) + 1)
        driven = simulate(plant.ready.model, t[part], road[:, part], q, rate, substeps=plant.substeps)
        height[part] = -driven.coordinate[plant.bars.wheels].mean(axis=0)
        q, rate = driven.q[-1].copy(), driven.rate[-1].copy()
    return height


def _counts(
    data: Levelling, seen: Array, delays: Array, lift: float, report: Callable[[float], None] | None
) -> Whole:
    """(classes, delays) actuations.

    Args:
        data: of the levelling.
        seen: (classes, looks) filtered height with the motor standing, m.
        delays: (delays,) s.
        lift: height per wind-up, m/rad.
        report: told the share that is done.
    """
    classes, looks = seen.shape
    state = at_rest(classes * len(delays))
    delay = np.tile(looks_of(delays), classes)
    lifted = np.zeros(len(delay))
    keep = exp(-LOOK / data.filter_time) if data.filter_time > 0 else 0.0
    for look in range(looks):
        if report is not None and look % 1000 == 0:
            report(_DRIVEN + (1 - _DRIVEN) * look / looks)
        height = np.repeat(seen[:, look], len(delays)) + lifted
        state = looked(state, height, data, delay)
        lifted = keep * lifted + (1.0 - keep) * lift * state.wind_up
    return state.actuations.reshape(classes, -1)
