from __future__ import annotations

from math import inf, pi

import numpy as np
import pytest
import scipy.linalg
from hypothesis import assume, given

from models.assembly import assemble, half_car
from models.ride.modes import modes
from models.ride.pitch_plane import bounce_is_first, pitch_plane
from models.vehicle import Axle, Side, Spring, TorsionCoupling, Vehicle
from tests.cars import EVERYTHING, vehicles


@given(vehicles)
def test_against_a_general_eigensolver(vehicle: Vehicle) -> None:
    """Frequencies and nodes from scipy.linalg.eigh on the 2 × 2 matrices of heave and pitch."""
    model = assemble(vehicle)
    heave_pitch = model.corner_map[:, [0, 2]]
    stiffness = heave_pitch.T @ model.wheel_rates @ heave_pitch
    squares, shapes = scipy.linalg.eigh(stiffness, np.diag(np.diag(model.body_mass)[[0, 2]]))
    assume(squares[1] > 1e-6)  # below, there is no spring but stabilisers, and all is rounding
    plane = pitch_plane(model, tyre_in_series=False)
    np.testing.assert_allclose(
        (2 * pi * np.array(plane.frequency)) ** 2, squares, rtol=0, atol=1e-11 * squares[1] + 1e-20
    )
    for node, shape in zip(plane.motion_centre, shapes.T, strict=True):
        if np.isfinite(node) and squares[1] - squares[0] > 1e-6 * squares[1]:
            # The node stands still: z = x θ, up to rounding over the gap of the two squares.
            moved = abs(shape[0] - node * shape[1])
            assert moved <= 1e-8 * (abs(shape[0]) + abs(node * shape[1]) + np.abs(shape).max())


def test_tyres_in_series_are_softer_and_rigid_tyres_change_nothing() -> None:
    soft, rigid = (pitch_plane(assemble(EVERYTHING), series) for series in (True, False))
    assert all(s < r for s, r in zip(soft.frequency, rigid.frequency, strict=True))
    axles = {
        end: getattr(EVERYTHING, end).model_copy(
            update={"tyre": getattr(EVERYTHING, end).tyre.model_copy(update={"rate": 1e9})}
        )
        for end in ("front", "rear")
    }
    hard = pitch_plane(assemble(EVERYTHING.model_copy(update=axles)), tyre_in_series=True)
    assert hard.frequency == pytest.approx(rigid.frequency, rel=1e-4)  # wheel rate / tyre rate < 1e-4


def test_a_tyre_in_series_with_a_single_spring() -> None:
    """26 and 200 kN/m in series on both axles of a symmetric car: bounce √(4 k / m)."""
    plane = pitch_plane(assemble(Vehicle()), tyre_in_series=True)
    k = 26e3 * 200e3 / 226e3
    assert plane.frequency[0] == pytest.approx((4 * k / 1700) ** 0.5 / (2 * pi))
    assert plane.frequency_of("pitch") == pytest.approx((4 * k * 1.45**2 / 2900) ** 0.5 / (2 * pi))
    assert plane.motion_centre_of("bounce") == inf


def test_a_rigid_tyre_gives_the_two_degree_result_in_the_half_car() -> None:
    """Tyre rate 1e9 N/m: off by the wheel rate over the tyre rate, 1e-4 at most."""
    axle = Axle(spring=Spring(rate=24e3), tyre=Vehicle().front.tyre.model_copy(update={"rate": 1e9}))
    side = Side(coupling=TorsionCoupling(bar_rate=400.0))
    model = assemble(
        Vehicle(front=axle, left=side, rear=axle.model_copy(update={"spring": Spring(rate=28e3)}))
    )
    plane = pitch_plane(model, tyre_in_series=False)
    assert modes(half_car(model)).frequency[:2] == pytest.approx(plane.frequency, rel=1e-4)


def test_no_springs_at_all() -> None:
    bare = Axle(spring=Spring(rate=0.0))
    plane = pitch_plane(assemble(Vehicle(front=bare, rear=bare)), tyre_in_series=True)
    assert plane.frequency == (0.0, 0.0)
    assert plane.motion_centre == (inf, 0.0)


@pytest.mark.parametrize(
    ("centres", "expected"),
    [
        ((inf, 0.0), True),
        ((0.0, inf), False),
        ((-3.0, 0.5), True),
        ((0.9, -1.6), False),  # ahead of the CG inside a = 1.2; behind it outside b = 1.5
        ((1.3, -1.6), True),  # both outside: the farther one in parts of its side
    ],
)
def test_bounce_has_its_node_farther_out(centres: tuple[float, float], expected: bool) -> None:
    assert bounce_is_first(centres, a=1.2, b=1.5) is expected


@pytest.mark.parametrize("rounding", [-4e-16, 0.0, 4e-16])
def test_of_nodes_at_both_axles_the_slower_is_bounce(rounding: float) -> None:
    """A dynamic index of 1 and no coupling: what decides must not be rounding."""
    assert bounce_is_first((1.3 + rounding, -1.5), 1.3, 1.5)
    assert bounce_is_first((-1.5, 1.3 - rounding), 1.3, 1.5)
