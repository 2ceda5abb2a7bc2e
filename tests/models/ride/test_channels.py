from __future__ import annotations

import numpy as np
from hypothesis import given

from models.assembly import assemble, half_car
from models.ride.channels import CHANNELS, channel_index, outputs
from models.units import KINDS
from models.vehicle import Vehicle
from tests.cars import EVERYTHING, vehicles


def test_keys_and_labels_are_unique_and_kinds_known() -> None:
    assert len({channel.key for channel in CHANNELS}) == len(CHANNELS)
    assert len({channel.label for channel in CHANNELS}) == len(CHANNELS)
    assert all(channel.kind in KINDS for channel in CHANNELS)
    for row, channel in enumerate(CHANNELS):
        assert channel_index(channel.key) == row


@given(vehicles)
def test_no_travel_and_no_tyre_force_when_the_car_moves_with_the_road(vehicle: Vehicle) -> None:
    model = assemble(vehicle)
    rows = outputs(model)
    for mode in range(3):
        road = model.corner_map[:, mode]
        q = np.concatenate([np.eye(3)[mode], road])
        y = rows.position @ q + rows.road @ road
        y_rate = rows.velocity @ q + rows.road_rate @ road
        for corner, height in zip(("FL", "FR", "RL", "RR"), road, strict=True):
            assert abs(y[channel_index(f"travel_{corner}")]) < 1e-12
            assert abs(y[channel_index(f"tyre_force_{corner}")]) < 1e-9
            assert abs(y_rate[channel_index(f"tyre_force_{corner}")]) < 1e-9
            assert y[channel_index(f"wheel_{corner}")] == height
            assert y[channel_index(f"road_{corner}")] == height


def test_seat_acceleration_is_that_of_its_place() -> None:
    acceleration = np.array([0.5, -0.3, 0.2, 0.0, 0.0, 0.0, 0.0])
    y = outputs(assemble(EVERYTHING)).acceleration @ acceleration
    assert y[channel_index("seat_acceleration")] == 0.5 + 0.35 * -0.3 - -0.2 * 0.2


def test_a_raised_wheel_is_jounce_and_unloads_nothing_but_the_road() -> None:
    model = assemble(EVERYTHING)
    rows = outputs(model)
    q = np.zeros(7)
    q[3] = 0.01
    y = rows.position @ q
    assert y[channel_index("travel_FL")] == 0.01
    assert y[channel_index("tyre_force_FL")] == -0.01 * 214e3
    assert y[channel_index("twist_left")] == 0.01 * 2.6
    assert y[channel_index("twist_right")] == 0.0


def test_half_car_has_the_same_channels() -> None:
    half = outputs(half_car(assemble(EVERYTHING)))
    assert half.position.shape == (len(CHANNELS), 4)
    assert half.road.shape == (len(CHANNELS), 2)
    assert not half.position[channel_index("roll")].any()
