"""The arrays of the nonlinear transient, filled from a car, its load case and the model wanted of it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from models.assembly import Mechanics, RideModel
from models.force_elements import ForceElement
from models.laws import Bilinear, Digressive, Gas, Law, Linear, Progressive, Table
from models.ride import nonlinear_model as compiled
from models.ride.laws import LawTable, linear_law, resample, two_slope_law
from models.statics import Statics

__all__ = ["NonlinearCar", "nonlinear_car"]

Array = NDArray[np.float64]

#: Reach of the tables, in wheel travel (m) and wheel speed (m/s); beyond it they go on straight.
TRAVEL_REACH, SPEED_REACH = 0.3, 6.0
_SPRING_POINTS, _DAMPER_POINTS = 3001, 6001


@dataclass(frozen=True, eq=False)
class NonlinearCar:
    """A car ready to run.

    Attributes:
        model: its arrays.
        start: (n,) state at rest in the load case, from design trim.
        law_error: largest deviation of a resampled law from the law, as a share of its span.
    """

    model: compiled.NonlinearModel
    start: Array
    law_error: float


def nonlinear_car(car: Mechanics, stand: Statics, model: RideModel) -> NonlinearCar:
    """Car with its nonlinear laws, in the degrees of freedom of ``model``, at rest where it stands.

    Args:
        car: laws and static forces.
        stand: its equilibrium.
        model: linear model of the same car, which says how the degrees of freedom are constrained.
    """
    elements, errors = zip(
        *(
            _element(element, part.incidence, len(model.deflections))
            for element, part in zip(car.elements, model.elements, strict=True)
        ),
        strict=True,
    )
    # The nearest state of the smaller model; of the full car it is the equilibrium itself.
    full = np.vstack([model.body, model.wheels, model.occupant])
    start = np.asarray(np.linalg.lstsq(full, stand.q[: len(full)], rcond=None)[0], dtype=np.float64)
    tyres = compiled.Tyres(car.tyre_stiffness, car.tyre_damping, car.tyre_load)
    return NonlinearCar(
        model=compiled.NonlinearModel(
            dof=model.dof,
            mass=model.mass,
            coordinates=model.deflections,
            wheels=model.wheels,
            elements=elements,
            tyres=tyres,
            constant_force=_weight(model, elements, tyres, start),
        ),
        start=start,
        law_error=max(errors),
    )


def _weight(
    model: RideModel, elements: tuple[compiled.ForceElement, ...], tyres: compiled.Tyres, start: Array
) -> Array:
    """Forces that hold ``start`` at rest: gravity, within what the smaller model leaves out."""
    x = model.deflections @ start
    pushed = np.zeros(len(x))
    for element in elements:
        deflection = float(element.incidence @ x)
        force = float(element.spring.value(deflection)) if element.spring else 0.0
        pushed += element.incidence * (force + _stops(element, deflection))
    tyre = np.maximum(tyres.static_load - tyres.rate * (model.wheels @ start), 0.0)
    weight: Array = model.deflections.T @ pushed - model.wheels.T @ tyre
    return weight


def _stops(element: compiled.ForceElement, deflection: float) -> float:
    force = 0.0
    for stop, sign in ((element.jounce_stop, 1.0), (element.rebound_stop, -1.0)):
        if stop is not None:
            past = max(sign * deflection - stop.gap, 0.0)
            force += sign * (stop.rate + stop.progression * past) * past
    return force


def _element(
    element: ForceElement, incidence: tuple[float, ...], width: int
) -> tuple[compiled.ForceElement, float]:
    """Compiled element and the error of resampling its laws."""
    row = np.zeros(width)
    row[: min(len(incidence), width)] = incidence[:width]
    leverage = float(np.abs(row).max()) or 1.0
    jounce = rebound = None
    spring: LawTable | None = None
    spring_error = damper_error = 0.0
    if isinstance(element.spring, Progressive):
        stop = compiled.Stop(element.spring.gap, element.spring.k, element.spring.c)
        jounce, rebound = (stop, None) if element.spring.sign > 0 else (None, stop)
    elif element.spring is not None:
        spring, spring_error = _spring_table(element.spring, element.preload, leverage * TRAVEL_REACH)
    damper: LawTable | None = None
    if element.damper is not None:
        damper, damper_error = _damper_table(element.damper, leverage * SPEED_REACH)
    made = compiled.ForceElement(
        element.name,
        row,
        spring=spring,
        damper=damper,
        jounce_stop=jounce,
        rebound_stop=rebound,
        friction=compiled.Friction(*element.friction) if element.friction else None,
    )
    return made, max(spring_error, damper_error)


def _spring_table(law: Law, preload: float, reach: float) -> tuple[LawTable, float]:
    match law:
        case Linear(k):
            return linear_law(k, preload), 0.0
        case Table(x, f) if len(x) == 2:
            return linear_law((f[1] - f[0]) / (x[1] - x[0]), preload + float(law.force(0.0))), 0.0
        case Gas():
            # It goes on straight where the law itself does, at nine tenths of the volume.
            high = min(reach, 0.9 * law.volume / law.area)
        case _:
            high = reach
    return resample(lambda x: preload + law.force(x), -reach, high, _SPRING_POINTS)


def _damper_table(law: Law, reach: float) -> tuple[LawTable, float]:
    match law:
        case Linear(k):
            return linear_law(k), 0.0
        case Bilinear(jounce, rebound):
            return two_slope_law(rebound, jounce), 0.0
        case Digressive():
            # Cells that divide the knee speed keep the knees exact.
            cells = ceil(law.knee * (_DAMPER_POINTS - 1) / (2 * reach))
            half = ceil(min(reach / law.knee, 100.0)) * cells
            reach = law.knee * half / cells
            return resample(law.force, -reach, reach, 2 * half + 1)
        case _:
            return resample(law.force, -reach, reach, _DAMPER_POINTS)
