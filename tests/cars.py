"""Cars for the tests: a plain one, one with every part fitted, and random ones."""

from __future__ import annotations

from hypothesis import strategies as st

from models.vehicle import (
    Axle,
    Body,
    Damper,
    IndependentWheels,
    InertiaFromDynamicIndex,
    InertiaFromGyration,
    MeasuredInertia,
    Seat,
    Side,
    SolidAxle,
    Spring,
    Stabiliser,
    TorsionCoupling,
    TrimSpring,
    Tyre,
    Vehicle,
)

__all__ = ["EVERYTHING", "symmetric_vehicles", "two_degree_car", "vehicles"]

#: Every kind of part at once, with no two numbers alike and unequal sides.
EVERYTHING = Vehicle(
    wheelbase=2.75,
    body=Body(
        mass=1480.0,
        cg_to_front_axle=1.31,
        roll_inertia=MeasuredInertia(value=560.0),
        pitch_inertia=InertiaFromDynamicIndex(index=0.93),
    ),
    front=Axle(
        track=1.52,
        wheels=IndependentWheels(unsprung_mass=41.0),
        spring=Spring(rate=31e3, motion_ratio=0.71),
        damper=Damper(jounce=1900.0, rebound=3700.0, motion_ratio=0.83),
        stabiliser=Stabiliser(bar_rate=640.0, lever_ratio=3.9),
        tyre=Tyre(rate=214e3, damping=120.0),
    ),
    rear=Axle(
        track=1.47,
        wheels=SolidAxle(mass=118.0, roll_inertia=37.0, spring_spacing=0.98),
        spring=Spring(rate=22e3, motion_ratio=0.94),
        damper=Damper(jounce=1100.0, rebound=2300.0, motion_ratio=0.9),
        stabiliser=Stabiliser(bar_rate=210.0, lever_ratio=4.4),
        tyre=Tyre(rate=197e3, damping=75.0),
    ),
    left=Side(
        coupling=TorsionCoupling(bar_rate=910.0, front_lever_ratio=2.6, rear_lever_ratio=3.1),
        trim=TrimSpring(bar_rate=130.0, lever_ratio=2.9),
    ),
    right=Side(
        coupling=TorsionCoupling(
            bar_rate=540.0, front_lever_ratio=2.2, rear_lever_ratio=2.7, sense="pitch stiffening"
        ),
        trim=TrimSpring(axle="front", bar_rate=170.0, lever_ratio=3.3),
    ),
    seat=Seat(x=-0.2, y=0.35),
)


def two_degree_car(
    mass: float,
    a: float,
    b: float,
    gyration: float,
    axle_rates: tuple[float, float],
    track: float = 1.5,
    side: Side | None = None,
) -> Vehicle:
    """Car of which a textbook gives the body and one spring per axle (N/m)."""
    front, rear = (Axle(track=track, spring=Spring(rate=rate / 2)) for rate in axle_rates)
    return Vehicle(
        wheelbase=a + b,
        body=Body(
            mass=mass,
            cg_to_front_axle=a,
            pitch_inertia=InertiaFromGyration(radius=gyration),
        ),
        front=front,
        rear=rear,
        left=side or Side(),
    )


def _range(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


_springs = st.builds(Spring, rate=_range(0.0, 80e3), motion_ratio=_range(0.3, 1.3))
_dampers = st.builds(
    Damper, jounce=_range(200.0, 3000.0), rebound=_range(200.0, 4000.0), motion_ratio=_range(0.4, 1.2)
)
_stabilisers = st.builds(Stabiliser, bar_rate=_range(0.0, 3000.0), lever_ratio=_range(1.0, 8.0))
_tyres = st.builds(Tyre, rate=_range(100e3, 400e3), damping=_range(0.0, 500.0))
_wheels = st.builds(IndependentWheels, unsprung_mass=_range(15.0, 90.0)) | st.builds(
    SolidAxle, mass=_range(30.0, 250.0), roll_inertia=_range(5.0, 100.0), spring_spacing=_range(0.6, 1.0)
)
_axles = st.builds(
    Axle,
    track=_range(1.0, 2.0),
    wheels=_wheels,
    spring=_springs,
    damper=_dampers,
    stabiliser=_stabilisers,
    tyre=_tyres,
)
_couplings = st.builds(
    TorsionCoupling,
    bar_rate=_range(0.0, 3000.0),
    front_lever_ratio=_range(1.0, 6.0),
    rear_lever_ratio=_range(1.0, 6.0),
    sense=st.sampled_from(["levelling", "pitch stiffening"]),
)
_trims = st.builds(
    TrimSpring,
    axle=st.sampled_from(["front", "rear"]),
    bar_rate=_range(0.0, 1500.0),
    lever_ratio=_range(1.0, 6.0),
)
_sides = st.builds(Side, coupling=_couplings, trim=_trims)
_bodies = st.builds(
    Body,
    mass=_range(400.0, 3500.0),
    cg_to_front_axle=_range(0.8, 1.7),
    roll_inertia=st.builds(InertiaFromGyration, radius=_range(0.4, 0.8)),
    pitch_inertia=st.builds(InertiaFromDynamicIndex, index=_range(0.6, 1.3)),
)
_seats = st.builds(Seat, x=_range(-1.5, 1.5), y=_range(-0.8, 0.8))

#: Random cars: both kinds of axle, unequal tracks, unequal sides, both senses of the coupling.
vehicles = st.builds(
    Vehicle,
    wheelbase=_range(1.8, 3.6),
    body=_bodies,
    front=_axles,
    rear=_axles,
    left=_sides,
    right=_sides | st.none(),
    seat=_seats,
)
#: The same with left and right alike.
symmetric_vehicles = st.builds(
    Vehicle,
    wheelbase=_range(1.8, 3.6),
    body=_bodies,
    front=_axles,
    rear=_axles,
    left=_sides,
    seat=_seats,
)
