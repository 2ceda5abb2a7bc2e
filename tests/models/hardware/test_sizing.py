"""Sizes from what is wanted: every one keeps to it, and the lightest comes first."""

from __future__ import annotations

from math import inf, isnan, pi

import pytest

from models.hardware import BarWish, CoilSpring, CoilWish, TorsionBar, bar_sizes, coil_sizes
from models.hardware.coil import buckling_deflection, coil_rate, solid_length
from models.hardware.standard_sizes import HOLLOW_RATIOS, PREFERRED, ROUND_BARS, WIRES
from models.hardware.torsion_bar import bar_length, bar_rate, bar_stress

BAR = BarWish(rate=1240.0, torque=1870.0, available_length=2.6)
COIL = CoilWish(27e3, 4200.0, 6090.0, 0.26, 0.165)


def test_all_bars_keep_to_the_wish() -> None:
    found = bar_sizes(TorsionBar(), BAR).found
    assert len(found) > 10
    assert [size.mass for size in found] == sorted(size.mass for size in found)
    for size in found:
        assert size.part.diameter in ROUND_BARS
        # Plain lengths are whole millimetres, of bars longer than 1 m.
        assert size.rate == bar_rate(size.part) == pytest.approx(BAR.rate, rel=5e-4)
        assert (
            size.stress == float(bar_stress(size.part, BAR.torque)) <= size.part.material.shear_limit_preset
        )
        assert size.length == bar_length(size.part) <= BAR.available_length
        assert isnan(size.life)


def test_no_standard_bar_is_left_out() -> None:
    """The thinnest solid bar that bears the torque and the thickest that fits, from the textbook formulas."""
    solid = [s.part.diameter for s in bar_sizes(TorsionBar(), BAR).found if s.part.bore == 0]
    steel = TorsionBar().material
    strong = [d for d in ROUND_BARS if 16 * BAR.torque / (pi * d**3) <= steel.shear_limit_preset]
    # Ends add to the length; a bar counts as too long where its plain length alone is.
    fits = [
        d for d in strong if pi * d**4 * steel.shear_modulus / (32 * BAR.rate) <= BAR.available_length - 0.1
    ]
    assert sorted(solid) == fits
    assert {round(s.part.bore / s.part.diameter, 1) for s in bar_sizes(TorsionBar(), BAR).found} == set(
        HOLLOW_RATIOS
    )


@pytest.mark.parametrize(
    ("wish", "reason"),
    [
        (BarWish(1240.0, 1870.0, angle_limit=1.0), "winds any bar by 86.4 deg, more than the 57.3 deg"),
        (BarWish(1240.0, 1870.0, available_length=0.05), "no bar of this rate is shorter than the 50 mm"),
        (BarWish(1240.0, 1870.0, available_length=1.0), "the least stress of what fits is"),
    ],
)
def test_nothing_that_fits_is_explained(wish: BarWish, reason: str) -> None:
    sizes = bar_sizes(TorsionBar(), wish)
    assert sizes.found == ()
    assert reason in sizes.reason


def test_a_longer_bar_of_equal_mass_comes_first_where_it_lives_longer() -> None:
    lives = bar_sizes(TorsionBar(), BAR, life=lambda bar: bar.diameter).found
    assert all(size.life == size.part.diameter for size in lives)
    stressed = bar_sizes(TorsionBar(), BarWish(1240.0, 1870.0, inf, inf, 500e6)).found
    assert all(size.stress <= 500e6 for size in stressed)
    assert {size.part.diameter for size in bar_sizes(TorsionBar(), BAR, None, PREFERRED).found} <= set(
        PREFERRED
    )


def test_all_coils_keep_to_the_wish() -> None:
    found = coil_sizes(CoilSpring(), COIL).found
    assert len(found) > 10
    assert [size.mass for size in found] == sorted(size.mass for size in found)
    for size in found:
        coil = size.part
        assert coil.wire_diameter in WIRES
        assert coil.mean_diameter + coil.wire_diameter <= COIL.outer_diameter + 1e-12
        # Coils in hundredths, of springs with two coils or more.
        assert coil_rate(coil) == pytest.approx(COIL.rate, rel=0.005 / 2)
        assert size.stress <= coil.material.shear_limit_preset
        at_design = coil.free_length - COIL.design_force / COIL.rate
        assert at_design == pytest.approx(COIL.installed_length, abs=0.5001e-3)
        deflection = COIL.greatest_force / coil_rate(coil)
        assert deflection < buckling_deflection(coil)
        assert coil.free_length - deflection > solid_length(coil)


@pytest.mark.parametrize(
    ("wish", "like", "reason"),
    [
        (CoilWish(27e3, 4200.0, 6090.0, 0.26, 0.02), CoilSpring(), "no wire gives this rate"),
        (
            CoilWish(27e3, 4200.0, 6090.0, 0.26, 0.165, 0.0, 400e6),
            CoilSpring(),
            "the least stress of what fits is",
        ),
        (CoilWish(5e3, 4200.0, 4500.0, 0.6, 0.165), CoilSpring(seats="one end free"), "buckles before"),
    ],
)
def test_no_coil_that_fits_is_explained(wish: CoilWish, like: CoilSpring, reason: str) -> None:
    sizes = coil_sizes(like, wish)
    assert sizes.found == ()
    assert reason in sizes.reason
