"""The element table: which part moves how with which wheel, and what it adds to the rates."""

from __future__ import annotations

import numpy as np
import pytest
import sympy
from scipy.constants import atm, g

from models.assembly import RideModel, assemble
from models.force_elements import force_elements
from models.ride.rates import rates
from models.vehicle import (
    Axle,
    Body,
    DiagonalCoupling,
    FluidCoupling,
    Friction,
    GasSpring,
    MeasuredInertia,
    Occupant,
    Seat,
    Side,
    SolidAxle,
    Spring,
    Stabiliser,
    Stop,
    TorsionCoupling,
    TrimSpring,
    Vehicle,
)

K, HALF_TRACK, HALF_BASE = 20e3, 0.75, 1.4


def four_equal_corners(**parts: object) -> Vehicle:
    """Four springs of 20 kN/m on a track of 1.5 m and a wheelbase of 2.8 m."""
    ends = {end: Axle(track=2 * HALF_TRACK, spring=Spring(rate=K)) for end in ("front", "rear")}
    body = Body(mass=1200.0, cg_to_front_axle=HALF_BASE, pitch_inertia=MeasuredInertia(value=2100.0))
    return Vehicle(**{"wheelbase": 2 * HALF_BASE, "body": body, **ends, **parts})


def mode_rates(vehicle: Vehicle) -> tuple[float, float, float, float]:
    found = rates(assemble(vehicle))
    return found.heave, found.roll, found.pitch, found.warp


def test_mode_rates_of_four_equal_corners() -> None:
    """Modal algebra by hand: heave 4k, roll 4kt², pitch 4kl², warp 4k."""
    assert mode_rates(four_equal_corners()) == pytest.approx((80000, 45000, 156800, 80000), rel=1e-12)


BARS = Side(coupling=TorsionCoupling(bar_rate=5000.0, front_lever_ratio=1.0, rear_lever_ratio=1.0))
STIFFENING = Side(
    coupling=TorsionCoupling(
        bar_rate=5000.0, front_lever_ratio=1.0, rear_lever_ratio=1.0, sense="pitch stiffening"
    )
)
ROLL_BAR = Axle(track=1.5, spring=Spring(rate=K), stabiliser=Stabiliser(bar_rate=8000.0, lever_ratio=1.0))


@pytest.mark.parametrize(
    ("parts", "added"),
    [
        ({"front": ROLL_BAR, "rear": ROLL_BAR}, (0, 36000, 0, 64000)),
        ({"left": BARS}, (40000, 22500, 0, 0)),
        ({"left": STIFFENING}, (0, 0, 78400, 40000)),
        (
            {"diagonal": DiagonalCoupling(bar_rate=500.0, front_lever_ratio=1.0, rear_lever_ratio=1.0)},
            (0, 0, 0, 8000),
        ),
    ],
    ids=["stabilisers", "levelling bars", "pitch stiffening bars", "diagonal coupling"],
)
def test_what_a_coupling_adds_to_the_mode_rates(parts: dict[str, object], added: tuple[float, ...]) -> None:
    """Modal algebra by hand, unit levers, half track t, half wheelbase l, rate κ of each bar.

    Two stabilisers 8κt² in roll, 8κ in warp; sums 8κ in heave, 8κt² in roll; differences 8κl² in pitch, 8κ in
    warp; the one diagonal coupling twists by 4 in warp: 16κ, and only there.
    """
    plain, joined = mode_rates(four_equal_corners()), mode_rates(four_equal_corners(**parts))
    gained = [after - before for before, after in zip(plain, joined, strict=True)]
    assert gained == pytest.approx(added, rel=1e-9, abs=1e-6)


def element_names(vehicle: Vehicle) -> set[str]:
    return {element.name for element in force_elements(vehicle)}


def test_parts_that_are_not_fitted_are_no_stops_friction_or_cushion() -> None:
    plain = element_names(Vehicle())
    assert not [name for name in plain if "stop" in name or "friction" in name or "cushion" in name]
    axle = Axle(bump_stop=Stop(rate=1e4), rebound_stop=Stop(growth=1e6), friction=Friction(force=30.0))
    fitted = element_names(Vehicle(front=axle, seat=Seat(occupant=Occupant(mass=50.0)))) - plain
    sides = [
        f"front {side} {part}"
        for side in ("left", "right")
        for part in ("bump stop", "rebound stop", "friction")
    ]
    assert fitted == {*sides, "seat cushion"}


@pytest.mark.parametrize("spacing", [0.4, 0.9, 1.5])
def test_springs_of_a_solid_axle_act_at_their_spacing(spacing: float) -> None:
    """By hand: per axle 2 k in heave, k s²/2 in roll of the body on a level axle."""
    wheels = SolidAxle(mass=90.0, roll_inertia=20.0, spring_spacing=spacing)
    axle = Axle(track=1.5, wheels=wheels, spring=Spring(rate=K))
    heave, roll, _, _ = mode_rates(four_equal_corners(front=axle, rear=axle))
    assert heave == pytest.approx(4 * K, rel=1e-12)
    assert roll == pytest.approx(2 * K * spacing**2 / 2, rel=1e-12)


def test_gas_spring_rate_is_that_of_the_textbook() -> None:
    """k = n p0 A² / V0 with the absolute pressure p0 that carries the corner, times the ratio squared."""
    area, volume, ratio = 0.006, 0.0015, 0.8
    gas = GasSpring(area=area, volume=volume, exponent=1.3, motion_ratio=ratio)
    axle = Axle(track=1.5, spring=gas)
    model = assemble(four_equal_corners(front=axle, rear=axle))
    static = 1200.0 * g / 4 / ratio
    expected = 1.3 * (static / area + atm) * area**2 / volume * ratio**2
    assert np.diag(model.wheel_rates) == pytest.approx([expected] * 4, rel=1e-10)


def test_fluid_coupling_by_hand() -> None:
    """Alone on its side it carries half the car: p0 (A_f + A_r) = m g / 2, dp/dV = n p0 / V0.

    Its areas stand in the ratio of the loads, here equal, so that it carries the car level.
    """
    area, volume = 0.004, 0.002
    side = Side(coupling=FluidCoupling(front_area=area, rear_area=area, volume=volume, exponent=1.3))
    bare = Axle(track=1.5, spring=Spring(rate=0.0))
    model = assemble(four_equal_corners(front=bare, rear=bare, left=side))
    pressure = 1200.0 * g / 2 / (2 * area)
    stiffness = 1.3 * (pressure + atm) / volume
    expected = stiffness * area**2 * np.array([[1, 0, 1, 0], [0, 1, 0, 1], [1, 0, 1, 0], [0, 1, 0, 1]])
    np.testing.assert_allclose(model.wheel_rates, expected, rtol=1e-9)
    (volume_moved,) = [
        element.incidence for element in model.elements if element.name == "left fluid interconnection"
    ]
    assert volume_moved == (area, 0.0, area, 0.0)


def test_line_resistance_damps_the_flow_of_both_wheels() -> None:
    """By hand: the flow A_f ṡ_f + A_r ṡ_r loses the pressure R · flow, which acts on both areas."""
    side = Side(coupling=FluidCoupling(front_area=0.003, rear_area=0.002, resistance=2e8))
    damped, free = (
        assemble(four_equal_corners(left=part))
        for part in (side, Side(coupling=FluidCoupling(front_area=0.003, rear_area=0.002)))
    )
    areas = np.array([0.003, 0.0, 0.002, 0.0])
    expected = 2e8 * (np.outer(areas, areas) + np.outer(np.roll(areas, 1), np.roll(areas, 1)))
    np.testing.assert_allclose(damped.wheel_damping - free.wheel_damping, expected, rtol=1e-9, atol=1e-9)


def with_occupant(mass: float) -> RideModel:
    seat = Seat(x=0.3, y=0.4, occupant=Occupant(mass=mass, cushion_rate=45e3, cushion_damping=700.0))
    return assemble(four_equal_corners(seat=seat, left=Side(trim=TrimSpring(bar_rate=200.0))))


def test_occupant_is_one_more_mass_on_a_cushion() -> None:
    """Lagrange with sympy: ½k(z + yφ - xθ - z_s)² and ½m ż_s² beside the car without him."""
    q = sympy.symbols("z phi theta u1:5 z_s")
    cushion = q[0] + sympy.Rational(2, 5) * q[1] - sympy.Rational(3, 10) * q[2] - q[7]
    unit = np.array(sympy.hessian(cushion**2 / 2, q)).astype(float)
    alone, seated = with_occupant(0.0), with_occupant(60.0)
    for name, rate in (("stiffness", 45e3), ("damping", 700.0)):
        expected = np.zeros((8, 8))
        expected[:7, :7] = getattr(alone, name)
        np.testing.assert_allclose(getattr(seated, name), expected + rate * unit, rtol=1e-12, atol=1e-6)
    assert seated.mass[7, 7] == 60.0
    np.testing.assert_array_equal(seated.mass[:7, :7], alone.mass)
    assert seated.dof[-1] == "z_s"
