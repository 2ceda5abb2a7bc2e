"""Tolerance stack at trim: slopes by hand, draws against slopes, and what a reader is told of both."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.constants import g
from scipy.stats import binomtest

from models.charts.trim_tolerance import (
    stack_effects_chart,
    stack_heights_chart,
    stack_pitch_chart,
    stack_shares_chart,
)
from models.fields import described
from models.hardware.hardware import Hardware, InterconnectionBar
from models.hardware.stabiliser_bar import StabiliserBar
from models.hardware.torsion_bar import TorsionBar, bar_rate
from models.hardware.trim_tolerances import TrimTolerances
from models.judge.trim_rows import method, stack_rows
from models.judge.trim_tolerance import (
    GROUPS,
    OUTPUTS,
    TrimStack,
    bar_diameters,
    stack_figures,
    trim_stack,
)
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    Body,
    FluidCoupling,
    Load,
    LoadCase,
    Side,
    Spring,
    Stabiliser,
    Stop,
    TrimSpring,
    Vehicle,
)

KEYS = [output.key for output in OUTPUTS]
FRONT, REAR, PITCH, ROLL = (KEYS.index(key) for key in ("height_front", "height_rear", "pitch", "roll"))
NONE = dict.fromkeys(GROUPS, 0.0)

# Coils in front, one bar with a level lever of 0.4 m at each rear wheel, and nothing else: what a corner
# carries is a quarter of the car.
RATIO, BAR, COIL = 2.5, 3600.0, 24e3
CAR = Vehicle(
    body=Body(mass=1600.0, cg_to_front_axle=1.45),
    front=Axle(spring=Spring(rate=COIL, motion_ratio=0.8)),
    rear=Axle(spring=Spring(rate=0.0)),
    left=Side(trim=TrimSpring(bar_rate=BAR, lever_ratio=RATIO)),
)
WHEEL_RATE = BAR * RATIO**2
FRONT_RATE = COIL * 0.8**2
CORNER = 400.0 * g
TYRE = 200e3


def allowed(**tolerances: float | str) -> TrimTolerances:
    return TrimTolerances.model_validate({**NONE, **tolerances})


@cache
def stacked(**tolerances: float | str) -> TrimStack:
    return trim_stack(CAR, allowed(**tolerances))


def effect(stack: TrimStack, label: str, column: int) -> float:
    """Of one part that has a tolerance."""
    (row,) = [
        number
        for number, part in enumerate(stack.parts)
        if part.label == label and stack.effect[number].any()
    ]
    return float(stack.effect[row, column])


def test_a_bar_that_is_off_by_hand() -> None:
    """Δh = ΔT / (r k_w) at its wheel: half of it at the middle of the axle, where the other bar holds on.

    ΔT of the diameter is 4 Δd/d of the torque that carries the corner, of the clocking rate · angle; a lever
    that is too long presses the wheel less by Δr/r.
    """
    torque = CORNER / RATIO
    thick = stacked(bar_diameter=0.1e-3, nominal_diameter=0.025)
    change = torque * 4 * 0.1 / 25
    # The slope is that of the fourth power at the nominal diameter; a millionth is what its step leaves.
    height = change * RATIO / WHEEL_RATE / 2
    assert effect(thick, "left trim spring", REAR) == pytest.approx(height, rel=1e-6)
    assert effect(thick, "left trim spring", FRONT) == pytest.approx(0.0, abs=1e-9)
    assert effect(thick, "left trim spring", PITCH) == pytest.approx(height / 2.9, rel=1e-6)
    clocked = stacked(clocking=math.radians(1.0))
    assert effect(clocked, "right trim spring", REAR) == pytest.approx(
        BAR * math.radians(1.0) * RATIO / WHEEL_RATE / 2, rel=1e-6
    )
    long = stacked(lever_length=0.001)
    assert effect(long, "left trim spring, lever RL", REAR) == pytest.approx(
        -CORNER * 0.001 / 0.4 / WHEEL_RATE / 2, rel=1e-5
    )


def test_springs_mass_and_tyres_by_hand() -> None:
    stiff = stacked(spring_rate=0.02)
    assert effect(stiff, "front left spring", FRONT) == pytest.approx(
        0.02 * CORNER / FRONT_RATE / 2, rel=1e-6
    )
    long = stacked(free_length=0.003)
    assert effect(long, "front right spring", FRONT) == pytest.approx(0.003 / 0.8 / 2, rel=1e-6)
    heavy = stacked(body_mass=40.0)
    front, rear = (10 * g * (1 / rate + 1 / TYRE) for rate in (FRONT_RATE, WHEEL_RATE))
    assert effect(heavy, "sprung mass", FRONT) == pytest.approx(-front, rel=1e-6)
    assert effect(heavy, "sprung mass", REAR) == pytest.approx(-rear, rel=1e-6)
    ahead = stacked(cg_place=0.01)
    moved = 1600 * g * 0.01 / 2.9 / 2
    assert effect(ahead, "CG fore and aft", FRONT) == pytest.approx(
        -moved * (1 / FRONT_RATE + 1 / TYRE), rel=1e-6
    )
    assert effect(ahead, "CG fore and aft", PITCH) > 0
    assert effect(ahead, "CG left and right", ROLL) < 0
    hard = stacked(tyre_rate=0.05)
    assert effect(hard, "tyre FL", FRONT) == pytest.approx(0.05 * (CORNER + 45 * g) / TYRE / 2, rel=1e-6)


def test_joined_groups_and_the_stack() -> None:
    stack = trim_stack(CAR, TrimTolerances())
    assert [row.group for row in stack.groups] == list(GROUPS)
    for column in range(len(OUTPUTS)):
        assert math.hypot(*(row.effect[column] for row in stack.groups)) == pytest.approx(stack.rss[column])
        assert sum(row.share[column] for row in stack.groups) == pytest.approx(1.0)
    assert (stack.worst >= stack.rss).all()
    lever = next(row for row in stack.groups if row.group == "lever_length")
    assert lever.effect[REAR] == pytest.approx(
        CORNER * 0.0005 / 0.4 / WHEEL_RATE / 2 * math.sqrt(2), rel=1e-5
    )


def test_small_draws_spread_as_the_slopes_say() -> None:
    """Of 1,000 draws a standard deviation is known to 1/√2000 = 2.2 %; four times that holds always but once
    in 15,000, and the seed is fixed."""
    for distribution in ("normal", "uniform"):
        stack = trim_stack(CAR, TrimTolerances(distribution=distribution))
        assert np.isfinite(stack.draws).all()
        assert stack.deviation == pytest.approx(stack.linear_deviation, rel=4 / math.sqrt(2000))
        assert abs(stack.draws.mean(axis=0)) == pytest.approx(0.0, abs=0.2 * stack.deviation.max())
    assert (np.abs(stack.draws).max(axis=0) < 1.02 * stack.worst).all()  # uniform: never past its ends


def test_draws_are_solved_in_full() -> None:
    """The same cars with a thousandth of the tolerance are linear; times a thousand they differ by curvature
    only: some d⁴, forces on other rates, and cars on their stops, which the slopes know nothing of."""
    axle = CAR.rear.model_copy(update={"rebound_stop": Stop(gap=0.004, rate=2e5)})
    for car, most in ((CAR, 0.05), (CAR.model_copy(update={"rear": axle}), 0.5)):
        usual = TrimTolerances()
        tiny = usual.model_copy(update={group: getattr(usual, group) / 1000 for group in GROUPS})
        whole, part = (trim_stack(car, some).draws[:, REAR] for some in (usual, tiny))
        difference = np.abs(whole - 1000 * part).max() / np.abs(whole).max()
        assert most / 50 < difference < most


def test_a_seed_draws_the_same_cars() -> None:
    first, again, other = (trim_stack(CAR, TrimTolerances(), seed=seed, draws=50) for seed in (7, 7, 8))
    assert np.array_equal(first.draws, again.draws)
    assert not np.array_equal(first.draws, other.draws)
    assert len(first.draws) == 50


def test_a_known_diameter_counts_instead_of_the_nominal_one() -> None:
    only = allowed(bar_diameter=0.1e-3, nominal_diameter=0.025)
    known = trim_stack(CAR, only, diameters={"left trim spring": 0.05})
    assert effect(known, "left trim spring", REAR) * 2 == pytest.approx(
        effect(known, "right trim spring", REAR), rel=1e-6
    )


def test_gas_stabilisers_and_occupants_have_their_tolerances() -> None:
    car = CAR.model_copy(
        update={
            "left": Side(coupling=FluidCoupling(), trim=CAR.left.trim),
            "front": CAR.front.model_copy(update={"stabiliser": Stabiliser(bar_rate=900.0)}),
            "seat": CAR.seat.model_copy(
                update={"y": 0.0, "occupant": CAR.seat.occupant.model_copy(update={"mass": 60.0})}
            ),
        }
    )
    stack = trim_stack(car, TrimTolerances(), draws=20)
    named = {(part.group, part.label) for part in stack.parts}
    assert ("spring_rate", "left fluid interconnection") in named
    assert ("clocking", "front stabiliser bar") in named
    assert not any("cushion" in label or "rear left spring" in label for _, label in named)
    number = [part.label for part in stack.parts].index("front stabiliser bar")
    assert stack.parts[number].group == "bar_diameter"
    assert stack.effect[number] == pytest.approx(0.0, abs=1e-9)  # a bar without torque at rest
    assert abs(stack.effect[number + 1, ROLL]) > 1e-5  # but clocked wrong it leans the car
    assert np.isfinite(stack.draws).all()


def test_percentiles_and_yield_count_the_draws() -> None:
    stack = trim_stack(CAR, TrimTolerances(height_limit=0.004))
    low, middle, high = (stack.percentile(per_cent)[REAR] for per_cent in (2.5, 50.0, 97.5))
    assert np.mean((stack.draws[:, REAR] >= low) & (stack.draws[:, REAR] <= high)) == pytest.approx(
        0.95, abs=0.002
    )
    assert low < middle < high
    within = (np.abs(stack.draws[:, :4]).max(axis=1) <= 0.004).sum() / 1000
    assert 0.1 < stack.within == within < 1.0
    figures = {figure.key: figure.value for figure in stack_figures(stack)}
    assert figures["stack_within"] == within
    assert figures["stack_height_rear_spread"] == pytest.approx((high - low) / 2)
    assert figures["stack_pitch_rss"] == stack.rss[PITCH]


def test_a_load_case_stands_where_its_statics_put_it() -> None:
    load = LoadCase(name="boot", loads=(Load(mass=120.0, x=-3.4, y=0.2),))
    stack = trim_stack(CAR, TrimTolerances(), load, draws=10)
    assert stack.load == "boot"
    assert stack.rest[REAR] < 0 < stack.rest[FRONT]
    nominal = trim_stack(CAR, TrimTolerances(), AS_DESIGNED, draws=10)
    assert nominal.rest == pytest.approx(0.0, abs=1e-9)


def test_a_car_that_does_not_stand_has_a_reason() -> None:
    bare = Axle(spring=Spring(rate=0.0))
    stack = trim_stack(Vehicle(front=bare, rear=bare), TrimTolerances())
    assert stack.reason.startswith("nothing holds the body")
    assert all(math.isnan(figure.value) for figure in stack_figures(stack))
    assert stack_heights_chart(stack, "car").extent("y") == (0.0, 0.0)


def test_charts_show_draws_groups_and_limit() -> None:
    stack = trim_stack(CAR, TrimTolerances())
    heights = stack_heights_chart(stack, "car")
    assert [mark.x for mark in heights.marks] == [-0.01, 0.01]
    for curve in heights.curves:
        # Each share stands twice in the outline.
        assert curve.y.sum() / 2 == pytest.approx(1.0)
        assert (np.diff(curve.x) >= 0).all()
    effects = stack_effects_chart(stack, "car")
    assert effects.x.names[-1] == "all, RSS"
    tops: NDArray[np.float64] = effects.curves[1].y[1::4]
    assert tops == pytest.approx([*(row.effect[REAR] for row in stack.groups), stack.rss[REAR]])
    shares = stack_shares_chart(stack, "car")
    assert [curve.y[1::4].sum() for curve in shares.curves] == pytest.approx([1.0, 1.0, 1.0])
    assert stack_pitch_chart(stack, "car").curves[0].y.sum() / 2 == pytest.approx(1.0)


def test_each_tolerance_says_what_it_means() -> None:
    notes = {name: note for name, note, _ in described(TrimTolerances)}
    assert set(GROUPS) < set(notes)
    assert all(note is not None and note.meaning for note in notes.values())


def test_blocks_of_draws_are_told_and_give_the_same_cars() -> None:
    told: list[float] = []
    whole = trim_stack(CAR, TrimTolerances(), draws=4500, report=told.append)
    assert told == pytest.approx([0.0, 2000 / 4500, 4000 / 4500])
    part = trim_stack(CAR, TrimTolerances(), draws=4500, seed=2)
    # Of the same spread: a standard deviation of 4,500 draws is known to 1 %.
    assert whole.deviation == pytest.approx(part.deviation, rel=0.05)

    def stop(_share: float) -> None:
        raise InterruptedError

    with pytest.raises(InterruptedError):
        trim_stack(CAR, TrimTolerances(), report=stop)


@pytest.mark.parametrize("limit", [0.0, 0.004, 0.5])
def test_yield_is_known_as_far_as_scipy_says(limit: float) -> None:
    stack = trim_stack(CAR, TrimTolerances(height_limit=limit), draws=400)
    exact = binomtest(round(400 * stack.within), 400).proportion_ci(0.9, method="exact")
    assert stack.within_limits(0.9) == pytest.approx((exact.low, exact.high))
    assert stack.within_limits()[0] <= stack.within <= stack.within_limits()[1]
    assert math.isnan(trim_stack(CAR, TrimTolerances(), draws=0).within_limits()[0])


def test_diameters_of_bars_in_steel() -> None:
    """A bore leaves d⁴ - d_i⁴, which grows by 4 Δd d³: as that of a full bar of (d⁴ - d_i⁴)/d³."""
    tube = TorsionBar(diameter=0.03, bore=0.02, head_diameter=0.036)
    steel = Hardware(
        interconnection=InterconnectionBar(bar=tube), front_stabiliser=StabiliserBar(diameter=0.022)
    )
    found = bar_diameters(steel)
    assert found == {
        "left interconnection bar": pytest.approx(0.03 - 0.02**4 / 0.03**3),
        "right interconnection bar": pytest.approx(0.03 - 0.02**4 / 0.03**3),
        "front stabiliser bar": 0.022,
    }
    thicker = tube.model_copy(update={"diameter": 0.03 + 1e-7})
    assert bar_rate(thicker) / bar_rate(tube) - 1 == pytest.approx(
        4e-7 / found["left interconnection bar"],
        rel=0.05,  # the transitions to the heads, which are a few per cent of the length
    )


def test_rows_tell_each_tolerance_and_all_together() -> None:
    stack = trim_stack(CAR, TrimTolerances(distribution="uniform"))
    rows = {row.key: row for row in stack_rows(stack)}
    assert list(rows)[: len(GROUPS)] == list(GROUPS)
    columns = (FRONT, REAR, PITCH)
    for row in stack.groups:
        told = rows[row.group]
        assert [figure.value for figure in told.change] == [row.effect[column] for column in columns]
        assert [figure.value for figure in told.share] == [row.share[column] for column in columns]
        assert told.tolerance is not None
        assert told.tolerance.value == row.tolerance
    for key, values in (
        ("rss", stack.rss),
        ("worst", stack.worst),
        ("linear", stack.linear_deviation),
        ("drawn", stack.deviation),
        ("p97", stack.percentile(97.5)),
    ):
        assert [figure.value for figure in rows[key].change] == [values[column] for column in columns]
    assert "√3" in rows["linear"].change[0].meaning
    assert all(figure.meaning for row in rows.values() for figure in row.change)
    assert "uniform" in method(stack)
