"""Dampers for a wanted damping ratio: closed forms, what stays, what is refused."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from models.assembly import assemble, linearised, mechanics
from models.errors import InputError
from models.fields import replaced
from models.ride.damping import dampers_for
from models.ride.modes import modes
from models.statics import statics
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    Body,
    Damper,
    DamperPoint,
    DigressiveDamper,
    InertiaFromDynamicIndex,
    InertiaFromGyration,
    Load,
    LoadCase,
    Side,
    Spring,
    TabulatedDamper,
    TorsionCoupling,
    Tyre,
    Vehicle,
)
from tests.cars import EVERYTHING, vehicles

#: Tyres so stiff that they give by wheel rate / tyre rate = 3e-5.
RIGID = Tyre(rate=1e9, damping=0.0)
JOINED = Side(coupling=TorsionCoupling(bar_rate=1200.0))


def _mean(vehicle: Vehicle, axle: str) -> float:
    damper = getattr(vehicle, axle).damper
    return float(damper.jounce + damper.rebound) / 2


def _ratio(vehicle: Vehicle, name: str, load: LoadCase = AS_DESIGNED) -> float:
    car = mechanics(vehicle, load)
    found = modes(linearised(car, statics(car).q))
    return float(found.damping_ratio[found.index(name)])


def test_a_quarter_car_on_a_rigid_tyre_is_a_single_degree_of_freedom() -> None:
    """ζ = c / (2 √(k m)).  The mass of the corner is a share of the static load: b / (a + b) / 2."""
    axle = Axle(spring=Spring(rate=26e3), tyre=RIGID)
    vehicle = Vehicle(wheelbase=2.9, body=Body(mass=1700.0, cg_to_front_axle=1.3), front=axle, rear=axle)
    proposal = dampers_for(vehicle, AS_DESIGNED, {"bounce": 0.3}, "quarter car front")
    corner = 1700.0 * 1.6 / 2.9 / 2
    # The tyre gives by |λ| c / k_t = 1e-5 of the motion.
    assert _mean(proposal.vehicle, "front") == pytest.approx(0.3 * 2 * sqrt(26e3 * corner), rel=1e-4)
    assert proposal.vehicle.rear == vehicle.rear
    assert proposal.factors[1] == 1.0


@pytest.mark.parametrize(("name", "inertia"), [("bounce", 1.0), ("pitch", 0.8**2)])
def test_bounce_and_pitch_of_an_even_car_have_closed_forms(name: str, inertia: float) -> None:
    """Front = rear and CG in the middle, rigid tyres: ζ = C / (2 √(K m)), in pitch with a² and k²."""
    a, mass, rate = 1.4, 1700.0, 26e3
    axle = Axle(spring=Spring(rate=rate), tyre=RIGID)
    body = Body(mass=mass, cg_to_front_axle=a, pitch_inertia=InertiaFromDynamicIndex(index=inertia))
    vehicle = Vehicle(wheelbase=2 * a, body=body, front=axle, rear=axle)
    proposal = dampers_for(vehicle, AS_DESIGNED, {name: 0.35})
    arm, inert = (1.0, mass) if name == "bounce" else (a * a, inertia * mass * a * a)
    c = 0.35 * 2 * sqrt(4 * rate * arm * inert) / (4 * arm)
    assert _mean(proposal.vehicle, "front") == pytest.approx(c, rel=1e-4)
    assert _mean(proposal.vehicle, "rear") == pytest.approx(c, rel=1e-4)


@pytest.mark.parametrize("name", ["bounce", "pitch"])
def test_an_even_car_on_its_tyres_solves_the_quartic_of_its_quarter(name: str) -> None:
    """Front = rear: in bounce and in pitch each corner is a quarter car with its share of M or I / a²."""
    a, gyration = 1.4, 1.25
    axle = Axle(spring=Spring(rate=24e3), tyre=Tyre(rate=210e3, damping=80.0))
    body = Body(mass=1600.0, cg_to_front_axle=a, pitch_inertia=InertiaFromGyration(radius=gyration))
    vehicle = Vehicle(wheelbase=2 * a, body=body, front=axle, rear=axle)
    proposal = dampers_for(vehicle, AS_DESIGNED, {name: 0.28})
    m = 400.0 if name == "bounce" else 400.0 * (gyration / a) ** 2
    c, k, mu, kt, ct = _mean(proposal.vehicle, "front"), 24e3, 45.0, 210e3, 80.0
    wheel = np.polyadd([mu, c + ct, k + kt], [0.0])
    between = np.array([c, k])
    roots = np.roots(np.polysub(np.polymul([m, c, k], wheel), np.polymul(between, between)))
    ratios = -roots.real / np.abs(roots)
    assert np.abs(ratios - 0.28).min() <= 1e-8


def test_two_modes_of_ends_that_do_not_meet() -> None:
    """Dynamic index 1, rigid tyres: each end is a mass on its spring, and each factor its own ratio."""
    a, b, mass = 1.2, 1.6, 1500.0
    front, rear = (Axle(spring=Spring(rate=rate), tyre=RIGID) for rate in (20e3, 34e3))
    body = Body(mass=mass, cg_to_front_axle=a, pitch_inertia=InertiaFromDynamicIndex(index=1.0))
    vehicle = Vehicle(wheelbase=a + b, body=body, front=front, rear=rear)
    frequencies = modes(assemble(vehicle))
    ends = {
        "front": sqrt(20e3 / (mass * b / (a + b) / 2)) / (2 * pi),
        "rear": sqrt(34e3 / (mass * a / (a + b) / 2)) / (2 * pi),
    }
    end_of = {
        name: min(ends, key=lambda end: abs(ends[end] - frequencies.frequency[frequencies.index(name)]))
        for name in ("bounce", "pitch")
    }
    assert set(end_of.values()) == {"front", "rear"}
    wanted = {"bounce": 0.22, "pitch": 0.41}
    proposal = dampers_for(vehicle, AS_DESIGNED, wanted)
    for name, ratio in wanted.items():
        share, rate = (b, 20e3) if end_of[name] == "front" else (a, 34e3)
        c = ratio * 2 * sqrt(rate * mass * share / (a + b) / 2)
        assert _mean(proposal.vehicle, end_of[name]) == pytest.approx(c, rel=1e-3)


def test_kind_split_and_all_else_stay() -> None:
    digressive = DigressiveDamper(jounce=1500.0, rebound=2600.0, knee=0.15, slope_share=0.4)
    table = TabulatedDamper()
    vehicle = replaced(
        replaced(replaced(Vehicle(), ("front", "damper"), digressive), ("rear", "damper"), table),
        ("left",),
        JOINED,
    )
    proposal = dampers_for(vehicle, AS_DESIGNED, {"bounce": 0.25, "pitch": 0.5})
    front, rear = proposal.vehicle.front.damper, proposal.vehicle.rear.damper
    assert isinstance(front, DigressiveDamper)
    assert isinstance(rear, TabulatedDamper)
    assert front.jounce == pytest.approx(1500.0 * proposal.factors[0], rel=1e-15)
    assert front.rebound == pytest.approx(2600.0 * proposal.factors[0], rel=1e-15)
    assert (front.knee, front.slope_share) == (0.15, 0.4)
    assert [point.speed for point in rear.points] == [point.speed for point in table.points]
    np.testing.assert_allclose(
        [point.force for point in rear.points],
        [proposal.factors[1] * point.force for point in table.points],
        rtol=1e-15,
    )
    back = replaced(replaced(proposal.vehicle, ("front", "damper"), digressive), ("rear", "damper"), table)
    assert back == vehicle
    assert _ratio(proposal.vehicle, "bounce") == pytest.approx(0.25, abs=1e-6)
    assert _ratio(proposal.vehicle, "pitch") == pytest.approx(0.5, abs=1e-6)


def test_what_is_reached_already_stays() -> None:
    vehicle = Vehicle(left=JOINED)
    proposal = dampers_for(vehicle, AS_DESIGNED, {"pitch": _ratio(vehicle, "pitch")})
    np.testing.assert_allclose(proposal.factors, 1.0, rtol=1e-9)


def test_a_hop_takes_its_own_axle_and_a_body_mode_both() -> None:
    vehicle = replaced(EVERYTHING, ("rear", "tyre", "rate"), 160e3)
    assert dampers_for(vehicle, AS_DESIGNED, {"front wheel hop": 0.3}).factors[1] == 1.0
    assert dampers_for(vehicle, AS_DESIGNED, {"rear axle tramp": 0.3}).factors[0] == 1.0
    front, rear = dampers_for(vehicle, AS_DESIGNED, {"roll": 0.3}).factors
    assert front == rear != 1.0


def test_the_load_counts() -> None:
    load = LoadCase(name="Full", loads=(Load(name="Boot", mass=180.0, x=-1.7, y=0.0, z=0.7),))
    vehicle = Vehicle(left=JOINED)
    loaded = dampers_for(vehicle, load, {"bounce": 0.3})
    assert loaded.factors[0] > dampers_for(vehicle, AS_DESIGNED, {"bounce": 0.3}).factors[0]
    assert _ratio(loaded.vehicle, "bounce", load) == pytest.approx(0.3, abs=1e-6)


def test_an_overdamped_body() -> None:
    axle = Axle(tyre=RIGID)
    proposal = dampers_for(Vehicle(front=axle, rear=axle), AS_DESIGNED, {"bounce": 1.5})
    found = proposal.modes
    assert found.damped_frequency[found.index("bounce")] == 0.0
    c = 1.5 * 2 * sqrt(4 * 26e3 * 1700.0) / 4
    assert _mean(proposal.vehicle, "front") == pytest.approx(c, rel=1e-3)


def test_out_of_reach_says_what_is_within() -> None:
    with pytest.raises(InputError, match=r"roll 5 is out of reach: front and rear dampers .* give 0\.\d+ to"):
        dampers_for(Vehicle(), AS_DESIGNED, {"roll": 5.0})
    # Undamped tyres, so that the least damper allowed, 1 N·s/m, gives the least ratio.
    axle = Axle(tyre=Tyre(damping=0.0))
    with pytest.raises(InputError, match=r"bounce 0\.0001 is out of reach"):
        dampers_for(Vehicle(front=axle, rear=axle), AS_DESIGNED, {"bounce": 1e-4})


def test_two_modes_that_do_not_go_together() -> None:
    """An even car damps bounce and pitch by the same dampers: the range beside the first is told."""
    with pytest.raises(InputError, match=r"with bounce at 0\.3, pitch can be about 0\.\d+ to") as caught:
        dampers_for(Vehicle(), AS_DESIGNED, {"bounce": 0.3, "pitch": 0.05})
    low = float(str(caught.value).split("pitch can be about ")[1].split(" to ")[0])
    reached = dampers_for(Vehicle(), AS_DESIGNED, {"bounce": 0.3, "pitch": low + 5e-3})
    assert _ratio(reached.vehicle, "bounce") == pytest.approx(0.3, abs=1e-6)


@pytest.mark.parametrize(
    ("targets", "message"),
    [
        ({}, "one or two modes"),
        ({"bounce": 0.3, "pitch": 0.3, "roll": 0.3}, "one or two modes"),
        ({"yaw": 0.3}, "'yaw' is no mode of the model .*bounce, pitch"),
        ({"bounce": 0.0}, r"Damping ratio: 0 is outside the allowed range \(0.0001 to 100\)"),
        ({"bounce": float("nan")}, "Damping ratio: nan is outside"),
    ],
)
def test_bad_wishes_are_refused(targets: dict[str, float], message: str) -> None:
    with pytest.raises(InputError, match=message):
        dampers_for(Vehicle(), AS_DESIGNED, targets)


def test_dampers_that_are_not_there_cannot_be_scaled() -> None:
    bare = replaced(Vehicle(left=JOINED), ("rear", "damper"), Damper(jounce=0.0, rebound=0.0))
    # The bounce of this car lives at its rear, where nothing damps it.
    assert dampers_for(bare, AS_DESIGNED, {"bounce": 0.02}).factors[1] == 1.0
    with pytest.raises(InputError, match="the rear dampers have no damping at rest"):
        dampers_for(bare, AS_DESIGNED, {"rear wheel hop": 0.2})
    with pytest.raises(InputError, match="the rear dampers have no damping at rest"):
        dampers_for(bare, AS_DESIGNED, {"bounce": 0.2, "pitch": 0.3})
    flat = TabulatedDamper(
        points=tuple(
            DamperPoint(speed=v, force=f) for v, f in ((-1, -100), (-0.1, 0), (0, 0), (0.1, 0), (1, 100))
        )
    )
    flats = replaced(replaced(Vehicle(), ("rear", "damper"), flat), ("front", "damper"), flat)
    with pytest.raises(InputError, match="front and rear dampers have no damping at rest"):
        dampers_for(flats, AS_DESIGNED, {"bounce": 0.2})


def test_a_free_mode_has_no_ratio() -> None:
    bare = Axle(spring=Spring(rate=0.0))
    vehicle = Vehicle(front=bare, rear=bare, left=JOINED)
    with pytest.raises(InputError, match="pitch has no stiffness"):
        dampers_for(vehicle, AS_DESIGNED, {"pitch": 0.3})


_NAMES = ("bounce", "pitch", "roll", "front wheel hop", "rear axle tramp")
_WISHES = st.dictionaries(st.sampled_from(_NAMES), st.floats(0.02, 1.2), min_size=1, max_size=2)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(vehicles, _WISHES)
def test_any_car_reaches_the_target_or_refuses(vehicle: Vehicle, wishes: dict[str, float]) -> None:
    try:
        proposal = dampers_for(vehicle, AS_DESIGNED, wishes)
    except InputError as error:
        assert "out of reach" in str(error) or "no stiffness" in str(error)  # noqa: PT017
        return
    for name, ratio in wishes.items():
        assert _ratio(proposal.vehicle, name) == pytest.approx(ratio, abs=1e-6)
    for axle, factor in zip(("front", "rear"), proposal.factors, strict=True):
        before, after = getattr(vehicle, axle).damper, getattr(proposal.vehicle, axle).damper
        assert after.jounce == pytest.approx(factor * before.jounce, rel=1e-14)
        assert after.rebound == pytest.approx(factor * before.rebound, rel=1e-14)
