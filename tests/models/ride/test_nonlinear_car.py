"""The compiled car is the car: laws, rest, and the smaller models at the rest of their corners."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given

from models.assembly import half_car, half_car_in_roll, linearised, mechanics, quarter_car
from models.errors import InputError
from models.laws import Gas
from models.ride.drive import steps_within
from models.ride.nonlinear import simulate
from models.ride.nonlinear_car import TRAVEL_REACH, NonlinearCar, nonlinear_car
from models.statics import statics
from models.vehicle import (
    Axle,
    DigressiveDamper,
    GasSpring,
    Load,
    LoadCase,
    Stop,
    TabulatedDamper,
    TabulatedSpring,
    Vehicle,
)
from tests.cars import EVERYTHING, load_cases, real_vehicles

LOAD = LoadCase(name="test", loads=(Load(mass=180.0, x=-2.4, y=0.3),))


def ready(vehicle: Vehicle, load: LoadCase = LOAD) -> NonlinearCar:
    car = mechanics(vehicle, load)
    stand = statics(car)
    return nonlinear_car(car, stand, linearised(car, stand.q))


@given(vehicle=real_vehicles, load=load_cases)
def test_forces_of_the_tables_are_those_of_the_laws(vehicle: Vehicle, load: LoadCase) -> None:
    """At places off the grid, for deflections within reach; the error stated is the error there is."""
    try:
        car = mechanics(vehicle, load)
    except InputError:
        return
    stand = statics(car)
    made = nonlinear_car(car, stand, linearised(car, stand.q))
    travel = np.linspace(-0.11, 0.12, 37)
    for element, compiled in zip(car.elements, made.model.elements, strict=True):
        leverage = max(abs(part) for part in element.incidence)
        for law, table, preload, places in (
            (element.spring, compiled.spring, element.preload, travel * leverage),
            (element.damper, compiled.damper, 0.0, 20 * travel * leverage),
        ):
            if law is None or table is None:
                continue
            inside = places[(places < law.end) & (places > table.low)] if isinstance(law, Gas) else places
            if not inside.size:
                continue
            found, expected = table.value(inside), preload + law.force(inside)
            # Half as much again: between the places at which the error was looked for it may be larger.
            allowed = 1.5 * made.law_error * float(np.ptp(table.values)) + 1e-12 * np.abs(expected).max()
            assert np.abs(found - expected).max() <= allowed + 1e-9


@given(vehicle=real_vehicles)
def test_a_car_at_rest_on_an_even_road_stays_at_rest(vehicle: Vehicle) -> None:
    car = mechanics(vehicle, LOAD)
    stand = statics(car)
    if not stand.stable:
        return
    model = linearised(car, stand.q)
    made = nonlinear_car(car, stand, model)
    substeps = steps_within(car, model, 1e-3)
    t, even = np.linspace(0.0, 0.05, 51), np.zeros((4, 51))
    response = simulate(made.model, t, even, q0=made.start, substeps=substeps)
    assert np.abs(response.acceleration).max() < 1e-7
    if np.abs(stand.travel).max() < TRAVEL_REACH:  # beyond it the tables go on straight
        # Gravity as the run has it: the weight, but for the error of the tables at one deflection.
        assert made.model.constant_force == pytest.approx(car.weight, abs=2e-3 * np.abs(car.weight).max())


def test_usual_laws_lose_little_in_the_tables() -> None:
    """Kinks of the curves across one cell of 0.2 mm or 2 mm/s, gas between cells: below 1e-4 of the span."""
    axle = Axle(spring=GasSpring(), damper=TabulatedDamper())
    other = Axle(spring=TabulatedSpring(motion_ratio=0.83), damper=DigressiveDamper())
    assert 0 < ready(Vehicle(front=axle, rear=other)).law_error < 1e-4


def test_start_of_the_full_car_is_its_equilibrium() -> None:
    car = mechanics(EVERYTHING, LOAD)
    stand = statics(car)
    assert nonlinear_car(car, stand, linearised(car, stand.q)).start == pytest.approx(stand.q, abs=1e-14)


@pytest.mark.parametrize("corner", range(4))
def test_quarter_car_starts_from_the_travel_of_its_corner(corner: int) -> None:
    """A pitched and rolled body stands higher or lower over a corner than at its CG."""
    car = mechanics(EVERYTHING, LOAD)
    stand = statics(car)
    model = quarter_car(linearised(car, stand.q), corner)
    start = nonlinear_car(car, stand, model).start
    assert start[1] - start[0] == pytest.approx(stand.travel[corner], abs=1e-12)
    assert start[1] == pytest.approx(stand.q[3 + corner], abs=1e-12)


def test_half_cars_start_from_the_mean_of_what_they_join() -> None:
    car = mechanics(EVERYTHING, LOAD)
    stand = statics(car)
    full = linearised(car, stand.q)
    pitched = nonlinear_car(car, stand, half_car(full)).start
    assert pitched[2:] == pytest.approx([stand.q[3:5].mean(), stand.q[5:7].mean()], abs=2e-3)
    rolled = nonlinear_car(car, stand, half_car_in_roll(full)).start
    assert rolled[2:] == pytest.approx([stand.q[[3, 5]].mean(), stand.q[[4, 6]].mean()], abs=2e-3)


def test_left_and_right_share_their_tables() -> None:
    axle = Axle(spring=GasSpring())
    elements = {element.name: element for element in ready(Vehicle(front=axle), LoadCase()).model.elements}
    left, right = elements["front left spring"].spring, elements["front right spring"].spring
    assert left is not None
    assert right is not None
    assert left.values == pytest.approx(right.values, rel=1e-12)


def test_stops_of_both_ends_go_over() -> None:
    axle = Axle(bump_stop=Stop(gap=0.05, rate=3e4, growth=2e6), rebound_stop=Stop(gap=0.07, rate=2e4))
    elements = {element.name: element for element in ready(Vehicle(front=axle)).model.elements}
    bump, rebound = elements["front left bump stop"], elements["front left rebound stop"]
    assert bump.jounce_stop is not None
    assert bump.rebound_stop is None
    assert (bump.jounce_stop.gap, bump.jounce_stop.rate, bump.jounce_stop.progression) == (0.05, 3e4, 2e6)
    assert rebound.jounce_stop is None
    assert rebound.rebound_stop is not None
    assert (rebound.rebound_stop.gap, rebound.rebound_stop.rate) == (0.07, 2e4)
