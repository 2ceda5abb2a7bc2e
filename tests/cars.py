"""Cars for the tests: a plain one, one with every part fitted, and random ones."""

from __future__ import annotations

from itertools import accumulate

from hypothesis import strategies as st

from models.fields import replaced
from models.vehicle import (
    Axle,
    AxleGeometry,
    Body,
    Damper,
    DamperPoint,
    DiagonalCoupling,
    DigressiveDamper,
    FluidCoupling,
    Friction,
    GasSpring,
    IndependentWheels,
    InertiaFromDynamicIndex,
    InertiaFromGyration,
    Load,
    LoadCase,
    LongitudinalForces,
    Occupant,
    ProgressiveSpring,
    Seat,
    Side,
    SolidAxle,
    Spring,
    SpringPoint,
    Stabiliser,
    Stop,
    TabulatedDamper,
    TabulatedSpring,
    TorsionCoupling,
    TrimSpring,
    Tyre,
    Vehicle,
)
from models.verification.cars import EVERYTHING, two_degree_car

__all__ = [
    "EVERYTHING",
    "load_cases",
    "long_levers",
    "manoeuvred",
    "real_dampers",
    "real_springs",
    "real_vehicles",
    "stops",
    "symmetric_vehicles",
    "two_degree_car",
    "vehicles",
]


def long_levers(vehicle: Vehicle, longer: float = 30.0) -> Vehicle:
    """The same rates at the wheels from levers so long that they hardly turn: bars in proportion to travel.

    With a ratio β / n and a rate n² k, what the turning of the levers does falls as 1/n².
    """

    def scaled(side: Side) -> Side:
        join, trim = side.coupling, side.trim
        if isinstance(join, TorsionCoupling):
            join = join.model_copy(
                update={
                    "bar_rate": join.bar_rate * longer**2,
                    "front_lever_ratio": join.front_lever_ratio / longer,
                    "rear_lever_ratio": join.rear_lever_ratio / longer,
                }
            )
        trim = trim.model_copy(
            update={"bar_rate": trim.bar_rate * longer**2, "lever_ratio": trim.lever_ratio / longer}
        )
        return Side(coupling=join, trim=trim)

    right = scaled(vehicle.right) if vehicle.right is not None else None
    return vehicle.model_copy(update={"left": scaled(vehicle.left), "right": right})


def _range(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers of parts as they are built: nothing, or more than a millionth of the greatest.

    Beside a stiff bar a smaller rate is less than the rounding of the bar's.
    """
    return st.floats(low, high, allow_nan=False).map(lambda value: value if abs(value) > 1e-6 * high else 0.0)


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

_ratios = _range(0.4, 1.2)


def _curve(steps: list[tuple[float, float]], start: float) -> list[tuple[float, float]]:
    """Rising points from steps in x and f."""
    xs = accumulate((dx for dx, _ in steps), initial=start)
    fs = accumulate((df for _, df in steps), initial=0.0)
    return list(zip(xs, fs, strict=True))


def _spring_table(steps: list[tuple[float, float]], ratio: float) -> TabulatedSpring:
    points = tuple(SpringPoint(deflection=x, force=f) for x, f in _curve(steps, -0.1))
    return TabulatedSpring(points=points, motion_ratio=ratio)


def _damper_table(
    jounce: list[tuple[float, float]], rebound: list[tuple[float, float]], ratio: float
) -> TabulatedDamper:
    up, down = _curve(jounce, 0.0), [(-v, -f) for v, f in _curve(rebound, 0.0)][:0:-1]
    return TabulatedDamper(
        points=tuple(DamperPoint(speed=v, force=f) for v, f in down + up), motion_ratio=ratio
    )


#: Every kind of corner spring, none without stiffness.
real_springs = (
    st.builds(Spring, rate=_range(8e3, 60e3), motion_ratio=_ratios)
    | st.builds(ProgressiveSpring, rate=_range(8e3, 40e3), growth=_range(0.0, 5e6), motion_ratio=_ratios)
    | st.builds(
        _spring_table,
        st.lists(st.tuples(_range(0.01, 0.1), _range(200.0, 3000.0)), min_size=1, max_size=6),
        _ratios,
    )
    | st.builds(
        GasSpring,
        area=_range(2e-3, 0.015),
        volume=_range(1e-3, 6e-3),
        exponent=_range(1.0, 1.5),
        motion_ratio=_ratios,
    )
)
_knees = st.lists(st.tuples(_range(0.02, 0.8), _range(0.0, 900.0)), min_size=1, max_size=5)
#: Every kind of corner damper.
real_dampers = (
    _dampers
    | st.builds(
        DigressiveDamper,
        jounce=_range(500.0, 4000.0),
        rebound=_range(500.0, 6000.0),
        knee=_range(0.02, 0.5),
        slope_share=_range(0.0, 1.0),
        motion_ratio=_ratios,
    )
    | st.builds(_damper_table, _knees, _knees, _ratios)
)
#: Stops at hand and far away, stiff, growing and not fitted.
stops = st.builds(
    Stop,
    gap=_range(0.0, 0.12),
    rate=st.just(0.0) | _range(5e3, 300e3),
    growth=st.just(0.0) | _range(0.0, 10e6),
)
_frictions = st.builds(Friction, force=st.just(0.0) | _range(0.0, 200.0), width=_range(0.005, 0.05))
_real_axles = st.builds(
    Axle,
    track=_range(1.0, 2.0),
    wheels=_wheels,
    spring=real_springs,
    damper=real_dampers,
    bump_stop=stops,
    rebound_stop=stops,
    friction=_frictions,
    stabiliser=_stabilisers,
    tyre=_tyres,
)
_fluids = st.builds(
    FluidCoupling,
    front_area=_range(5e-4, 5e-3),
    rear_area=_range(5e-4, 5e-3),
    volume=_range(5e-4, 6e-3),
    exponent=_range(1.0, 1.5),
    resistance=st.just(0.0) | _range(0.0, 2e9),
)
_angles = st.just(0.0) | _range(-1.0, 1.0)
_angled_couplings = st.builds(
    lambda bar, front, rear: bar.model_copy(update={"front_lever_angle": front, "rear_lever_angle": rear}),
    _couplings,
    _angles,
    _angles,
)
_angled_trims = st.builds(lambda trim, angle: trim.model_copy(update={"lever_angle": angle}), _trims, _angles)
_real_sides = st.builds(Side, coupling=_angled_couplings | _fluids, trim=_angled_trims)
#: Cars of every kind of part that stand on separate springs at least.
real_vehicles = st.builds(
    Vehicle,
    wheelbase=_range(1.8, 3.6),
    body=_bodies,
    front=_real_axles,
    rear=_real_axles,
    left=_real_sides,
    right=_real_sides | st.none(),
    diagonal=st.builds(DiagonalCoupling, bar_rate=st.just(0.0) | _range(0.0, 2000.0)),
    seat=st.builds(
        Seat,
        x=_range(-0.7, 0.7),
        y=_range(-0.4, 0.4),
        occupant=st.builds(Occupant, mass=st.just(0.0) | _range(30.0, 100.0)),
    ),
)
#: Loads within and beyond what a car bears.
load_cases = st.builds(
    LoadCase,
    loads=st.lists(
        st.builds(
            Load,
            mass=_range(-60.0, 300.0),
            x=_range(-4.0, 0.5),
            y=_range(-0.6, 0.6),
            z=_range(0.2, 1.2),
        ),
        max_size=4,
    ).map(tuple),
)


_geometries = st.builds(
    AxleGeometry,
    roll_centre_height=_range(-0.1, 0.5),
    brake_support=_range(-0.3, 1.0),
    drive_support=_range(-0.3, 1.0),
)


def manoeuvred(cars: st.SearchStrategy[Vehicle]) -> st.SearchStrategy[Vehicle]:
    """The same cars with random roll centres, supports, and shares of brakes and drive."""

    def fitted(car: Vehicle, front: AxleGeometry, rear: AxleGeometry, forces: LongitudinalForces) -> Vehicle:
        car = replaced(replaced(car, ("front", "geometry"), front), ("rear", "geometry"), rear)
        return replaced(car, ("forces",), forces)

    shares = st.builds(
        LongitudinalForces, front_brake_share=_range(0.0, 1.0), front_drive_share=_range(0.0, 1.0)
    )
    return st.builds(fitted, cars, _geometries, _geometries, shares)
