"""Parts in steel: what they refuse, what their figures tell, and stress from any part."""

from __future__ import annotations

from math import isnan

import numpy as np
import pytest

from models.errors import InputError
from models.fields import Part, Quantity, described, replaced
from models.figure import Figure
from models.hardware import (
    PLACES,
    BarSpring,
    CoilSpring,
    GasStrut,
    Hardware,
    InterconnectionBar,
    LevellerMotor,
    LoadState,
    MultiLeafSpring,
    ParabolicLeafSpring,
    StabiliserBar,
    TorsionBar,
    TrimBar,
    allowed_stress,
    bar_figures,
    coil_figures,
    gas_figures,
    leaf_figures,
    lever_ratio,
    material_of,
    motor_figures,
    stabiliser_beam,
    stress,
)
from models.hardware.coil import coil_rate, solid_length
from models.hardware.gas_spring import area_for
from models.hardware.leaf import leaf_rate
from models.hardware.lever import LeverArm
from models.hardware.motor import stall_torque, torque_per_current, trim_move, winding_speed
from models.hardware.torsion_bar import bar_rate, bar_stress
from models.units import KINDS

STATES = (
    LoadState("design", "design trim", 900.0),
    LoadState("jounce", "jounce", 1500.0),
    LoadState("rebound", "rebound", -200.0),
)


@pytest.mark.parametrize(
    ("part", "field", "value", "message"),
    [
        (
            TorsionBar(),
            "bore",
            0.025,
            "Bore: 25 mm is outside the allowed range (less than the bar diameter, 24 mm)",
        ),
        (TorsionBar(), "front_teeth", 1, "1 is outside the allowed range (at least 2)"),
        (TorsionBar(), "rear_teeth", 401, "401 is outside the allowed range (at most 400)"),
        (TorsionBar(), "head_diameter", 0.020, "Head diameter: 20 mm is outside"),
        (TorsionBar(), "transition_length", 0.001, "Transition length: 1 mm is outside"),
        (CoilSpring(), "mean_diameter", 0.020, "at least two wire diameters, 26 mm"),
        (CoilSpring(), "free_length", 0.060, "more than the solid length of these coils, 97.5 mm"),
        (TorsionBar(), "front_teeth", 1, "front teeth"),
        (CoilSpring(), "wire_diameter", "12 kg", "Wire diameter"),
    ],
)
def test_sizes_that_cannot_be_made_are_refused(part: Part, field: str, value: object, message: str) -> None:
    with pytest.raises(InputError) as caught:
        replaced(part, (field,), value)
    assert message in str(caught.value)


def test_every_quantity_is_of_a_known_kind_and_default_within_its_range() -> None:
    for part in (
        TorsionBar,
        CoilSpring,
        MultiLeafSpring,
        ParabolicLeafSpring,
        GasStrut,
        LevellerMotor,
        LeverArm,
    ):
        for name, note, _ in described(part):
            if isinstance(note, Quantity):
                assert note.kind_name in KINDS
                assert note.low <= note.typical[0] < note.typical[1] <= note.high
                assert note.low <= getattr(part(), name) <= note.high


def by_key(figures: tuple[Figure, ...]) -> dict[str, float]:
    keys = [figure.key for figure in figures]
    assert len(set(keys)) == len(keys)
    for figure in figures:
        assert figure.kind in KINDS, figure.key
        assert figure.label
        assert figure.meaning
        assert "\n" not in figure.meaning
    return {figure.key: figure.value for figure in figures}


def test_figures_of_a_bar_follow_its_states() -> None:
    bar = TorsionBar()
    found = by_key(bar_figures(bar, STATES))
    assert found["shear_stress_jounce"] == float(bar_stress(bar, 1500.0))
    assert found["wind_up_design"] == pytest.approx(900.0 / bar_rate(bar), rel=1e-15)
    assert found["safety"] == pytest.approx(bar.material.shear_limit_preset / found["shear_stress_jounce"])
    # A pre-set bar that is loaded the other way says so; one that is not pre-set has no such figure.
    assert found["reverse_stress"] == float(bar_stress(bar, 200.0))
    soft = by_key(bar_figures(TorsionBar(setting="not pre-set"), STATES))
    assert "reverse_stress" not in soft
    assert soft["allowed_stress"] == bar.material.shear_limit
    unloaded = [LoadState("design", "design trim", 0.0)]
    assert by_key(bar_figures(bar, unloaded))["safety"] == float("inf")


def test_what_asks_for_a_load_that_nobody_knows_is_no_number() -> None:
    """Above all not an energy of 0 J, which would tell a part safe to touch."""
    for figures, of_load in (
        (bar_figures(TorsionBar()), {"safety", "reverse_stress", "energy"}),
        (
            coil_figures(CoilSpring()),
            {"safety", "reverse_stress", "travel_to_solid", "buckling_use", "energy"},
        ),
        (leaf_figures(MultiLeafSpring()), {"safety", "nip", "nip_bolt_force", "energy"}),
        (gas_figures(GasStrut()), {"rate", "rate_slow", "rate_fast", "safety", "area_at_limit"}),
    ):
        assert {key for key, value in by_key(figures).items() if isnan(value)} == of_load


def test_figures_of_a_coil_follow_its_states() -> None:
    coil = CoilSpring(seats="one end free")
    found = by_key(coil_figures(coil, STATES))
    deflection = 1500.0 / coil_rate(coil)
    assert found["length_jounce"] == pytest.approx(coil.free_length - deflection, rel=1e-15)
    assert found["travel_to_solid"] == pytest.approx(found["length_jounce"] - solid_length(coil), rel=1e-14)
    assert found["buckling_use"] == pytest.approx(deflection / found["buckling_deflection"], rel=1e-14)
    # At the solid length the coils take the force of all the travel there is.
    ratio = (coil.free_length - solid_length(coil)) / deflection
    assert found["shear_stress_solid"] == pytest.approx(ratio * found["shear_stress_jounce"], rel=1e-13)


def test_figures_of_leaves_gas_and_motor() -> None:
    for leaf in (MultiLeafSpring(), ParabolicLeafSpring(), MultiLeafSpring(nipped="none")):
        found = by_key(leaf_figures(leaf, STATES))
        assert found["leaf_friction_design"] > 0
        assert ("nip" in found) == (leaf == MultiLeafSpring())
    gas = GasStrut()
    found = by_key(gas_figures(gas, STATES))
    assert found["pressure_jounce"] == pytest.approx(1500.0 / gas.area, rel=1e-15)
    assert found["rate_fast"] == pytest.approx(1.4 * found["rate_slow"], rel=1e-14)
    assert area_for(1500.0, gas.pressure_limit) == found["area_at_limit"]
    found = by_key(motor_figures(LevellerMotor(), 200.0, 900.0, 0.7))
    assert found["move_time"] > 0.7 / winding_speed(LevellerMotor())
    assert found["power_shaft"] < found["power_wound"]


def test_parabolic_leaf_of_one_thickness_is_a_plain_beam() -> None:
    """End thickness as at the clamp: a cantilever, P L³/(3 E I) each half."""
    leaf = ParabolicLeafSpring(end_share=1.0, leaves=1)
    half = (leaf.span - leaf.clamped) / 2
    inertia = leaf.width * leaf.thickness**3 / 12
    assert leaf_rate(leaf) == pytest.approx(
        2 * 3 * leaf.material.youngs_modulus * inertia / half**3, rel=1e-14
    )


def test_leaves_without_a_nip_share_the_load_unevenly() -> None:
    """18 P L/(b t² (3 n_f + 2 n_g)) in the full-length leaves over 6 P L/(n b t²) (Bhandari, from memory)."""
    even, uneven = MultiLeafSpring(), MultiLeafSpring(nipped="none")
    assert float(stress(uneven, 1.0)) == pytest.approx(float(stress(even, 1.0)) * 3 * 5 / 11, rel=1e-14)


def test_motor_stalls_at_its_stall_torque() -> None:
    motor = LevellerMotor()
    stall = stall_torque(motor)
    assert winding_speed(motor, stall) == pytest.approx(0.0, abs=1e-12)
    move = trim_move(motor, 0.0, 1.01 * stall, 0.5)
    assert move.time == float("inf")
    assert move.power == pytest.approx(motor.voltage * move.current, rel=1e-15)
    assert stall_torque(motor.model_copy(update={"resistance": 0.0})) == float("inf")
    assert torque_per_current(motor) == pytest.approx(80.0, rel=1e-12)


@pytest.mark.parametrize(
    "part",
    [
        CoilSpring(),
        BarSpring(),
        MultiLeafSpring(),
        ParabolicLeafSpring(),
        InterconnectionBar(),
        TrimBar(),
        StabiliserBar(),
    ],
)
def test_stress_of_any_part_is_in_proportion_to_its_load(part) -> None:  # type: ignore[no-untyped-def]
    loads = np.array([[0.0, 500.0], [-250.0, 1000.0]])
    found = stress(part, loads)
    assert found.shape == loads.shape
    assert found == pytest.approx(float(stress(part, 1.0)) * loads, rel=1e-14)
    assert float(stress(part, 1.0)) > 0
    material = material_of(part)
    assert allowed_stress(part) in (material.shear_limit_preset, material.shear_limit, material.bending_limit)


def test_force_at_the_wheel_twists_the_bar_of_a_corner() -> None:
    part = BarSpring(lever=LeverArm(length=0.4, angle=0.3))
    torque = 3000.0 / lever_ratio(part.lever)
    assert float(stress(part, 3000.0)) == float(bar_stress(part.bar, torque))


def test_torque_of_a_stabiliser_bar_stresses_it_as_its_travel_does() -> None:
    """In opposed travel of 50 mm the element of the ride model carries k · 2 r s at the steel's own lever."""
    beam = stabiliser_beam(StabiliserBar())
    torque = beam.bar_rate * 2 * beam.lever_ratio * 0.05
    worst = float(beam.stress.scaled(0.05).von_mises.max())
    assert float(stress(StabiliserBar(), torque)) == pytest.approx(worst, rel=1e-14)


def test_an_empty_hardware_describes_nothing() -> None:
    assert all(getattr(Hardware(), place) is None for place in PLACES)
