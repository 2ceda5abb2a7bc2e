"""Clocking of splined heads against trying all of them."""

from __future__ import annotations

from math import lcm, radians, tau

import numpy as np
import pytest

from models.hardware.clocking import clocking, clocking_figures, smallest_step, vernier_step


@pytest.mark.parametrize(("front", "rear"), [(40, 41), (44, 40), (36, 36), (30, 45), (25, 24), (7, 3)])
@pytest.mark.parametrize("wanted", [0.0, 0.1, -0.05, 1.1, 2.3])
def test_no_clocking_is_nearer_nor_any_as_near_with_fewer_teeth(front: int, rear: int, wanted: float) -> None:
    found = clocking(front, rear, wanted)
    i, j = np.meshgrid(np.arange(-90, 91), np.arange(-90, 91), indexing="ij")
    error = np.abs(tau * (i / front - j / rear) - wanted)
    best = error.min()
    assert abs(found.error) == pytest.approx(best, abs=1e-12)
    assert abs(found.error) <= smallest_step(front, rear) / 2 + 1e-12
    fewest = (np.abs(i) + np.abs(j))[error <= best + 1e-12].min()
    assert abs(found.front) + abs(found.rear) == fewest


def test_steps() -> None:
    assert smallest_step(36, 36) == pytest.approx(radians(10), rel=1e-14)
    assert vernier_step(36, 36) == 0.0
    assert smallest_step(30, 45) == pytest.approx(tau / lcm(30, 45), rel=1e-15)
    # Neighbouring numbers of teeth: one tooth each is the smallest step there is.
    assert vernier_step(40, 41) == pytest.approx(smallest_step(40, 41), rel=1e-12)


def test_figures_tell_what_the_error_does_to_both_axles() -> None:
    found = {figure.key: figure.value for figure in clocking_figures(40, 41, 0.15, (-0.2, 0.3))}
    error = clocking(40, 41, 0.15).error
    assert found["clocking_error"] == error
    assert found["trim_height_error_front"] == -0.2 * error
    assert found["trim_height_step_rear"] == 0.3 * smallest_step(40, 41)
