"""Figures of the levelling, read off a history made by hand."""

from __future__ import annotations

import numpy as np
import pytest

from models.judge.levelling import levelling_figures, time_to_level
from models.ride.levelling import STEP, LevellingRun
from models.ride.levelling_event import LevellingEvent
from models.units import KINDS
from models.vehicle import AS_DESIGNED, Levelling

EVENT = LevellingEvent(
    load_at=1.0, loading_time=1.0, drive_from=20.0, drive_to=25.0, unload_at=26.0, duration=40.0
)
DATA = Levelling(speed=0.02, limit=0.5, dead_band=0.01)


def run(end_error: float = 0.004) -> LevellingRun:
    """Winds up from 5 to 10 s, down from 30 to 32 s, with a short start during the drive."""
    t = STEP * np.arange(round(EVENT.duration / STEP) + 1)
    motor = np.zeros(len(t), dtype=np.int64)
    for start, stop, way in ((5.0, 10.0, 1), (22.0, 22.5, 1), (30.0, 32.0, -1)):
        motor[round(start / STEP) : round(stop / STEP)] = way
    height = np.where(t < 1.0, 0.0, np.where(t < 10.0, -0.05, end_error))
    wind_up = np.concatenate([[0.0], np.cumsum(motor[:-1]) * STEP * DATA.speed])
    torque = 200.0 + 100.0 * wind_up
    current = np.where(motor != 0, 5.0, 0.0)
    return LevellingRun(
        event=EVENT,
        load=AS_DESIGNED,
        levelling=DATA,
        axle="rear",
        t=t,
        front=np.zeros_like(t),
        rear=height,
        seen=height,
        wind_up=wind_up,
        motor=motor,
        torque=torque,
        current=current,
        energy=12.0 * np.cumsum(current) * STEP,
    )


def test_figures_are_those_of_the_history() -> None:
    found = {figure.key: figure.value for figure in levelling_figures(run())}
    assert found["level_time_loaded"] == pytest.approx(9.0, abs=STEP)
    assert found["level_time_unloaded"] == pytest.approx(6.0, abs=STEP)
    assert found["level_error_loaded"] == found["level_error_unloaded"] == 0.004
    assert found["level_wind_up"] == pytest.approx(0.1, rel=1e-9)
    assert found["level_limit_left"] == pytest.approx(0.5 - 0.11, rel=1e-9)
    assert found["level_actuations"] == 3
    assert found["level_actuations_driving"] == 1
    assert found["level_running_time"] == pytest.approx(7.5, abs=1e-9)
    assert found["level_energy"] == pytest.approx(12.0 * 5.0 * 7.5, rel=1e-9)
    assert found["level_peak_torque"] == pytest.approx(211.0, rel=1e-9)
    assert found["level_peak_current"] == 5.0


def test_axle_outside_the_dead_band_at_the_end_is_not_level() -> None:
    assert np.isnan(time_to_level(run(end_error=-0.011), EVENT.load_at, EVENT.drive_from))
    assert time_to_level(run(), 0.0, 4.0) != time_to_level(run(), 0.0, 0.5) == 0.0


def test_every_figure_has_a_known_unit_and_a_meaning() -> None:
    for figure in levelling_figures(run()):
        assert figure.kind in KINDS
        assert len(figure.meaning) > 20
