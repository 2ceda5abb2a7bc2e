"""The program against published examples; numbers, sources and tolerances stand in published.py."""

from __future__ import annotations

from dataclasses import replace
from math import inf, pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from models.assembly import assemble, half_car
from models.ride.channels import channel_index
from models.ride.frequency_response import frequency_response
from models.ride.modes import modes
from models.ride.pitch_plane import PitchPlane, pitch_plane
from models.ride.rates import rates
from models.vehicle import (
    Axle,
    Body,
    Damper,
    IndependentWheels,
    InertiaFromDynamicIndex,
    MeasuredInertia,
    Side,
    Spring,
    Stabiliser,
    TorsionCoupling,
    Tyre,
    Vehicle,
)
from tests.cars import two_degree_car
from tests.reference import published as ref
from tests.reference.published import Car, HalfCar, Published

Array = NDArray[np.float64]


def _plane(vehicle: Vehicle) -> PitchPlane:
    return pitch_plane(assemble(vehicle), tyre_in_series=False)


def _check(expected: tuple[Published, ...], found: tuple[float, ...] | Array) -> None:
    for one, value in zip(expected, found, strict=True):
        one.check(float(value))


# Two degrees of freedom


@pytest.mark.parametrize("car", ref.TWO_DEGREE_CARS, ids=lambda car: car.name)
def test_bounce_and_pitch(car: Car) -> None:
    plane = _plane(two_degree_car(car.mass, car.a, car.b, car.gyration, car.axle_rates))
    _check(car.rad_per_s, tuple(2 * pi * f for f in plane.frequency))
    if car.nodes:
        _check(car.nodes, plane.motion_centre)


def test_speeds_at_which_a_washboard_meets_the_modes() -> None:
    car = ref.TWO_DEGREE_CARS[2]
    plane = _plane(two_degree_car(car.mass, car.a, car.b, car.gyration, car.axle_rates))
    _check(ref.CRITICAL_SPEEDS_FT_PER_S, tuple(ref.WASHBOARD_WAVELENGTH_FT * f for f in plane.frequency))


def test_with_a_dynamic_index_of_one_the_nodes_are_at_the_axles() -> None:
    plane = _plane(two_degree_car(1200.0, 1.3, 1.5, sqrt(1.3 * 1.5), (30e3, 32e3)))
    _check(ref.INDEX_ONE_HZ, plane.frequency)
    _check(ref.INDEX_ONE_NODES, plane.motion_centre)
    assert plane.dynamic_index == pytest.approx(1.0)


def test_equal_moments_of_the_axles_decouple_bounce_from_pitch() -> None:
    plane = _plane(two_degree_car(1200.0, 1.3, 1.5, sqrt(2100 / 1200), (32e3, 32e3 * 1.3 / 1.5)))
    _check(ref.DECOUPLED_HZ, plane.frequency)
    assert plane.motion_centre == (inf, 0.0)
    assert plane.names == ("bounce", "pitch")


def test_symmetric_car_has_pure_heave_and_pure_pitch() -> None:
    plane = _plane(two_degree_car(1000.0, 1.25, 1.25, 1.0, (50e3, 50e3)))
    _check(ref.MIDDLE_RAD_PER_S, tuple(2 * pi * f for f in plane.frequency))


@given(
    mass=st.floats(400, 3500),
    a=st.floats(0.8, 1.7),
    b=st.floats(0.8, 1.7),
    gyration=st.floats(0.6, 2.0),
    front=st.floats(5e3, 100e3),
    rear=st.floats(5e3, 100e3),
)
def test_sum_and_product_of_the_squares_and_product_of_the_nodes(
    mass: float, a: float, b: float, gyration: float, front: float, rear: float
) -> None:
    """Vieta's formulas on the characteristic equation (standard; den Hartog, Wong).  Rounding only."""
    plane = _plane(two_degree_car(mass, a, b, gyration, (front, rear)))
    slow, fast = ((2 * pi * f) ** 2 for f in plane.frequency)
    inertia = mass * gyration**2
    assert slow + fast == pytest.approx((front + rear) / mass + (front * a**2 + rear * b**2) / inertia)
    assert slow * fast == pytest.approx(front * rear * (a + b) ** 2 / (mass * inertia))
    if plane.motion_centre[0] not in (0.0, inf):
        assert plane.motion_centre[0] * plane.motion_centre[1] == pytest.approx(-(gyration**2))


# Half car and full car


@pytest.mark.parametrize("car", ref.HALF_CARS, ids=lambda car: car.name)
def test_half_car_frequencies(car: HalfCar) -> None:
    front, rear = (
        Axle(
            wheels=IndependentWheels(unsprung_mass=unsprung / 2),
            spring=Spring(rate=rate / 2),
            tyre=Tyre(rate=car.tyre_rate / 2),
        )
        for unsprung, rate in zip(car.unsprung, car.axle_rates, strict=True)
    )
    vehicle = Vehicle(
        wheelbase=car.a + car.b,
        body=Body(
            mass=car.mass,
            cg_to_front_axle=car.a,
            pitch_inertia=MeasuredInertia(value=car.pitch_inertia),
        ),
        front=front,
        rear=rear,
    )
    _check(car.hz, modes(half_car(assemble(vehicle))).frequency)


def _full_car(
    mass: float,
    roll_inertia: float,
    pitch_inertia: float,
    a: float,
    b: float,
    track: float,
    unsprung: tuple[float, float],
    wheel_rates: tuple[float, float],
    tyre_rate: float,
) -> Vehicle:
    front, rear = (
        Axle(
            track=track,
            wheels=IndependentWheels(unsprung_mass=wheel),
            spring=Spring(rate=rate),
            tyre=Tyre(rate=tyre_rate),
        )
        for wheel, rate in zip(unsprung, wheel_rates, strict=True)
    )
    return Vehicle(
        wheelbase=a + b,
        body=Body(
            mass=mass,
            cg_to_front_axle=a,
            roll_inertia=MeasuredInertia(value=roll_inertia),
            pitch_inertia=MeasuredInertia(value=pitch_inertia),
        ),
        front=front,
        rear=rear,
    )


@pytest.mark.parametrize(
    ("bar", "expected"),
    [(0.0, ref.JAZAR_FULL_CAR_HZ), (25e3, ref.JAZAR_FULL_CAR_WITH_BAR_HZ)],
    ids=["no bar", "front bar"],
)
def test_full_car_frequencies(bar: float, expected: tuple[Published, ...]) -> None:
    """The CG is 25 mm left of the middle; the program's cars have it in the middle, so it is moved here.

    The bar twists by the body's roll less that of the axle: a lever ratio of 1 / track.
    """
    vehicle = _full_car(840.0, 820.0, 1100.0, 1.4, 1.47, 1.45, (53.0, 76.0), (10e3, 13e3), 200e3)
    front = vehicle.front.model_copy(update={"stabiliser": Stabiliser(bar_rate=bar, lever_ratio=1 / 1.45)})
    model = assemble(vehicle.model_copy(update={"front": front}))
    middle_from_cg = np.eye(7)
    middle_from_cg[0, 1] = -0.025  # z in the middle, which is right of the CG
    moved = replace(model, stiffness=middle_from_cg.T @ model.stiffness @ middle_from_cg)
    _check(expected, modes(moved).frequency)


def test_full_car_of_an_exercise() -> None:
    vehicle = _full_car(1200.0, 750.0, 1800.0, 1.0, 1.1, 1.2, (30.0, 30.0), (16e3, 18e3), 150e3)
    _check(ref.EXERCISE_FULL_CAR_HZ, modes(assemble(vehicle)).frequency)


# Quarter car: with k² = a b the axles of a half car move independently of each other


def _quarter_car(spring_rate: float = 22e3, damping: float = 1500.0) -> Vehicle:
    axle = Axle(
        wheels=IndependentWheels(unsprung_mass=45.4),
        spring=Spring(rate=spring_rate),
        damper=Damper(jounce=damping, rebound=damping),
        tyre=Tyre(rate=192e3, damping=0.0),
    )
    return Vehicle(
        wheelbase=2.6,
        body=Body(
            mass=4 * 317.5,
            cg_to_front_axle=1.3,
            pitch_inertia=InertiaFromDynamicIndex(index=1.0),
        ),
        front=axle,
        rear=axle,
    )


def test_quarter_car() -> None:
    model = half_car(assemble(_quarter_car()))
    found = modes(model)
    slow, fast = ref.QUARTER_CAR_RAD_PER_S
    for frequency, expected in zip(2 * pi * found.frequency, (slow, slow, fast, fast), strict=True):
        expected.check(float(frequency))
    z, pitch, front, rear = found.shapes[:, 0]
    for wheel, body in ((front, z - 1.3 * pitch), (rear, z + 1.3 * pitch)):
        if abs(body) > 1e-6:  # the two body modes share one frequency and may mix the axles in any way
            ref.QUARTER_CAR_AMPLITUDE_RATIO.check(float(wheel / body))


@given(spring_rate=st.floats(5e3, 80e3), damping=st.floats(200.0, 6000.0))
def test_invariants_of_the_quarter_car(spring_rate: float, damping: float) -> None:
    """At √(kt/mu) the body answers alike whatever spring and damper; at √(kt/(ms + mu)) the travel does."""
    model = half_car(assemble(_quarter_car(spring_rate, damping)))
    omega = np.array([sqrt(192e3 / 45.4), sqrt(192e3 / (317.5 + 45.4))])
    gains = frequency_response(model, omega / (2 * pi), speed=20.0).wheel[:, :, 0]
    heave, pitch = gains[:, channel_index("heave")], gains[:, channel_index("pitch")]
    at_front = heave - 1.3 * pitch
    ref.INVARIANT_GAIN.check(float(abs(at_front[0])))
    ref.INVARIANT_ACCELERATION.check(float(abs(omega[0] ** 2 * at_front[0])))
    ref.INVARIANT_TRAVEL.check(float(abs(gains[1, channel_index("travel_FL")])))
    assert at_front[0] == pytest.approx(-45.4 / 317.5, abs=1e-9)  # real and in antiphase


# Mode rates of four equal corners, and what links add to them


def _four_corners(stabiliser: float = 0.0, side: Side | None = None) -> Vehicle:
    axle = Axle(
        track=1.5,
        spring=Spring(rate=20e3),
        stabiliser=Stabiliser(bar_rate=stabiliser, lever_ratio=1.0),
    )
    body = Body(cg_to_front_axle=1.4)
    return Vehicle(wheelbase=2.8, body=body, front=axle, rear=axle, left=side or Side())


def _link(rate: float, sense: str = "levelling") -> Side:
    return Side(
        coupling=TorsionCoupling(bar_rate=rate, front_lever_ratio=1.0, rear_lever_ratio=1.0, sense=sense)
    )


def _mode_rates(vehicle: Vehicle) -> Array:
    found = rates(assemble(vehicle))
    return np.array([found.heave, found.roll, found.pitch, found.warp])


def test_mode_rates_of_four_corners() -> None:
    _check(ref.FOUR_CORNERS, _mode_rates(_four_corners()))


@pytest.mark.parametrize(
    ("vehicle", "expected"),
    [
        (_four_corners(stabiliser=8e3), ref.STABILISERS_ADD),
        (_four_corners(side=_link(5e3)), ref.SUM_LINKS_ADD),
        (_four_corners(side=_link(5e3, "pitch stiffening")), ref.DIFFERENCE_LINKS_ADD),
    ],
    ids=["stabilisers", "levelling links", "pitch-stiffening links"],
)
def test_what_a_link_adds_to_the_mode_rates(vehicle: Vehicle, expected: tuple[Published, ...]) -> None:
    _check(expected, _mode_rates(vehicle) - _mode_rates(_four_corners()))


def _linked(axle_rates: tuple[float, float], side: Side) -> PitchPlane:
    return _plane(two_degree_car(1200.0, 1.3, 1.5, sqrt(2100 / 1200), axle_rates, side=side))


@pytest.mark.parametrize(
    ("side", "hz", "nodes"),
    [
        (Side(), ref.NO_LINK_HZ, ref.NO_LINK_NODES),
        (_link(3e3), ref.SUM_LINK_HZ, ref.SUM_LINK_NODES),
        (_link(3e3, "pitch stiffening"), ref.DIFFERENCE_LINK_HZ, ref.DIFFERENCE_LINK_NODES),
    ],
    ids=["no link", "levelling", "pitch stiffening"],
)
def test_half_car_with_a_link(side: Side, hz: tuple[Published, ...], nodes: tuple[Published, ...]) -> None:
    """The link of 6 kN/m is one bar of 3 kN/m on each side."""
    plane = _linked((24e3, 26e3), side)
    _check(hz, plane.frequency)
    _check(nodes, plane.motion_centre)


def test_a_levelling_link_alone_leaves_pitch_free_about_the_middle_of_the_wheelbase() -> None:
    plane = _linked((0.0, 0.0), _link(7.5e3))
    _check(ref.LINK_ALONE_HZ, plane.frequency)
    assert plane.frequency[0] == 0.0
    ref.LINK_ALONE_FREE_NODE.check(plane.motion_centre[0])
    assert plane.names == ("pitch", "bounce")
