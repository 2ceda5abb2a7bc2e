from __future__ import annotations

from math import inf

import numpy as np
import pytest
from hypothesis import given

from models.assembly import assemble, half_car, quarter_car
from models.fields import replaced
from models.ride.mode_shape import PARTS, mode_shapes
from models.ride.modes import modes
from models.ride.pitch_plane import pitch_plane
from models.vehicle import Axle, Body, Occupant, Seat, Spring, Stabiliser, Tyre, Vehicle
from tests.cars import EVERYTHING, vehicles


@given(vehicles)
def test_shares_sum_to_one(vehicle: Vehicle) -> None:
    model = assemble(vehicle)
    shares = mode_shapes(model, modes(model)).shares
    np.testing.assert_allclose(shares.sum(axis=0), 1.0, rtol=1e-10)


def test_nodes_are_the_motion_centres_of_the_body_alone_on_hard_tyres() -> None:
    """With tyres a thousand times the wheel rate the whole car moves as its body on rigid tyres."""
    axles = [Axle(spring=Spring(rate=rate), tyre=Tyre(rate=1e9)) for rate in (22e3, 31e3)]
    model = assemble(Vehicle(body=Body(cg_to_front_axle=1.25), front=axles[0], rear=axles[1]))
    found = modes(model)
    shapes = mode_shapes(model, found)
    plane = pitch_plane(model, tyre_in_series=False)
    for name in ("bounce", "pitch"):
        # Body and wheel heights differ by wheel rate / tyre rate = 3e-5.
        assert shapes.nodes[found.index(name)] == pytest.approx(plane.motion_centre_of(name), rel=1e-3)


def test_pure_heave_has_no_node() -> None:
    axle = Axle()
    even = Vehicle(wheelbase=2.8, body=Body(cg_to_front_axle=1.4), front=axle, rear=axle)
    model = assemble(even)
    found = modes(model)
    shapes = mode_shapes(model, found)
    assert abs(shapes.nodes[found.index("bounce")]) > 1e6
    assert abs(shapes.nodes[found.index("pitch")]) < 1e-6
    quarter = quarter_car(model, 0)
    assert mode_shapes(quarter, modes(quarter)).nodes == (inf, inf)


def test_what_moves_most_and_which_way() -> None:
    vehicle = replaced(EVERYTHING, ("seat",), Seat(occupant=Occupant(mass=75.0)))
    model = assemble(replaced(vehicle, ("front", "stabiliser"), Stabiliser(bar_rate=900.0)))
    found = modes(model)
    shapes = mode_shapes(model, found)
    most = {name: PARTS[int(np.argmax(shapes.shares[:, i]))] for i, name in enumerate(found.names)}
    assert most["roll"] == "roll"
    assert most["front wheel hop"] == most["rear axle tramp"] == "wheels"
    assert most["occupant on cushion"] == "occupant"
    across = {name for i, name in enumerate(found.names) if shapes.across(i)}
    assert across == {"roll", "front axle tramp", "rear axle tramp"}


def test_half_car_has_no_roll() -> None:
    model = half_car(assemble(EVERYTHING))
    shapes = mode_shapes(model, modes(model))
    assert not shapes.shares[1].any()
    np.testing.assert_allclose(shapes.wheels[0], shapes.wheels[1])
