from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from scipy.constants import pi

from models.assembly import assemble, half_car
from models.ride.rates import in_series, rates, warp_shape
from models.vehicle import (
    Axle,
    Body,
    Load,
    LoadCase,
    Side,
    SolidAxle,
    Spring,
    Stabiliser,
    TorsionCoupling,
    TrimSpring,
    Tyre,
    Vehicle,
)
from tests.cars import EVERYTHING, vehicles


@given(vehicles)
def test_warp_moves_the_body_nowhere(vehicle: Vehicle) -> None:
    model = assemble(vehicle)
    warp = warp_shape(model)
    np.testing.assert_allclose(model.corner_map.T @ warp, 0, atol=1e-13)
    assert warp[0] > 0


def test_warp_of_equal_tracks() -> None:
    np.testing.assert_allclose(warp_shape(assemble(Vehicle())), [1, -1, -1, 1])


@pytest.mark.invariant
@given(vehicles)
def test_mode_rates_are_twice_the_energy_of_unit_motions(vehicle: Vehicle) -> None:
    model = assemble(vehicle)
    found = rates(model)
    x, y = model.corners.T
    shapes = {"heave": np.ones(4), "roll": y, "pitch": -x, "warp": warp_shape(model)}
    for name, travel in shapes.items():
        energy = sum(e.stiffness * (np.array(e.incidence) @ travel) ** 2 / 2 for e in model.elements)
        assert getattr(found, name) == pytest.approx(2 * energy, rel=1e-11, abs=1e-9)


def test_motion_ratio_and_wheel_rate() -> None:
    axle = Axle(spring=Spring(rate=40e3, motion_ratio=0.5))
    found = rates(assemble(Vehicle(front=axle)))
    assert found.wheel_rate[0] == pytest.approx(10e3)
    assert found.wheel_rates[0, 0] == pytest.approx(10e3)


def test_solid_axle_springs_inboard_of_the_wheels_are_soft_in_roll_only() -> None:
    solid = Axle(track=1.5, wheels=SolidAxle(spring_spacing=0.75), spring=Spring(rate=30e3))
    found = rates(assemble(Vehicle(front=solid, rear=solid)))
    assert found.heave == pytest.approx(4 * 30e3)
    assert found.roll == pytest.approx(4 * 30e3 * 0.375**2)
    assert found.wheel_rate == pytest.approx((30e3, 30e3))


def test_ride_rate_and_ride_frequency() -> None:
    front = Axle(spring=Spring(rate=20e3), tyre=Tyre(rate=180e3))
    rear = Axle(spring=Spring(rate=20e3), tyre=Tyre(rate=80e3))
    vehicle = Vehicle(wheelbase=2.5, body=Body(mass=1200.0, cg_to_front_axle=1.0), front=front, rear=rear)
    found = rates(assemble(vehicle))
    assert found.ride_rate == pytest.approx((18e3, 16e3))
    assert found.ride_frequency[0] == pytest.approx((2 * 18e3 / 720) ** 0.5 / (2 * pi))
    assert found.ride_frequency[1] == pytest.approx((2 * 16e3 / 480) ** 0.5 / (2 * pi))
    assert in_series(0.0, 180e3) == 0.0


def _joined(bar_rate: float, sense: str = "levelling") -> Side:
    return Side(
        coupling=TorsionCoupling(bar_rate=bar_rate, front_lever_ratio=3.0, rear_lever_ratio=2.0, sense=sense)
    )


def test_coupling_fraction_of_separate_and_of_fully_joined_springs() -> None:
    bare = Axle(spring=Spring(rate=0.0))
    assert rates(assemble(Vehicle())).coupling_fraction == (0.0, 0.0)
    assert rates(assemble(Vehicle(front=bare, rear=bare))).coupling_fraction == (0.0, 0.0)
    joined = rates(assemble(Vehicle(front=bare, rear=bare, left=_joined(900.0))))
    assert joined.coupling_fraction == pytest.approx((1.0, 1.0))
    against = rates(assemble(Vehicle(front=bare, rear=bare, left=_joined(900.0, "pitch stiffening"))))
    assert against.coupling_fraction == pytest.approx((-1.0, -1.0))


def test_coupling_fraction_of_a_joined_side_with_trim_and_corner_springs() -> None:
    """k_ff = 9·900 + 5000, k_rr = 4·900 + 6000 + 16·50, k_fr = 6·900."""
    side = _joined(900.0).model_copy(update={"trim": TrimSpring(bar_rate=50.0, lever_ratio=4.0)})
    vehicle = Vehicle(
        front=Axle(spring=Spring(rate=5e3)), rear=Axle(spring=Spring(rate=6e3)), left=side, right=Side()
    )
    left, right = rates(assemble(vehicle)).coupling_fraction
    assert left == pytest.approx(5400 / (13100 * 10400) ** 0.5)
    assert right == 0.0


@given(vehicles)
def test_coupling_fraction_knows_no_stabiliser(vehicle: Vehicle) -> None:
    free = {
        end: getattr(vehicle, end).model_copy(update={"stabiliser": Stabiliser()})
        for end in ("front", "rear")
    }
    with_bars, without = (
        rates(assemble(car)).coupling_fraction for car in (vehicle, vehicle.model_copy(update=free))
    )
    # A side that has next to no spring left of its own keeps eight digits beside a bar of 200 kN/m.
    assert with_bars == pytest.approx(without, abs=1e-8)
    assert all(abs(kappa) <= 1 + 1e-12 for kappa in without)


def test_half_car_has_the_rates_of_the_full_car() -> None:
    full = assemble(EVERYTHING)
    ours, theirs = rates(half_car(full)), rates(full)
    np.testing.assert_array_equal(ours.body_rates, theirs.body_rates)
    assert ours.ride_frequency == theirs.ride_frequency


def test_an_axle_without_mass_to_carry_has_no_ride_frequency() -> None:
    """A load far behind puts the CG behind the rear axle: the front axle would have to pull."""
    behind = LoadCase(name="behind", loads=(Load(mass=3000.0, x=-8.0),))
    front, rear = rates(assemble(EVERYTHING, behind)).ride_frequency
    assert np.isnan(front)
    assert rear > 0
