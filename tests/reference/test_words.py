"""What published sources tell without a number, and what is refused; numbers are in models.verification."""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np
import pytest
from pydantic import ValidationError

from models.comfort.measures import reactions, rms_of_psd
from models.hardware.clocking import clocking
from models.hardware.coil import buckling_deflection
from models.hardware.materials import MATERIALS
from models.linkage import Arm, Axis, BarLever, Point, WishboneDropLink
from models.verification.published.four_bar import STOPPING, four_bar, freudenstein, toggle
from models.verification.published.springs import coil


def test_there_is_a_word_for_every_vibration() -> None:
    """The ranges of ISO 2631-1, annex C.2.3, leave no gap."""
    assert all(reactions(value) for value in np.linspace(0, 5, 501))


def test_a_band_beyond_the_spectrum_is_refused() -> None:
    frequency = np.linspace(0.0, 100.0, 1001)
    with pytest.raises(ValueError, match=r"band 0.5 to 200 Hz is outside the allowed range \(0 to 100 Hz\)"):
        rms_of_psd(frequency, np.full_like(frequency, 0.04), band=(0.5, 200.0))


def test_a_slender_coil_buckles() -> None:
    """Above √C2, about 2.63 for steel on fixed seats (machinecalcs.com, seen): here 2.635."""
    assert buckling_deflection(coil(1, 10, 8, 79300, free_length=0.0527)) < 0.0527


def test_one_tooth_of_both_ends_gives_the_step_of_44_and_40_teeth() -> None:
    """0.82 deg: one tooth back at the front and one at the rear (G. Lyle, type2.com, seen)."""
    one = clocking(44, 40, radians(0.82))
    assert (one.front, one.rear) == (-1, -1)


def test_materials_name_their_sources() -> None:
    assert len({material.name for material in MATERIALS}) == len(MATERIALS)
    assert all(material.source for material in MATERIALS)


def test_reserve_ends_at_the_toggle() -> None:
    """Where Freudenstein's root ends."""
    margins = [
        float(four_bar(radians(40.0), toggle() + turn, bars=STOPPING)[1][1].margin[0])
        for turn in (-0.01, 0.01)
    ]
    assert margins[0] > 1e-4
    assert margins[1] < -1e-4


def test_a_chain_is_refused_with_the_travel_of_the_toggle() -> None:
    """A wishbone of 90 mm as crank: it locks a little (reserve 0.02) before the toggle of the book."""
    a, _, c, d = STOPPING
    design = radians(40.0)
    output = freudenstein(design, bars=STOPPING)
    pin = Point(y=a * cos(design), z=a * sin(design))
    arm = Arm(axis=Axis(), wheel=pin, link=pin)
    lever = BarLever(axis=Axis(y=d), link=Point(y=d + c * cos(output), z=c * sin(output)))
    travel = 1e3 * a * (sin(toggle()) - sin(design))
    with pytest.raises(ValidationError, match="Jounce travel: the linkage locks at") as refused:
        WishboneDropLink(arm=arm, lever=lever, jounce=0.05, rebound=0.01)
    words = str(refused.value)
    assert "the drop link cannot turn the lever any further" in words
    found = float(words.split("locks at ")[1].split(" mm")[0])
    assert travel - 0.2 < found < travel + 0.05  # it is printed to 0.1 mm
    free = WishboneDropLink(arm=arm, lever=lever, jounce=(found - 0.1) / 1e3, rebound=0.01)
    assert free.jounce < travel / 1e3
