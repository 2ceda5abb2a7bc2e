"""What is read off a ride model: one table of output channels for every kind of response.

A channel is a row of y = P q + Q q̇ + R q̈ + S w + U ẇ.  Frequency response, random road and time
response all evaluate these rows, so a channel means the same in each.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from models.assembly import CORNERS, RideModel
from models.ride.frame import frame_rows

__all__ = [
    "CHANNELS",
    "VIEW_DISTANCE",
    "Channel",
    "Outputs",
    "acceleration_rows",
    "channel_index",
    "outputs",
    "view_row",
]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Channel:
    """One output of the model.

    Attributes:
        key: stable name in files and on the command line.
        label: name for a reader.
        kind: key in :data:`models.units.KINDS`.
        place, side: where on the car.
    """

    key: str
    label: str
    kind: str
    place: Literal["body", "front", "rear"] = "body"
    side: Literal["", "left", "right"] = ""


def _corner_channels(key: str, label: str, kind: str) -> tuple[Channel, ...]:
    return tuple(
        Channel(
            f"{key}_{corner}",
            f"{label} {corner}",
            kind,
            "front" if corner[0] == "F" else "rear",
            "left" if corner[1] == "L" else "right",
        )
        for corner in CORNERS
    )


CHANNELS: tuple[Channel, ...] = (
    Channel("heave", "Heave at CG", "travel"),
    Channel("roll", "Roll angle", "angle"),
    Channel("pitch", "Pitch angle", "angle"),
    Channel("heave_acceleration", "Heave acceleration at CG", "acceleration"),
    Channel("roll_acceleration", "Roll acceleration", "angular acceleration"),
    Channel("pitch_acceleration", "Pitch acceleration", "angular acceleration"),
    Channel("seat_acceleration", "Seat acceleration", "acceleration"),
    Channel("floor_acceleration", "Floor acceleration at the driver's feet", "acceleration"),
    *_corner_channels("travel", "Travel", "travel"),
    *_corner_channels("tyre_force", "Tyre force change", "force"),
    *_corner_channels("wheel", "Wheel height", "travel"),
    *_corner_channels("road", "Road height", "travel"),
    Channel("twist_left", "Interconnection twist left", "angle", side="left"),
    Channel("twist_right", "Interconnection twist right", "angle", side="right"),
    Channel("frame_shear", "Frame shear", "force"),
    Channel("frame_torsion", "Frame torsion", "torque"),
    Channel("frame_bending", "Frame bending", "torque"),
    Channel("horizon", "Horizon movement at the driver's eye", "angle"),
)

#: Distance of the driver's heels ahead of his hip point, m: a round figure for a car seat, from memory.
HEELS_AHEAD = 0.8

#: Distance ahead of the eye of the road by which the driver sees the car pitch and heave, m: a choice, about
#: a second of driving at 110 km/h.
VIEW_DISTANCE = 30.0

_INDEX = {channel.key: number for number, channel in enumerate(CHANNELS)}


def channel_index(key: str) -> int:
    """Row of a channel in every result."""
    return _INDEX[key]


@dataclass(frozen=True, eq=False)
class Outputs:
    """Rows of all channels in the order of :data:`CHANNELS`.

    Attributes:
        position, velocity, acceleration: (channels, n) on q, q̇ and q̈.
        road, road_rate: (channels, m) on w and ẇ.
    """

    position: Array
    velocity: Array
    acceleration: Array
    road: Array
    road_rate: Array


def acceleration_rows(model: RideModel) -> Array:
    """(5, n) rows on q̈ of heave, roll, pitch, seat and floor acceleration: channels 3 to 7."""
    x, y = model.seat
    under_seat, at_feet = np.array([[1.0, y, -x], [1.0, y, -(x + HEELS_AHEAD)]]) @ model.body
    seat = model.occupant[0] if len(model.occupant) else under_seat
    return np.vstack([model.body, seat, at_feet])


def view_row(model: RideModel) -> Array:
    """(n,) row on q of the angle by which the road ahead moves up in the windscreen, rad.

    That is θ - z_eye/D: pitch turns the whole view, and a point at the distance D sinks as the eye rises.
    The eye moves with the body, z_eye = z + y φ - x θ over the driver's seat; at D = ∞ only pitch is left.
    """
    x, y = model.seat
    seen = np.array([0.0, 0.0, 1.0]) - np.array([1.0, y, -x]) / VIEW_DISTANCE
    row: Array = seen @ model.body
    return row


def outputs(model: RideModel) -> Outputs:
    """Output rows of a model, SI."""
    n, m = len(model.dof), len(model.inputs)
    rows = Outputs(
        position=np.zeros((len(CHANNELS), n)),
        velocity=np.zeros((len(CHANNELS), n)),
        acceleration=np.zeros((len(CHANNELS), n)),
        road=np.zeros((len(CHANNELS), m)),
        road_rate=np.zeros((len(CHANNELS), m)),
    )
    rows.position[0:3] = model.body
    rows.position[channel_index("horizon")] = view_row(model)
    rows.acceleration[3:8] = acceleration_rows(model)
    travel = model.travel
    corner_rows = {
        key: slice(channel_index(f"{key}_FL"), channel_index(f"{key}_RR") + 1)
        for key in ("travel", "tyre_force", "wheel", "road")
    }
    rows.position[corner_rows["travel"]] = travel
    rows.position[corner_rows["tyre_force"]] = -model.tyre_stiffness[:, None] * model.wheels
    rows.velocity[corner_rows["tyre_force"]] = -model.tyre_damping[:, None] * model.wheels
    rows.road[corner_rows["tyre_force"]] = model.tyre_stiffness[:, None] * model.road
    rows.road_rate[corner_rows["tyre_force"]] = model.tyre_damping[:, None] * model.road
    rows.position[corner_rows["wheel"]] = model.wheels
    rows.road[corner_rows["road"]] = model.road
    for element in model.elements:
        if element.name.endswith("interconnection bar"):
            side = element.name.split()[0]
            rows.position[channel_index(f"twist_{side}")] = np.array(element.incidence[:4]) @ travel
    first = channel_index("frame_shear")
    frame = slice(first, first + 3)
    rows.position[frame], rows.velocity[frame], rows.acceleration[frame] = frame_rows(model)
    return rows
