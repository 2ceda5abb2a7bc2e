"""The controller of the levelling on signals made by hand."""

from __future__ import annotations

import numpy as np
import pytest

from models.ride.levelling_control import LOOK, ControlState, at_rest, looked, looks_of, low_passed
from models.vehicle import Levelling

DATA = Levelling(speed=0.1, limit=0.5, filter_time=0.0, dead_band=0.01, delay=1.0)
DELAY = looks_of(DATA.delay)


def watched(heights: list[float], data: Levelling = DATA, delay: float = 1.0) -> list[ControlState]:
    states = [at_rest()]
    for height in heights:
        states.append(looked(states[-1], np.array([height]), data, looks_of(delay)))
    return states[1:]


def first_start(states: list[ControlState]) -> int | None:
    return next((look for look, state in enumerate(states) if state.motor[0] != 0), None)


def test_inside_the_dead_band_nothing_happens() -> None:
    states = watched([0.0099, -0.0099, 0.01, -0.01] * 100)
    assert first_start(states) is None
    assert states[-1].actuations[0] == 0
    assert states[-1].wind_up[0] == 0.0


@pytest.mark.parametrize(("height", "direction"), [(-0.02, 1), (0.02, -1)])
def test_motor_starts_against_the_error_when_the_delay_is_over(height: float, direction: int) -> None:
    states = watched([height] * 40)
    assert first_start(states) == round(1.0 / LOOK)
    assert states[-1].motor[0] == direction
    assert np.sign(states[-1].wind_up[0]) == direction


def test_without_delay_the_motor_starts_at_once() -> None:
    assert first_start(watched([-0.02], delay=0.0)) == 0


@pytest.mark.parametrize("between", [0.0, 0.02], ids=["back inside", "other side"])
def test_delay_starts_anew_after(between: float) -> None:
    looks = int(DELAY)
    states = watched([-0.02] * looks + [between] + [-0.02] * 40)
    assert first_start(states) == looks + 1 + looks


def test_error_that_swings_never_starts_the_motor() -> None:
    assert first_start(watched(([-0.02] * 15 + [0.02] * 15) * 40)) is None


def test_motor_stops_at_half_the_dead_band() -> None:
    rising = list(np.arange(-0.02, 0.0, 0.0005))
    states = watched([-0.02] * 20 + rising)
    stopped = next(look for look in range(21, len(states)) if states[look].motor[0] == 0)
    assert rising[stopped - 20] == pytest.approx(-0.005, abs=1e-12)
    assert states[-1].actuations[0] == 1


def test_motor_stops_when_the_error_has_jumped_past() -> None:
    states = watched([-0.02] * 25 + [0.03])
    assert states[-1].motor[0] == 0


def test_after_a_stop_the_delay_has_to_elapse_afresh() -> None:
    """Past the other side at the stop: the next start comes a whole delay after the look after it."""
    states = watched([-0.02] * 25 + [0.03] * 40)
    motors = [int(state.motor[0]) for state in states]
    assert motors[25] == 0
    assert motors.index(-1) == 26 + int(DELAY)


def test_limit_ends_the_winding_and_lets_only_the_other_way_go() -> None:
    low = [-0.02] * 200
    states = watched(low + [0.02] * 40)
    # 0.5 rad at 0.1 rad/s from look 20 on: the limit is met 100 looks later.
    assert states[120].wind_up[0] == pytest.approx(0.5, abs=1e-12)
    assert [int(state.motor[0]) for state in states[121:200]] == [0] * 79
    assert states[199].actuations[0] == 1
    assert max(state.wind_up[0] for state in states) <= 0.5
    assert states[-1].motor[0] == -1


def test_lanes_do_not_touch_each_other() -> None:
    """Many delays side by side give what each gives alone."""
    heights = 0.02 * np.sin(2 * np.pi * np.arange(2000) * LOOK / 7.0)
    delays = np.array([0.0, 0.5, 1.0, 2.0, 3.0])
    together = at_rest(len(delays))
    for height in heights:
        together = looked(together, np.full(len(delays), height), DATA, looks_of(delays))
    alone = [watched(list(heights), delay=float(delay))[-1].actuations[0] for delay in delays]
    assert list(together.actuations) == alone
    # Outside the band for 2.33 s of each half wave: longer than the delay of 2 s, not than that of 3 s.
    assert alone[0] > 0
    assert alone[3] > alone[4] == 0


def test_low_pass_goes_on_where_it_left_off() -> None:
    rng = np.random.default_rng(3)
    signal = rng.normal(size=400)
    whole = low_passed(signal, 0.2, 0.7, 0.005)
    first = low_passed(signal[:151], 0.2, 0.7, 0.005)
    second = low_passed(signal[150:], float(first[-1]), 0.7, 0.005)
    assert np.concatenate([first, second[1:]]) == pytest.approx(whole, abs=1e-14)


def test_filter_time_zero_lets_the_signal_through() -> None:
    signal = np.array([0.0, 1.0, -2.0])
    assert low_passed(signal, 0.0, 0.0, 0.005).tolist() == signal.tolist()
