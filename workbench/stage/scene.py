"""What stands where at one time: the geometry of the stage, without a screen.

The car drives to the right, so the near side is its right side.  x counts from the front axle forward,
because there both cars meet the road at the same place; z counts from the ground of the design trim.

Exaggeration multiplies every displacement from design trim (body, wheel, road; that of the load case too)
by one factor and leaves sizes alone, so a tyre that touches the road still does in the drawing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.assembly import CORNERS
from models.ride.channels import channel_index
from models.roads import SineSweep
from workbench.stage.contact import contact_at
from workbench.stage.pose import Pose
from workbench.stage.running_gear import CornerState, Link, Wheel, bar_of, fluid_of, wheel_of
from workbench.stage.silhouette import Point, seated

__all__ = ["Flank", "Frame", "Rest", "at_rest", "road_speed", "sample_at", "sides_differ", "stage_frame"]

_State = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Rest:
    """How the car stands in its load case before the run, from design trim.

    Attributes:
        wheel, travel: (4,) heights of the wheels and wheel travels, m.
        heave: rise of the CG of the load case, m.
        roll, pitch: attitude, rad.
    """

    wheel: _State
    travel: _State
    heave: float
    roll: float
    pitch: float


@dataclass(frozen=True, slots=True)
class Flank:
    """One side of the car: how the body stands over it, and its wheels."""

    pose: Pose
    front: Wheel
    rear: Wheel


@dataclass(frozen=True, slots=True)
class Frame:
    """The stage at one time.

    Attributes:
        time: s.
        distance: road distance of the front axle, m.
        exaggeration: factor on all displacements.
        near, far: right and left side.
        link: interconnection of the near side, or None.
        cg, hip, head: marks on the body; the CG is that of the load case.
        heave: rise of the CG since the start of the run, m, true size.
        pitch: pitch angle since then, rad, true size, positive nose down (ISO 8855).
        roll: roll angle since then, rad, true size, positive left side up.
        seat_heave: rise of the seat point since then, m, true size.
        rest: how the car stood before the run.
    """

    time: float
    distance: float
    exaggeration: float
    near: Flank
    far: Flank
    link: Link | None
    cg: Point
    hip: Point
    head: Point
    heave: float
    pitch: float
    roll: float
    seat_heave: float
    rest: Rest


def stage_frame(analysis: Analysis, time: float, exaggeration: float = 1.0) -> Frame:
    """Geometry at ``time`` (s), linear between the samples of the time response."""
    vehicle, state, rest = analysis.vehicle, _state(analysis, time), at_rest(analysis)
    distance = road_speed(analysis) * time
    sample = sample_at(analysis, time)
    near, far = (
        _flank(analysis, state, rest, side, sample, distance, exaggeration) for side in ("right", "left")
    )
    heave, roll, pitch = (float(state[channel_index(key)]) for key in ("heave", "roll", "pitch"))
    (hip, head), car = seated(vehicle), analysis.car
    cg_x = -float(car.corners[0, 0])
    whole_roll, whole_pitch = rest.roll + roll, rest.pitch + pitch
    # The driver sits off the middle, so roll lifts him too: z + y φ - x θ, x from the CG.
    x, y = car.seat
    middle = rest.heave + heave + y * whole_roll
    seat = Pose(
        lift=exaggeration * (middle + cg_x * whole_pitch),
        slope=-exaggeration * whole_pitch,
        axis=vehicle.body.cg_height,
    )
    return Frame(
        time=time,
        distance=distance,
        exaggeration=exaggeration,
        near=near,
        far=far,
        link=bar_of(vehicle, near.pose, near.front, near.rear, exaggeration)
        or fluid_of(vehicle, near.pose, near.front, near.rear),
        cg=Point(cg_x, car.cg_height + exaggeration * (rest.heave + heave)),
        hip=seat.place(*hip),
        head=seat.place(*head),
        heave=heave,
        pitch=pitch,
        roll=roll,
        seat_heave=heave + y * roll - x * pitch,
        rest=rest,
    )


def road_speed(analysis: Analysis) -> float:
    """Speed along the road, m/s; on the posts of a rig the car stands."""
    return 0.0 if isinstance(analysis.run.event, SineSweep) else analysis.run.speed


def at_rest(analysis: Analysis) -> Rest:
    """Where the statics put the car; at design trim where they found no balance."""
    stand = analysis.stand
    if not stand.balanced:
        return Rest(np.zeros(4), np.zeros(4), 0.0, 0.0, 0.0)
    heave, roll, pitch = stand.q[:3].tolist()
    return Rest(stand.trim + stand.travel, stand.travel, heave, roll, pitch)


def sides_differ(analysis: Analysis) -> bool:
    """Whether the wheels of the far side stand or move otherwise than those of the near side."""
    first, rest = channel_index("wheel_FL"), at_rest(analysis).wheel
    wheels = analysis.time.y[first : first + 4] + rest[:, None]
    return not np.allclose(wheels[0::2], wheels[1::2], rtol=0.0, atol=1e-6)


def sample_at(analysis: Analysis, time: float) -> int:
    """Nearest sample of the time response, whose steps are equal."""
    t = analysis.time.t
    return min(max(round(float((time - t[0]) / (t[1] - t[0]))), 0), len(t) - 1)


def _state(analysis: Analysis, time: float) -> _State:
    """(channels,) values at ``time``, held at both ends."""
    t, y = analysis.time.t, analysis.time.y
    if time <= t[0]:
        return np.asarray(y[:, 0])
    after = min(int(np.searchsorted(t, time)), len(t) - 1)
    share = min(float((time - t[after - 1]) / (t[after] - t[after - 1])), 1.0)
    return np.asarray(y[:, after - 1] + share * (y[:, after] - y[:, after - 1]))


def _flank(
    analysis: Analysis,
    state: _State,
    rest: Rest,
    side: Literal["left", "right"],
    sample: int,
    distance: float,
    exaggeration: float,
) -> Flank:
    vehicle, number = analysis.vehicle, 0 if side == "left" else 1
    front, rear = (_corner(analysis, state, rest, corner, sample) for corner in (number, number + 2))
    # Body height over a wheel = wheel height - travel.
    lift, rear_lift = (exaggeration * (corner.wheel - corner.travel) for corner in (front, rear))
    pose = Pose(lift, (lift - rear_lift) / vehicle.wheelbase, vehicle.body.cg_height)
    half = vehicle.sides[number]
    return Flank(
        pose,
        wheel_of(vehicle, half, "front", front, pose, distance, exaggeration),
        wheel_of(vehicle, half, "rear", rear, pose, distance, exaggeration),
    )


def _corner(analysis: Analysis, state: _State, rest: Rest, corner: int, sample: int) -> CornerState:
    wheel, road, travel = (
        float(state[channel_index(f"{key}_FL") + corner]) for key in ("wheel", "road", "travel")
    )
    car = analysis.car
    return CornerState(
        wheel=float(rest.wheel[corner]) + wheel,
        road=road,
        travel=float(rest.travel[corner]) + travel,
        spare=float(car.tyre_load[corner] / car.tyre_stiffness[corner]),
        contact=contact_at(analysis, CORNERS[corner], sample),
    )
