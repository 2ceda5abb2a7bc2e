from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given

from models.assembly import CORNERS, RideModel, assemble, half_car
from models.fields import replaced
from models.ride.modes import modes
from models.vehicle import Side, SolidAxle, TorsionCoupling, TrimSpring, Vehicle
from tests.cars import EVERYTHING, symmetric_vehicles, vehicles

MATRICES = ("mass", "damping", "stiffness", "road_stiffness", "road_damping")


def _element(model: RideModel, name: str) -> tuple[float, ...]:
    (found,) = [element.incidence for element in model.elements if element.name == name]
    return found


@pytest.mark.invariant
@given(vehicles)
def test_mass_is_positive_and_stiffness_and_damping_take_no_energy_from_nowhere(vehicle: Vehicle) -> None:
    model = assemble(vehicle)
    for name in ("mass", "damping", "stiffness"):
        matrix = getattr(model, name)
        scale = np.abs(matrix).max()
        np.testing.assert_allclose(matrix, matrix.T, rtol=0, atol=1e-14 * scale)
        lowest = np.linalg.eigvalsh(matrix)[0]
        if name == "mass":
            assert lowest > 0
        else:
            assert lowest > -1e-12 * scale  # rounding of the largest entry


@given(vehicles)
def test_the_whole_car_on_a_raised_road_rises_without_force(vehicle: Vehicle) -> None:
    """Body, wheels and road up by the same, or tilted by the same, strain nothing but for equal tracks."""
    model = assemble(vehicle)
    for mode in range(3):
        heights = model.corner_map[:, mode]
        q = np.concatenate([np.eye(3)[mode], heights])
        force = model.stiffness @ q - model.road_stiffness @ heights
        assert np.abs(force).max() <= 1e-11 * np.abs(model.stiffness @ q).max()


@pytest.mark.invariant
@given(vehicles)
def test_forces_of_the_suspension_are_in_balance(vehicle: Vehicle) -> None:
    """On any travel the suspension pushes body and wheels apart with the same force and moments."""
    model = assemble(vehicle)
    travels = np.array([0.03, -0.01, 0.02, 0.05])
    q = np.concatenate([np.zeros(3), travels])
    tyres = model.wheels.T @ (model.tyre_stiffness * travels)
    force = model.stiffness @ q - tyres
    on_body, on_wheels = force[:3], force[3:]
    np.testing.assert_allclose(
        on_body, -model.corner_map.T @ on_wheels, rtol=0, atol=1e-9 * (1 + np.abs(on_wheels).max())
    )


def test_incidence_of_each_kind_of_part() -> None:
    model = assemble(EVERYTHING)
    assert _element(model, "front left spring") == (0.71, 0.0, 0.0, 0.0)
    assert _element(model, "front right damper") == (0.0, 0.83, 0.0, 0.0)
    assert _element(model, "front stabiliser bar") == (3.9, -3.9, 0.0, 0.0)
    assert _element(model, "left interconnection bar") == (2.6, 0.0, 3.1, 0.0)
    assert _element(model, "right interconnection bar") == (0.0, 2.2, 0.0, -2.7)
    assert _element(model, "left trim spring") == (0.0, 0.0, 2.9, 0.0)
    assert _element(model, "right trim spring") == (0.0, 3.3, 0.0, 0.0)
    own = 0.94 * (0.5 + 0.98 / (2 * 1.47))
    assert _element(model, "rear left spring") == pytest.approx((0.0, 0.0, own, 0.94 - own))


def test_jounce_at_the_front_lifts_the_rear_through_a_levelling_bar() -> None:
    side = Side(coupling=TorsionCoupling(bar_rate=1000.0))
    rates = assemble(Vehicle(left=side)).wheel_rates
    front_left_jounce = rates @ np.array([0.01, 0.0, 0.0, 0.0])
    assert front_left_jounce[2] > 0  # force up on the body at the rear left corner
    assert front_left_jounce[3] == 0


def test_signs_of_roll_and_pitch() -> None:
    """ISO 8855: roll > 0 lifts the left side, pitch > 0 lowers the nose."""
    rolled, pitched = assemble(Vehicle()).corner_map[:, 1:].T
    assert [np.sign(h) for h in rolled] == [1, -1, 1, -1]
    assert [np.sign(h) for h in pitched] == [-1, -1, 1, 1]


@given(vehicles)
def test_without_bars_it_is_the_conventional_car_exactly(vehicle: Vehicle) -> None:
    """A bar without stiffness changes no matrix, whatever its levers."""
    loose = Side(
        coupling=TorsionCoupling(bar_rate=0.0, front_lever_ratio=5.0, sense="pitch stiffening"),
        trim=TrimSpring(bar_rate=0.0, lever_ratio=4.0),
    )
    with_levers = vehicle.model_copy(update={"left": loose, "right": None})
    bare = vehicle.model_copy(update={"left": Side(), "right": None})
    for name in MATRICES:
        assert np.array_equal(getattr(assemble(with_levers), name), getattr(assemble(bare), name)), name
    k_s = assemble(bare).wheel_rates
    assert not k_s[:2, 2:].any()


@pytest.mark.invariant
@given(vehicles)
def test_the_half_car_is_the_full_car_with_left_equal_to_right(vehicle: Vehicle) -> None:
    full = assemble(vehicle)
    half = half_car(full)
    spread = np.zeros((7, 4))
    spread[0, 0] = spread[2, 1] = 1.0
    spread[3:5, 2] = spread[5:7, 3] = 1.0
    both = spread[3:, 2:]
    for name in ("mass", "damping", "stiffness"):
        _same(getattr(half, name), spread.T @ getattr(full, name) @ spread)
    for name in ("road_stiffness", "road_damping"):
        _same(getattr(half, name), spread.T @ getattr(full, name) @ both)


def _same(ours: np.ndarray, theirs: np.ndarray) -> None:
    np.testing.assert_allclose(ours, theirs, rtol=0, atol=1e-12 * np.abs(theirs).max())


@pytest.mark.invariant
@given(symmetric_vehicles)
def test_a_symmetric_car_has_the_modes_of_its_half_car_among_its_own(vehicle: Vehicle) -> None:
    full = assemble(vehicle)
    of_full, of_half = modes(full).frequency ** 2, modes(half_car(full)).frequency ** 2
    distance = np.abs(of_full[:, None] - of_half).min(axis=0)
    assert np.all(distance <= 1e-11 * of_full[-1])  # rounding is relative to the largest square


@pytest.mark.invariant
@given(symmetric_vehicles)
def test_left_and_right_mirror(vehicle: Vehicle) -> None:
    mirror = np.zeros((7, 7))
    mirror[[0, 1, 2, 3, 4, 5, 6], [0, 1, 2, 4, 3, 6, 5]] = [1, -1, 1, 1, 1, 1, 1]
    model = assemble(vehicle)
    for name in ("mass", "damping", "stiffness"):
        matrix = getattr(model, name)
        _same(mirror.T @ matrix @ mirror, matrix)


def test_separate_wheels_move_like_a_beam_of_two_point_masses() -> None:
    """Independent wheels of mass m at half track t/2 are a beam of mass 2m and inertia m t²/2."""
    separate = Vehicle()
    mass, track = separate.rear.wheels.unsprung_mass, separate.rear.track
    beam = SolidAxle(mass=2 * mass, roll_inertia=mass * track**2 / 2, spring_spacing=track)
    joined = replaced(separate, ("rear", "wheels"), beam)
    for name in MATRICES:
        _same(getattr(assemble(joined), name), getattr(assemble(separate), name))


def test_geometry() -> None:
    model = assemble(EVERYTHING)
    assert model.wheelbase == pytest.approx(2.75)
    assert model.track == pytest.approx((1.52, 1.47))
    assert model.inputs == CORNERS
    assert model.body_mass[2, 2] == pytest.approx(0.93 * 1480 * 1.31 * (2.75 - 1.31))
    static = model.wheel_mass.sum(axis=1)
    assert static == pytest.approx([41.0, 41.0, 59.0, 59.0])
