"""The smaller models are the full car with motions left out."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from scipy.linalg import eigh

from models.assembly import RideModel, assemble, half_car, half_car_in_roll, quarter_car
from models.errors import InputError
from models.fields import replaced
from models.ride.modes import modes
from models.vehicle import Load, LoadCase, Vehicle
from tests.cars import symmetric_vehicles


def squares(model: RideModel) -> np.ndarray:
    return np.asarray(modes(model).frequency) ** 2


def close(found: np.ndarray, expected: np.ndarray) -> None:
    """Rounding is relative to the largest square."""
    assert np.abs(np.sort(found) - np.sort(expected)).max() <= 1e-11 * expected.max()


@pytest.mark.invariant
@given(symmetric_vehicles)
def test_a_symmetric_car_is_its_half_car_in_pitch_and_its_roll_plane(vehicle: Vehicle) -> None:
    """Seven squares: four of the half car, three of roll with the wheels of each axle against each other."""
    full = assemble(vehicle)
    against = np.zeros((7, 3))
    against[1, 0] = 1.0
    against[[3, 4], 1] = against[[5, 6], 2] = 1.0, -1.0
    roll, _ = eigh(against.T @ full.stiffness @ against, against.T @ full.mass @ against)
    both = np.concatenate([squares(half_car(full)), roll / (2 * np.pi) ** 2])
    close(squares(full), both)


@pytest.mark.invariant
@given(symmetric_vehicles)
def test_a_car_alike_in_front_and_rear_has_the_modes_of_its_half_car_in_roll(vehicle: Vehicle) -> None:
    middle = replaced(vehicle, ("body", "cg_to_front_axle"), vehicle.wheelbase / 2)
    plain = middle.model_copy(update={"rear": middle.front, "left": Vehicle().left, "right": None})
    full = assemble(plain)
    of_half = squares(half_car_in_roll(full))
    distance = np.abs(squares(full)[:, None] - of_half).min(axis=0)
    assert np.all(distance <= 1e-11 * squares(full)[-1])


def test_a_corner_without_a_share_of_the_mass_is_no_quarter_car() -> None:
    """3000 kg 8 m behind the front axle put the CG of body and load behind the rear axle."""
    behind = assemble(Vehicle(), LoadCase(name="behind", loads=(Load(mass=3000.0, x=-8.0),)))
    assert quarter_car(behind, 2).body_mass[0, 0] > 0
    with pytest.raises(InputError, match=r"Mass: -\d+.* kg is outside the allowed range .*quarter car FL"):
        quarter_car(behind, 0)
