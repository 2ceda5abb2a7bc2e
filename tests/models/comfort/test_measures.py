from __future__ import annotations

import numpy as np
import pytest

from models.comfort.measures import Measures, measures, running_rms


def test_running_rms_of_a_block() -> None:
    """Half a second of 2 m/s²: rises as √(4 t), stays while the second holds all of it, and falls again."""
    step = 1e-3
    t = np.arange(3001) * step
    block = np.where((t >= 1.0) & (t < 1.5), 2.0, 0.0)
    running = running_rms(block, step)
    # the trapezoidal rule puts the edges half a step aside: 2 J of 4·step/2 under the root
    assert running[1250] == pytest.approx(1.0, abs=2e-3)
    assert running[1700] == pytest.approx(2**0.5, abs=2e-3)
    assert running[2250] == pytest.approx(1.0, abs=2e-3)
    assert running[900] == running[2600] == 0.0
    assert measures(block, step).mtvv == pytest.approx(2**0.5, abs=2e-3)


def test_second_that_is_no_whole_number_of_steps() -> None:
    step = 1 / 333.3
    assert running_rms(np.full(1000, 3.0), step)[-1] == pytest.approx(3.0, rel=1e-12)


def test_a_record_shorter_than_a_second_counts_the_rest_before_it() -> None:
    found = measures(np.full(501, 2.0), 1e-3)
    assert found.rms == 2.0
    assert found.mtvv == pytest.approx(2.0 * 0.5**0.5)


@pytest.mark.parametrize(
    ("crest", "mtvv", "dose", "enough"),
    [
        (9.0, 1.5, 1.75, True),
        (9.1, 1.5, 1.75, False),
        (9.0, 1.6, 1.75, False),
        (9.0, 1.5, 1.8, False),
    ],
)
def test_when_the_basic_method_is_enough(crest: float, mtvv: float, dose: float, enough: bool) -> None:
    found = Measures(duration=16.0, rms=1.0, peak=crest, mtvv=mtvv, dose=2 * dose)
    assert found.dose_ratio == dose
    assert found.basic_method_suffices is enough


def test_shock_is_found() -> None:
    quiet = 0.1 * np.sin(2 * np.pi * 4 * np.arange(10_001) * 1e-3)
    quiet[5000:5050] += 5.0
    assert not measures(quiet, 1e-3).basic_method_suffices


def test_nothing_moves() -> None:
    still = measures(np.zeros(100), 1e-3)
    assert (still.rms, still.dose, still.crest_factor, still.mtvv_ratio, still.dose_ratio) == (0,) * 5
    assert still.basic_method_suffices
