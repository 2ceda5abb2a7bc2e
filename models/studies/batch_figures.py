"""Key figures of a lot of variants, by array formulas and compiled code.

Data to mechanics (batch_car), equilibrium (batch_statics), linear models (batch_model); from these the rates
and pitch plane, modes, ride on the random road and handling, and from their RMS values the same figures as
of one car.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.constants import g

from models.assembly import CORNERS
from models.fields import Path
from models.frame import LOADS
from models.judge.figure import ROUNDING
from models.judge.random_surface import CarOnSurface, Rms, surface_values, weighted_values
from models.run import Run
from models.studies.batch_car import Cars, cars, times
from models.studies.batch_handling import gradient_values, held_values, support_values
from models.studies.batch_model import CarModels, full_models, held_models, holding
from models.studies.batch_modes import mode_values
from models.studies.batch_rates import pitch_planes, rate_values
from models.studies.batch_ride import ride_rms
from models.studies.batch_statics import Stands, stands
from models.studies.batch_vehicle import column, stacked
from models.vehicle import LoadCase, Vehicle

__all__ = ["lot_figures"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

_MODES = {f"{name}_{what}" for name in ("bounce", "pitch", "roll") for what in ("frequency", "damping")}
_MODES |= {"wheel_mode_damping"}


def lot_figures(
    vehicle: Vehicle,
    run: Run,
    load: LoadCase,
    paths: Sequence[Path],
    values: Array,
    keys: Collection[str],
) -> tuple[dict[str, Array], Flags]:
    """Figures (plain cars,) by their keys, and (N,) which of the cars are plain; the others are not judged.

    Args:
        vehicle, run, load: the car, its drive and its load.
        paths: P plain numbers of it (:func:`models.studies.batch_vehicle.is_plain`).
        values: (N, P) allowed values, 0 at the same places in all rows.
        keys: of the figures wanted.
    """
    count = len(values)
    if count == 1:
        # A single row is added up in another order; two alike give the bits that it has among others.
        found, plain = lot_figures(vehicle, run, load, paths, np.repeat(values, 2, axis=0), keys)
        return {key: both[:1] for key, both in found.items()}, plain[:1]
    lot = cars(stacked(vehicle, paths, values), load, count)
    stand = stands(lot)
    plain = stand.plain & (stand.tyre_force > 0).all(axis=1)
    held, in_manoeuvre = held_values(lot, stand, run.manoeuvre)
    full = full_models(lot, stand)
    model = held_models(full, holding(run.model, lot.dof == 8))
    plain = plain & in_manoeuvre & model.sound
    if not plain.all():
        return _of_the_plain(plain, vehicle, run, load, paths, values, keys)
    found = {**held, **support_values(lot), **_trim_values(stand), **rate_values(full)}
    found |= gradient_values(full)
    found |= _frame_values(lot, stand)
    planes = pitch_planes(full)
    found |= planes.values
    if _MODES & set(keys):
        found |= mode_values(model, planes)
    if not set(keys) <= set(found):
        ridden, plain = _ride_values(model, stand, run)
        found |= ridden
    return {key: _without_rounding(found[key][plain]) for key in keys}, plain


def _of_the_plain(
    plain: Flags,
    vehicle: Vehicle,
    run: Run,
    load: LoadCase,
    paths: Sequence[Path],
    values: Array,
    keys: Collection[str],
) -> tuple[dict[str, Array], Flags]:
    """The same for a lot with others in it, whose matrices may be singular."""
    if not plain.any():
        return {key: np.empty(0) for key in keys}, plain
    found, again = lot_figures(vehicle, run, load, paths, values[plain], keys)
    plain = plain.copy()
    plain[plain] = again
    return found, plain


def _trim_values(stand: Stands) -> dict[str, Array]:
    force = stand.tyre_force
    values = {
        "rest_pitch": stand.q[:, 2],
        "front_weight_share": force[:, :2].sum(axis=1) / force.sum(axis=1),
    }
    values |= {f"corner_load_{corner}": force[:, number] for number, corner in enumerate(CORNERS)}
    for axle, ends in (("front", slice(0, 2)), ("rear", slice(2, 4))):
        values[f"trim_{axle}"] = stand.trim[:, ends].mean(axis=1)
        values[f"jounce_left_{axle}"] = stand.jounce_left[:, ends].min(axis=1)
        values[f"rebound_left_{axle}"] = stand.rebound_left[:, ends].min(axis=1)
    return values


def _frame_values(lot: Cars, stand: Stands) -> dict[str, Array]:
    """Bending at rest; see :func:`models.ride.frame.static_frame_loads`."""
    turned = (stand.elements.incidence - lot.incidence)[:, :, :4]
    force = lot.section.force + lot.section.lift @ turned.transpose(0, 2, 1)
    loads = times(force, stand.force) - g * lot.section.inertia[:, :, 0]
    return {"static_frame_bending": loads[:, LOADS.index("bending")]}


def _ride_values(model: CarModels, stand: Stands, run: Run) -> tuple[dict[str, Array], Flags]:
    """All that comes from the random road, and (N,) whether it is to be trusted."""
    lot, held = model.cars, model.holding
    car = CarOnSurface(
        wheelbase=lot.corners[:, 0, 0] - lot.corners[:, 2, 0],
        hip_over_cg=column(lot.vehicle.seat.height, lot.count) - lot.cg_height,
        tyre_force=dict(zip(CORNERS, stand.tyre_force.T, strict=True)),
        rolls=held.body[1],
        frame_loads=held.frame_loads,
    )
    wanted: list[tuple[str, str]] = []

    def noted(channel: str, behind: str) -> Array:
        wanted.append((channel, behind))
        return np.ones(lot.count)

    _surface(car, noted)
    rms, trusted = ride_rms(model, run, wanted)
    return _surface(car, rms), trusted


def _surface(car: CarOnSurface, rms: Rms) -> dict[str, Array]:
    return {**surface_values(car, rms), **weighted_values(car, rms)}


def _without_rounding(values: Array) -> Array:
    return np.where(np.abs(values) < ROUNDING, 0.0, values)
