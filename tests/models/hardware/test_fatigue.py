"""Damage and life: the S–N line itself, Miner's sum by hand, and laws of scale."""

from __future__ import annotations

from math import inf, log10, pi, sqrt

import numpy as np
import pytest
from scipy.stats import lognorm

from models.hardware.cycles import Cycles, count_cycles
from models.hardware.fatigue import (
    cycles_to_failure,
    damage,
    in_stress_of,
    life_factor,
    line_amplitude,
    stress_margin,
)
from models.hardware.sn_curve import SNCurve

KNEE, CYCLES, SLOPE, SECOND = 200e6, 1e6, 6.0, 11.0
PLAIN = SNCurve(
    amplitude=KNEE,
    cycles=CYCLES,
    slope=SLOPE,
    second_slope=SECOND,
    below="second slope",
    mean_rule="none",
    ratio=-1.0,
)


def line(**changed: object) -> SNCurve:
    return SNCurve.model_validate({**{key: getattr(PLAIN, key) for key in SNCurve.model_fields}, **changed})


def constant(amplitude: float, mean: float, count: int = 50) -> Cycles:
    """A sine, sampled at its peaks and between them, that closes upon itself."""
    phase = np.linspace(0, 2 * pi * count, 40 * count + 1)
    return count_cycles(mean + amplitude * np.cos(phase), closed=True)


@pytest.mark.parametrize("rule", ["none", "Goodman", "mean stress sensitivity"])
@pytest.mark.parametrize("ratio", [-1.0, -0.4, 0.0, 0.6])
@pytest.mark.parametrize("amplitude", [0.4 * KNEE, KNEE, 1.7 * KNEE])
def test_constant_amplitude_at_the_ratio_of_the_line_lives_as_the_line_says(
    rule: str, ratio: float, amplitude: float
) -> None:
    mean = amplitude * (1 + ratio) / (1 - ratio)
    slope = SLOPE if amplitude > KNEE else SECOND
    life = CYCLES * (KNEE / amplitude) ** slope
    asked = line(mean_rule=rule, ratio=ratio, ultimate=3e9)
    assert damage(asked, constant(amplitude, mean)) == pytest.approx(50 / life, rel=1e-9)
    assert cycles_to_failure(asked, np.array([amplitude])) == pytest.approx(life)


def test_miners_sum_by_hand() -> None:
    """1000 cycles at 300 MPa, 2e5 at 200 MPa, 1e7 at 100 MPa, a damage at failure of 0.5."""
    mix = Cycles(2 * np.array([300e6, 200e6, 100e6]), np.zeros(3), np.array([1e3, 2e5, 1e7]))
    by_hand = 1e3 / (1e6 / 1.5**6) + 2e5 / 1e6 + 1e7 / (1e6 * 2**11)
    assert damage(PLAIN, mix) == pytest.approx(by_hand)
    assert damage(line(damage_sum=0.5), mix) == pytest.approx(2 * by_hand)


def test_what_lies_below_the_knee() -> None:
    small = np.array([KNEE / 2])
    assert cycles_to_failure(line(below="same slope"), small) == pytest.approx(CYCLES * 2**SLOPE)
    assert cycles_to_failure(line(below="endurance limit"), small) == inf
    assert cycles_to_failure(line(below="endurance limit"), np.array([KNEE])) == pytest.approx(CYCLES)
    assert cycles_to_failure(line(omitted=0.6), small) == inf
    assert cycles_to_failure(line(omitted=0.4), small) < inf
    assert cycles_to_failure(PLAIN, np.zeros(1)) == inf


@pytest.mark.parametrize("rule", ["none", "mean stress sensitivity"])
def test_twice_the_stress_does_two_to_the_slope_of_the_damage(rule: str) -> None:
    generator = np.random.default_rng(1)
    counted = count_cycles(120e6 * generator.standard_normal(2000) + 50e6)
    asked = line(below="same slope", mean_rule=rule, ratio=0.0)
    assert damage(asked, counted.scaled(2.0)) == pytest.approx(2**SLOPE * damage(asked, counted))
    doubled = line(below="same slope", mean_rule=rule, ratio=0.0, stress_factor=2.0)
    assert damage(doubled, counted) == pytest.approx(damage(asked, counted.scaled(2.0)))


def test_goodman_by_hand() -> None:
    """The straight line from the amplitude at R = -1 to the ultimate strength on the axis of means."""
    asked = line(mean_rule="Goodman", ultimate=1000e6)
    found = line_amplitude(asked, np.array([100e6, 100e6, 100e6]), np.array([500e6, -500e6, 0.0]))
    assert found == pytest.approx([200e6, 200e6, 100e6])
    pulsating = line(mean_rule="Goodman", ultimate=1000e6, ratio=0.0)
    # 200 MPa at R = -1 is the amplitude S with S/(1 - S/1000 MPa) = 200 MPa.
    assert line_amplitude(pulsating, np.array([100e6]), np.array([500e6])) == pytest.approx(1e9 / 6)


def test_mean_beyond_the_ultimate_strength_is_failure() -> None:
    asked = line(mean_rule="Goodman", ultimate=1000e6, ratio=0.0)
    overloaded = Cycles(np.array([10e6]), np.array([1000e6]), np.ones(1))
    assert damage(asked, overloaded) == inf
    assert stress_margin(asked, overloaded, 1.0) == pytest.approx(1.0, abs=2e-3)


def test_mean_stress_sensitivity_by_hand() -> None:
    """Corners of the Haigh diagram: slope M up to R = 0, a third of it up to R = 0.5, none beyond."""
    asked = line(mean_rule="mean stress sensitivity", sensitivity=0.3)
    amplitude = np.full(5, 100e6)
    mean = np.array([0.0, 50e6, 100e6, 300e6, 900e6])
    corner = 1.3 * (1 + 0.1 * 3) / (1 + 0.1)
    assert line_amplitude(asked, amplitude, mean) == pytest.approx(
        [100e6, 115e6, 130e6, corner * 100e6, corner * 100e6]
    )
    assert line_amplitude(asked, np.zeros(1), np.array([50e6])) == 0.0


def test_shear_and_normal_stress_meet_by_von_mises() -> None:
    assert in_stress_of(line(stress="normal"), "shear") == pytest.approx(sqrt(3))
    assert in_stress_of(line(stress="shear"), "normal") == pytest.approx(1 / sqrt(3))
    assert in_stress_of(line(stress="shear"), "shear") == 1.0


@pytest.mark.parametrize("reliability", [0.1, 0.5, 0.9, 0.999])
def test_reliability_is_the_tail_of_a_log_normal_life(reliability: float) -> None:
    """Against scipy's distribution: with the median life 1 on the line that shares survive."""
    asked = line(scatter=0.25, survival=0.9)
    natural = 0.25 / log10(np.e)
    expected = lognorm.isf(reliability, natural) / lognorm.isf(0.9, natural)
    assert life_factor(asked, reliability) == pytest.approx(expected)


def test_stress_margin_is_the_root_of_the_life_on_one_slope() -> None:
    counted = constant(100e6, 0.0)
    asked = line(below="same slope")
    expected = (1e3 * damage(asked, counted)) ** (-1 / SLOPE)
    assert stress_margin(asked, counted, 1e3) == pytest.approx(expected)


def test_stress_margin_over_two_slopes_and_a_mean_brings_the_damage_to_one() -> None:
    generator = np.random.default_rng(2)
    counted = count_cycles(80e6 * generator.standard_normal(500) + 100e6)
    asked = line(mean_rule="Goodman", ultimate=1500e6)
    margin = stress_margin(asked, counted, 200.0)
    assert 200.0 * damage(asked, counted.scaled(margin)) == pytest.approx(1.0, rel=1e-6)


def test_margins_without_end() -> None:
    nothing = Cycles(np.zeros(0), np.zeros(0), np.zeros(0))
    assert stress_margin(PLAIN, nothing, 1.0) == inf
    assert stress_margin(PLAIN, constant(1.0, 0.0), 1.0) == 1e3
    assert stress_margin(PLAIN, constant(100e6, 0.0), 1e50) == 1e-3
