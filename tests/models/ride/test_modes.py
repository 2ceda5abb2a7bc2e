from __future__ import annotations

from math import inf, isfinite, pi

import numpy as np
import pytest
from hypothesis import assume, given

from models.assembly import RideModel, assemble, half_car
from models.fields import replaced
from models.ride.modes import modes
from models.ride.pitch_plane import pitch_plane
from models.vehicle import (
    Axle,
    Body,
    Damper,
    IndependentWheels,
    Side,
    Spring,
    Stabiliser,
    TorsionCoupling,
    Tyre,
    Vehicle,
)
from tests.cars import EVERYTHING, vehicles

FULL_CAR_NAMES = {
    *("bounce", "pitch", "roll"),
    *("front wheel hop", "front axle tramp", "rear wheel hop", "rear axle tramp"),
}


def _with_dampers(damper: Damper, tyre_damping: float = 0.0) -> Vehicle:
    axle = Axle(damper=damper, tyre=Tyre(damping=tyre_damping))
    return Vehicle(front=axle, rear=axle)


@given(vehicles)
def test_shapes_diagonalise_mass_and_stiffness(vehicle: Vehicle) -> None:
    model = assemble(vehicle)
    found = modes(model)
    squares = (2 * pi * found.frequency) ** 2
    assert np.all(np.diff(found.frequency) >= 0)
    np.testing.assert_allclose(found.shapes.T @ model.mass @ found.shapes, np.eye(7), atol=1e-11)
    np.testing.assert_allclose(
        found.shapes.T @ model.stiffness @ found.shapes, np.diag(squares), rtol=0, atol=1e-11 * squares[-1]
    )


@given(vehicles)
def test_every_mode_has_its_own_name_and_finite_numbers(vehicle: Vehicle) -> None:
    found = modes(assemble(vehicle))
    assert set(found.names) == FULL_CAR_NAMES
    assert np.isfinite(found.frequency).all()
    assert not np.isnan(found.damping_ratio).any()
    assert np.all(found.damping_ratio >= -1e-12)
    assert np.isfinite(found.damped_frequency).all()


@given(vehicles)
def test_damped_roots_solve_the_equation_of_motion(vehicle: Vehicle) -> None:
    """λ²M + λC + K is singular at each root that ratio and damped frequency describe."""
    model = assemble(vehicle)
    found = modes(model)
    for ratio, damped in zip(found.damping_ratio, found.damped_frequency, strict=True):
        if damped > 0:
            natural = 2 * pi * damped / np.sqrt(1 - ratio**2)
            root = complex(-ratio * natural, 2 * pi * damped)
            values = np.linalg.svd(_dynamic(model, root), compute_uv=False)
            assert values[-1] <= 1e-7 * values[0]


def _dynamic(model: RideModel, root: complex) -> np.ndarray:
    inverse = np.diag(1 / np.sqrt(np.diag(model.mass)))
    return inverse @ (root**2 * model.mass + root * model.damping + model.stiffness) @ inverse


def test_light_damping_is_that_of_each_mode_alone() -> None:
    """For small C: ζ = φᵀCφ / 2ω, to the second order in ζ."""
    model = assemble(_with_dampers(Damper(jounce=20.0, rebound=20.0)))
    found = modes(model)
    modal = np.diag(found.shapes.T @ model.damping @ found.shapes)
    np.testing.assert_allclose(found.damping_ratio, modal / (4 * pi * found.frequency), rtol=1e-4)
    np.testing.assert_allclose(found.damped_frequency, found.frequency, rtol=1e-4)


def test_no_damping_at_all() -> None:
    found = modes(assemble(_with_dampers(Damper(jounce=0.0, rebound=0.0))))
    np.testing.assert_allclose(found.damping_ratio, 0, atol=1e-12)
    np.testing.assert_allclose(found.damped_frequency, found.frequency, rtol=1e-9)


def test_overdamped_wheels_creep() -> None:
    """Dampers 20 times too strong: no swinging wheel mode is left, and the roots stay those of the car."""
    model = assemble(_with_dampers(Damper(jounce=60e3, rebound=60e3)))
    found = modes(model)
    hop = [mode for mode, name in enumerate(found.names) if "hop" in name or "tramp" in name]
    assert len(hop) == 4
    assert np.all(found.damping_ratio[hop] > 1)
    assert np.all(found.damped_frequency[hop] == 0)
    assert np.isfinite(found.damping_ratio).all()


@pytest.mark.parametrize("coefficient", [1500.0, 30e3], ids=["swings", "creeps"])
def test_wheels_that_move_against_each_other_are_a_single_degree_of_freedom(coefficient: float) -> None:
    """Four corners alike: in warp no body moves, and ζ = c / (2 √((k + k_t) m_u)) exactly."""
    found = modes(assemble(_with_dampers(Damper(jounce=coefficient, rebound=coefficient))))
    of_body = np.abs(found.shapes[:3]).max(axis=0)
    warp = int(np.argmin(of_body))
    omega = np.sqrt(226e3 / 45.0)
    ratio = coefficient / (2 * np.sqrt(226e3 * 45.0))
    assert found.frequency[warp] == pytest.approx(omega / (2 * pi))
    assert found.damping_ratio[warp] == pytest.approx(ratio)
    damped = omega / (2 * pi) * np.sqrt(max(1 - ratio**2, 0.0))
    assert found.damped_frequency[warp] == pytest.approx(damped)


def test_an_overdamped_body_on_rigid_tyres() -> None:
    """Bounce on 4 k and 4 c: ζ = 4 c / (2 √(4 k m)) = 1.2.  The tyres give by c λ / k_t = 2e-4."""
    axle = Axle(damper=Damper(jounce=8e3, rebound=8e3), tyre=Tyre(rate=1e9, damping=0.0))
    found = modes(assemble(Vehicle(front=axle, rear=axle)))
    bounce = found.index("bounce")
    assert found.damping_ratio[bounce] == pytest.approx(32e3 / (2 * np.sqrt(104e3 * 1700.0)), rel=1e-3)
    assert found.damped_frequency[bounce] == 0.0


def test_a_free_mode_is_free_exactly() -> None:
    """Joined bars alone: pitch has no stiffness, and its damping has nothing to be compared with."""
    bare = Axle(spring=Spring(rate=0.0), stabiliser=Stabiliser(bar_rate=500.0))
    joined = Side(coupling=TorsionCoupling(bar_rate=1200.0))
    found = modes(assemble(Vehicle(front=bare, rear=bare, left=joined)))
    pitch = found.index("pitch")
    assert found.frequency[pitch] == 0.0
    assert found.damping_ratio[pitch] == inf
    assert found.damped_frequency[pitch] == 0.0
    others = np.delete(np.arange(7), pitch)
    assert np.all(found.frequency[others] > 0.3)
    assert np.all(np.isfinite(found.damping_ratio[others]))


def test_a_free_mode_without_damper() -> None:
    loose = Axle(spring=Spring(rate=0.0), damper=Damper(jounce=0.0, rebound=0.0), tyre=Tyre(damping=0.0))
    found = modes(assemble(Vehicle(front=loose, rear=loose)))
    assert np.all(found.frequency[:3] == 0.0)
    assert np.all(found.damping_ratio[:3] == 0.0)
    assert all(map(isfinite, found.damped_frequency))


def test_names_follow_the_motion() -> None:
    stiff_in_roll = Vehicle(
        front=Axle(stabiliser=Stabiliser(bar_rate=3000.0)), rear=Axle(tyre=Tyre(rate=260e3))
    )
    found = modes(assemble(stiff_in_roll))
    roll, bounce = (found.shapes[:, found.index(name)] for name in ("roll", "bounce"))
    assert np.argmax(np.abs(roll[:3])) == 1
    assert np.argmax(np.abs(bounce[:3])) == 0
    hop = found.shapes[3:, found.index("rear wheel hop")]
    assert hop[2] == pytest.approx(hop[3])
    assert np.argmax(np.abs(hop)) in (2, 3)
    tramp = found.shapes[3:, found.index("front axle tramp")]
    assert tramp[0] == pytest.approx(-tramp[1])


def test_levelling_makes_pitch_the_slow_mode() -> None:
    soft = Axle(spring=Spring(rate=4e3))
    joined = Side(coupling=TorsionCoupling(bar_rate=1200.0))
    assert modes(assemble(Vehicle(front=soft, rear=soft, left=joined))).names[0] == "pitch"
    assert modes(assemble(Vehicle())).names[:3] == ("bounce", "pitch", "roll")


@given(vehicles)
def test_names_of_the_half_car_are_those_of_the_body_alone(vehicle: Vehicle) -> None:
    """Springs so much softer than tyres that the order by frequency stays."""
    model = half_car(assemble(vehicle))
    plane = pitch_plane(model, tyre_in_series=True)
    slow, fast = plane.frequency
    assume(0.0 < slow < 0.9 * fast < 2.0)
    assert modes(model).names[:2] == plane.names


def test_half_car_names() -> None:
    found = modes(half_car(assemble(EVERYTHING)))
    assert sorted(found.names) == ["bounce", "front wheel hop", "pitch", "rear wheel hop"]
    with pytest.raises(ValueError, match="not in tuple"):
        found.index("roll")


@pytest.mark.parametrize("stabiliser", [0.0, 500.0])
@pytest.mark.parametrize("damper", [0.0, 1e4, 1e6])
@pytest.mark.parametrize("wheel_mass", [0.1, 45.0, 3000.0])
@pytest.mark.parametrize("spring", [0.0, 26e3, 2e6])
def test_odd_cars_still_have_seven_names_and_no_nan(
    spring: float, wheel_mass: float, damper: float, stabiliser: float
) -> None:
    axle = Axle(
        wheels=IndependentWheels(unsprung_mass=wheel_mass),
        spring=Spring(rate=spring),
        damper=Damper(jounce=damper, rebound=damper),
        stabiliser=Stabiliser(bar_rate=stabiliser),
        tyre=Tyre(damping=0.0),
    )
    found = modes(assemble(Vehicle(body=Body(mass=200.0), front=axle, rear=axle)))
    assert set(found.names) == FULL_CAR_NAMES
    for values in (found.frequency, found.damping_ratio, found.damped_frequency):
        assert not np.isnan(values).any()


def test_a_very_stiff_tyre_leaves_the_body_modes_in_order() -> None:
    hard = replaced(replaced(Vehicle(), ("front", "tyre", "rate"), 1e9), ("rear", "tyre", "rate"), 1e9)
    found = modes(assemble(hard))
    assert found.names[:3] == ("bounce", "pitch", "roll")
    # Body on 4 × 26 kN/m: off by wheel rate / tyre rate = 3e-5.
    assert found.frequency[0] == pytest.approx((4 * 26e3 / 1700) ** 0.5 / (2 * pi), rel=5e-5)
