from __future__ import annotations

from math import degrees, inf

import numpy as np
import pytest

from models.analysis import analyse
from models.fields import replaced
from models.judge.handling import handling_figures
from models.manoeuvre import Brake, BrakeInTurn, Corner, Manoeuvre, Straight
from models.ride.steady import quasi_static
from models.roads import OneMinusCosine
from models.run import Run
from models.units import KINDS, METRIC, factor
from models.vehicle import AS_DESIGNED, AxleGeometry, Stabiliser, Vehicle
from tests.cars import EVERYTHING

FLAT = OneMinusCosine(height=0.0)


def figures(vehicle: Vehicle, manoeuvre: Manoeuvre, **more: object) -> dict[str, float]:
    analysis = analyse(vehicle, Run(manoeuvre=manoeuvre, **({"event": FLAT} | more)))
    return {figure.key: figure.value for figure in handling_figures(analysis)}


def test_held_attitude_is_that_of_the_equilibrium() -> None:
    found = figures(EVERYTHING, BrakeInTurn(longitudinal=3.0, lateral=-4.0))
    expected = quasi_static(EVERYTHING, AS_DESIGNED, -3.0, -4.0)
    assert found["held_pitch"] == pytest.approx(expected.pitch)
    assert found["held_roll"] == pytest.approx(expected.roll)
    assert found["peak_roll"] > abs(expected.roll)  # it overshoots
    straight = figures(EVERYTHING, Straight())
    assert straight["held_pitch"] == straight["held_roll"] == 0.0


def test_a_car_that_tips_over_has_no_held_attitude() -> None:
    found = figures(Vehicle(), Corner(lateral=15.0), duration=0.6)
    assert found["held_pitch"] == found["held_roll"] == inf


def test_minimum_tyre_load_is_that_of_the_run() -> None:
    found = figures(Vehicle(), Brake(longitudinal=8.0))
    held = quasi_static(Vehicle(), AS_DESIGNED, -8.0, 0.0).stand.tyre_force.min()
    assert 0 < found["minimum_tyre_load"] < held
    assert figures(Vehicle(), Corner(lateral=13.0), duration=1.5)["minimum_tyre_load"] == 0.0
    linear = figures(Vehicle(), Corner(lateral=13.0), duration=1.5, laws="linear")
    assert linear["minimum_tyre_load"] < 0.0


def test_support_figures_name_the_axle_and_the_cause() -> None:
    vehicle = replaced(
        replaced(Vehicle(), ("front", "geometry"), AxleGeometry(brake_support=0.4, drive_support=0.3)),
        ("rear", "geometry"),
        AxleGeometry(brake_support=0.6, drive_support=0.5),
    )
    found = figures(vehicle, Straight())
    assert found["anti_dive_front"] == 0.4
    assert found["anti_lift_rear"] == 0.6
    assert found["anti_lift_front"] == 0.0  # the front axle is not driven
    assert found["anti_squat_rear"] == 0.5
    assert found["brake_support_angle_rear"] > found["brake_support_angle_front"] > 0


def test_a_stabiliser_takes_load_transfer_to_its_axle_and_lessens_roll() -> None:
    stiff = replaced(Vehicle(), ("front", "stabiliser"), Stabiliser(bar_rate=1500.0))
    plain, stabilised = (figures(vehicle, Straight()) for vehicle in (Vehicle(), stiff))
    assert plain["front_load_transfer"] == pytest.approx(0.5)
    assert stabilised["front_load_transfer"] > 0.6
    assert stabilised["roll_gradient"] < plain["roll_gradient"]
    assert stabilised["dive_gradient"] == pytest.approx(plain["dive_gradient"])


def test_gradients_are_read_in_degrees_per_g() -> None:
    kind = KINDS["angle per acceleration"]
    assert factor(METRIC["angle per acceleration"], kind.si) == pytest.approx(np.radians(1) / 9.80665)
    gradient = figures(Vehicle(), Straight())["roll_gradient"]
    roll = quasi_static(Vehicle(), AS_DESIGNED, 0.0, 0.01 * 9.80665).roll
    assert gradient / factor("deg/g₀", kind.si) == pytest.approx(100 * degrees(roll))


@pytest.mark.parametrize("model", ["half car", "quarter car front"])
def test_models_without_roll_have_no_roll_figures(model: str) -> None:
    found = figures(Vehicle(), Corner(), model=model)
    assert not {"roll_gradient", "front_load_transfer", "peak_roll", "held_roll"} & set(found)
    assert "dive_gradient" in found
