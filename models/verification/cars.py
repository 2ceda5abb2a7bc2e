"""Cars of the checks: one with every part fitted, and those of textbooks."""

from __future__ import annotations

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

__all__ = ["EVERYTHING", "linear_parts", "link", "quarter_car_twice", "torsion_bar", "two_degree_car"]

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


def link(rate: float, sense: str = "levelling") -> Side:
    """Interconnection of levers of ratio 1: bars that resist the sum, or the difference, of the travels."""
    return Side(
        coupling=TorsionCoupling.model_validate(
            {"bar_rate": rate, "front_lever_ratio": 1.0, "rear_lever_ratio": 1.0, "sense": sense}
        )
    )


def quarter_car_twice(sprung: float, unsprung: float, spring: float, damping: float, tyre: float) -> Vehicle:
    """Four of a quarter car: with k² = a b the axles of the car move independently of each other.

    The seat stands over the front axle, so that it has the motion of the body of one quarter.
    """
    axle = Axle(
        wheels=IndependentWheels(unsprung_mass=unsprung),
        spring=Spring(rate=spring),
        damper=Damper(jounce=damping, rebound=damping),
        tyre=Tyre(rate=tyre, damping=0.0),
    )
    return Vehicle(
        wheelbase=2.8,
        body=Body(mass=4 * sprung, cg_to_front_axle=1.4, pitch_inertia=InertiaFromDynamicIndex(index=1.0)),
        front=axle,
        rear=axle,
        seat=Seat(x=1.4, y=0.0),
    )


def linear_parts(axle: Axle) -> tuple[Spring, Damper]:
    """Spring and damper of an axle whose laws are straight lines, as an engine is told of them.

    Raises:
        TypeError: a part has another law.
    """
    if not isinstance(axle.spring, Spring) or not isinstance(axle.damper, Damper):
        raise TypeError(f"{axle.spring.kind} and {axle.damper.kind}: only linear parts are compared here")
    return axle.spring, axle.damper


def torsion_bar(side: Side) -> TorsionCoupling:
    """The interconnection of a side as a bar.

    Raises:
        TypeError: it is a fluid.
    """
    if not isinstance(side.coupling, TorsionCoupling):
        raise TypeError(f"{side.coupling.kind}: only bars are compared here")
    return side.coupling
