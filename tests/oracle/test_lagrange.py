"""The equations of motion of random cars beside those that sympy derives from energies and damper forces."""

from __future__ import annotations

from hypothesis import given, settings

from models.vehicle import Vehicle
from models.verification.engines.lagrange import equations
from tests.cars import vehicles
from tests.manual import RECORDER


@settings(max_examples=50, deadline=None)  # the first car derives the equations
@given(vehicles)
def test_equations_of_motion_of_any_car(vehicle: Vehicle) -> None:
    """Sums of up to ten products in other order: rounding of 1e-16 times the largest term."""
    for number in equations(vehicle, "any car"):
        RECORDER.add(number)
        assert number.held, number
