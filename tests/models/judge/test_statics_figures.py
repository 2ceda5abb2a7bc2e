"""Figures and table of the load cases."""

from __future__ import annotations

import math

import pytest
from scipy.constants import g

from models.analysis import analyse
from models.judge import key_figures
from models.judge.figure import grouped
from models.judge.statics import attitude_words, load_case_table, statics_figures
from models.run import Run
from models.units import METRIC
from models.vehicle import AS_DESIGNED, Axle, Load, LoadCase, Spring, Stop, Vehicle

AXLE = Axle(bump_stop=Stop(gap=0.06, rate=4e4), rebound_stop=Stop(gap=0.08, rate=4e4))
CAR = Vehicle(front=AXLE, rear=AXLE)
OVER_REAR = LoadCase(name="over the rear axle", loads=(Load(mass=100.0, x=-2.9, y=0.0, z=0.55),))
RUN = Run(duration=0.3)


def figures(vehicle: Vehicle, load: LoadCase) -> dict[str, float]:
    found = statics_figures(analyse(vehicle, RUN, load, compiled=False))
    return {figure.key: figure.value for figure in found}


def test_a_load_over_the_rear_axle_by_hand() -> None:
    """All of it on the rear: its springs and tyres in series sink by 50 g / k each; the front stays."""
    found = figures(CAR, OVER_REAR)
    travel = 50 * g / 26e3
    sink = travel + 50 * g / 200e3
    assert found["trim_front"] == pytest.approx(0.0, abs=1e-9)
    assert found["trim_rear"] == pytest.approx(-sink, rel=1e-9)
    assert found["rest_pitch"] == pytest.approx(-sink / 2.9, rel=1e-9)
    assert found["jounce_left_rear"] == pytest.approx(0.06 - travel, rel=1e-9)
    assert found["rebound_left_rear"] == pytest.approx(0.08 + travel, rel=1e-9)
    assert found["jounce_left_front"] == pytest.approx(0.06, abs=1e-9)
    rest = figures(CAR, AS_DESIGNED)
    assert found["corner_load_RL"] - rest["corner_load_RL"] == pytest.approx(50 * g, rel=1e-9)
    whole = (1700 + 4 * 45 + 100) * g
    assert found["front_weight_share"] == pytest.approx((1700 * 1.45 / 2.9 + 90) * g / whole, rel=1e-9)


def test_key_figures_hold_those_of_the_load_case_at_the_end() -> None:
    analysis = analyse(CAR, RUN, OVER_REAR, compiled=False)
    rest = statics_figures(analysis)
    assert key_figures(analysis)[-len(rest) :] == grouped("Trim", rest)


def test_table_has_a_row_for_each_load_case() -> None:
    gone = LoadCase(name="nothing left", loads=(Load(mass=-2000.0),))
    tipped = LoadCase(name="far behind", loads=(Load(mass=3000.0, x=-5.0),))
    rows = load_case_table(CAR, (AS_DESIGNED, OVER_REAR, gone, tipped))
    assert [row.name for row in rows] == ["as designed", "over the rear axle", "nothing left", "far behind"]
    assert [row.stable for row in rows] == [True, True, False, False]
    assert "more than 0 kg" in rows[2].reason
    assert rows[3].reason == "the car tips over its rear wheels"
    assert math.isnan(rows[3].tyre_force[0])
    assert rows[1].trim[1] == pytest.approx(figures(CAR, OVER_REAR)["trim_rear"], rel=1e-12)


def test_a_car_that_does_not_stand_has_a_reason_instead_of_figures() -> None:
    bare = Axle(spring=Spring(rate=0.0))
    (row,) = load_case_table(Vehicle(front=bare, rear=bare), (AS_DESIGNED,))
    assert row.reason == "nothing holds the body in heave and roll and pitch"
    assert attitude_words(row.roll, row.pitch, METRIC) == ("–", "–")


@pytest.mark.parametrize(
    ("roll", "pitch", "words"),
    [
        (0.0, 0.0, ("level", "level")),
        (0.0, math.radians(-1.25), ("up 1.2", "level")),
        (math.radians(0.5), math.radians(2.0), ("down 2.0", "right 0.50")),
        (math.radians(-0.5), 0.0, ("level", "left 0.50")),
    ],
)
def test_attitude_in_words(roll: float, pitch: float, words: tuple[str, str]) -> None:
    assert attitude_words(roll, pitch, METRIC) == words
