"""The arrays of the nonlinear transient, filled from a car, its load case and the model wanted of it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from models.assembly import Mechanics, RideModel
from models.force_elements import ForceElement
from models.laws import Bilinear, Digressive, Gas, Law, Linear, Progressive, Table
from models.levers import AnyLever, Lever
from models.ride import nonlinear_model as compiled
from models.ride.laws import LawTable, linear_law, two_slope_law
from models.ride.linkage_table import LinkageTable
from models.statics import Statics

__all__ = ["NonlinearCar", "nonlinear_car"]

Array = NDArray[np.float64]

#: Reach of the tables, in wheel travel (m) and wheel speed (m/s); beyond it they go on straight.
TRAVEL_REACH, SPEED_REACH = 0.3, 6.0
_SPRING_POINTS, _DAMPER_POINTS, _LEVER_POINTS = 3001, 6001, 501


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
    laws = _Laws()
    elements = tuple(
        _element(element, part.incidence, len(model.deflections), laws, stand.travel)
        for element, part in zip(car.elements, model.elements, strict=True)
    )
    start = _start(car, stand, model)
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
        law_error=laws.error,
    )


def _start(car: Mechanics, stand: Statics, model: RideModel) -> Array:
    """The state of the model whose travels and wheel heights are nearest those of the equilibrium.

    Of the full car it is the equilibrium itself, of a quarter car that of its corner, for whose body height
    its own stands.
    """
    used = (model.incidence != 0).any(axis=0)
    moved = model.wheels.any(axis=1)
    rows = np.vstack([model.deflections[used], model.wheels[moved]])
    width = len(model.deflections)
    wanted = np.concatenate([(car.deflections @ stand.q)[:width][used], (car.wheels @ stand.q)[moved]])
    return np.asarray(np.linalg.lstsq(rows, wanted, rcond=None)[0], dtype=np.float64)


def _weight(
    model: RideModel, elements: tuple[compiled.ForceElement, ...], tyres: compiled.Tyres, start: Array
) -> Array:
    """Forces that hold ``start`` at rest: gravity, within what the smaller model leaves out."""
    x = model.deflections @ start
    pushed = np.zeros(len(x))
    for element in elements:
        deflection, incidence = float(element.incidence @ x), element.incidence
        if element.links:
            incidence = incidence.copy()
            for link in element.links:
                g, incidence[link.coordinate] = link.table.at(float(x[link.coordinate]))
                deflection += g
        force = _force(element.spring, deflection) if element.spring else 0.0
        pushed += incidence * (force + _stops(element, deflection))
    tyre = np.maximum(tyres.static_load - tyres.rate * (model.wheels @ start), 0.0)
    weight: Array = model.deflections.T @ pushed - model.wheels.T @ tyre
    return weight


def _force(table: LawTable, x: float) -> float:
    """Value of the table at one place, without the cost of arrays."""
    u = (x - table.x0) / table.dx
    cell = min(max(int(u // 1), 0), len(table.values) - 2)
    low, high = table.values[cell], table.values[cell + 1]
    return float(low + (u - cell) * (high - low))


def _stops(element: compiled.ForceElement, deflection: float) -> float:
    force = 0.0
    for stop, sign in ((element.jounce_stop, 1.0), (element.rebound_stop, -1.0)):
        if stop is not None:
            past = max(sign * deflection - stop.gap, 0.0)
            force += sign * (stop.rate + stop.progression * past) * past
    return force


def _element(
    element: ForceElement, incidence: tuple[float, ...], width: int, laws: _Laws, travel: Array
) -> compiled.ForceElement:
    """An element with its ``incidence`` in the model wanted, which may leave out wheels.

    A lever at a wheel that is left out stays where it stands, at the travel (4,) of its wheel.
    """
    row = np.zeros(width)
    row[: min(len(incidence), width)] = incidence[:width]
    leverage = max(map(abs, row.tolist())) or 1.0
    preload, links = element.preload, []
    for lever in element.levers:
        if row[lever.wheel]:
            links.append(compiled.Link(lever.wheel, laws.lever(lever)))
            row[lever.wheel] = 0.0
        else:
            held = lever.turn(travel[lever.wheel]).angle
            preload += element.force(float(held)) - element.preload
    jounce = rebound = None
    spring: LawTable | None = None
    if isinstance(element.spring, Progressive):
        stop = compiled.Stop(element.spring.gap, element.spring.k, element.spring.c)
        jounce, rebound = (stop, None) if element.spring.sign > 0 else (None, stop)
    elif element.spring is not None:
        spring = laws.spring(element.spring, preload, leverage * TRAVEL_REACH)
    return compiled.ForceElement(
        element.name,
        row,
        spring=spring,
        damper=laws.damper(element.damper, leverage * SPEED_REACH) if element.damper else None,
        jounce_stop=jounce,
        rebound_stop=rebound,
        friction=compiled.Friction(*element.friction) if element.friction else None,
        links=tuple(links),
    )


class _Laws:
    """Tables of the laws of one car; left and right share theirs."""

    def __init__(self) -> None:
        self.error = 0.0
        self._known: dict[tuple[Law, float, float], LawTable] = {}
        self._levers: dict[tuple[object, float], LinkageTable] = {}

    def lever(self, lever: AnyLever) -> LinkageTable:
        """Turn over wheel travel, from one end of the lever's reach to the other.

        The cubics of a lever are off by less than 1e-9 rad up to 60 deg, and 5e-6 rad at the ends; those of
        a chain stand on the points of its own table.
        """
        key: tuple[object, float]
        if isinstance(lever, Lever):
            key, points = (lever.ratio, lever.angle), _LEVER_POINTS
        else:
            key, points = (lever.table, lever.sign), len(lever.table.travel)
        if key not in self._levers:
            low, high = lever.reach
            turn = lever.turn(np.linspace(low, high, points))
            self._levers[key] = LinkageTable(low, (high - low) / (points - 1), turn.angle, turn.ratio)
        return self._levers[key]

    def spring(self, law: Law, preload: float, reach: float) -> LawTable:
        """Whole force over deflection."""
        match law:
            case Linear(k):
                return linear_law(k, preload)
            case Table(x, f) if len(x) == 2:
                return linear_law((f[1] - f[0]) / (x[1] - x[0]), preload + float(law.force(0.0)))
            case Gas():
                # It goes on straight where the law itself does, at nine tenths of the volume.
                return self._sampled(law, preload, -reach, min(reach, law.end), _SPRING_POINTS)
            case _:
                return self._sampled(law, preload, -reach, reach, _SPRING_POINTS)

    def damper(self, law: Law, reach: float) -> LawTable:
        """Force over rate of deflection."""
        match law:
            case Linear(k):
                return linear_law(k)
            case Bilinear(jounce, rebound):
                return two_slope_law(rebound, jounce)
            case Digressive():
                # Cells that divide the knee speed keep the knees exact.
                cells = ceil(law.knee * (_DAMPER_POINTS - 1) / (2 * reach))
                half = ceil(min(reach / law.knee, 100.0)) * cells
                reach = law.knee * half / cells
                return self._sampled(law, 0.0, -reach, reach, 2 * half + 1)
            case _:
                return self._sampled(law, 0.0, -reach, reach, _DAMPER_POINTS)

    def _sampled(self, law: Law, preload: float, low: float, high: float, count: int) -> LawTable:
        key = (law, preload, high)
        if key not in self._known:
            x = np.linspace(low, high, count)
            table = LawTable(low, (high - low) / (count - 1), preload + law.force(x))
            self.error = max(self.error, _deviation(law, preload, table, x))
            self._known[key] = table
        return self._known[key]


def _deviation(law: Law, preload: float, table: LawTable, x: Array) -> float:
    """Largest deviation of the table from the law, as a share of the span of the force.

    A smooth law is farthest from its chord in the middle of a cell, a broken line at its own corners.
    """
    checks = (x[1:] + x[:-1]) / 2
    if isinstance(law, Table):
        corners = np.array(law.x)
        checks = np.concatenate([checks, corners[(corners > x[0]) & (corners < x[-1])]])
    span = float(np.ptp(table.values))
    deviation = float(np.abs(table.value(checks) - preload - law.force(checks)).max())
    return deviation / span if span > 0 else 0.0
