"""Figures of chains of rockers and links."""

from __future__ import annotations

from math import degrees

import pytest

from models.fields import replaced
from models.force_elements import force_elements
from models.judge.linkage import chain_figures, chain_places, chains
from models.linkage import LINKAGES, Chain, DirectLever, RockerPushrod, WishboneDropLink
from models.units import INCH_POUND, KINDS, METRIC, factor
from models.vehicle import FluidCoupling, Side, TorsionCoupling, TrimSpring, Vehicle
from tests.cars import EVERYTHING


def test_chains_are_found_by_their_place() -> None:
    vehicle = Vehicle(left=Side(coupling=TorsionCoupling(front_linkage=DirectLever())))
    assert chains(vehicle) == {"Front linkage": DirectLever()}
    vehicle = replaced(
        vehicle, ("right",), Side(coupling=FluidCoupling(), trim=TrimSpring(linkage=RockerPushrod()))
    )
    assert list(chains(vehicle)) == ["Left front linkage", "Right trim linkage"]
    assert chains(Vehicle()) == {}
    vehicle = replaced(Vehicle(), ("rear", "stabiliser", "linkage"), WishboneDropLink())
    assert list(chains(vehicle)) == ["Rear stabiliser linkage"]


def test_every_place_leads_to_its_bar_and_its_wheel() -> None:
    plain = chain_places(Vehicle())
    assert [place.bar for place in plain] == [
        *("Interconnection, front end", "Interconnection, rear end", "Trim spring"),
        *("Front stabiliser bar", "Rear stabiliser bar"),
    ]
    car = replaced(Vehicle(), ("right",), Side(trim=TrimSpring(axle="front")))
    places = chain_places(car)
    assert len(places) == 8
    elements = {element.name: element for element in force_elements(EVERYTHING)}
    for place in places:
        with_chain = replaced(car, place.path, DirectLever())
        assert chains(with_chain) == {place.name: DirectLever()}
        assert place.element in elements
    assert next(place.wheel for place in places if place.bar == "Right trim spring") == 1


def test_figures_of_a_direct_lever_by_hand() -> None:
    """0.36 m of level lever: 1/0.36 rad/m, ±asin(0.12/0.36) at ±120 mm, no slope at design trim."""
    figures = {figure.key: figure.value for figure in chain_figures(DirectLever())}
    assert figures["lever_ratio"] == pytest.approx(1 / 0.36, rel=1e-12)
    assert figures["rate_per_torque"] == pytest.approx(0.0, abs=1e-9)
    assert degrees(figures["bar_angle_jounce"]) == pytest.approx(19.4712, abs=1e-4)
    assert figures["bar_angle_rebound"] == pytest.approx(-figures["bar_angle_jounce"], rel=1e-12)
    assert figures["swing_0"] == pytest.approx(2 * figures["bar_angle_jounce"], rel=1e-12)
    assert figures["lever_ratio_jounce"] == pytest.approx(1 / (0.36**2 - 0.12**2) ** 0.5, rel=1e-12)
    assert figures["margin_0"] == pytest.approx(1 - 0.12 / 0.36, rel=1e-12)


@pytest.mark.parametrize("kind", LINKAGES)
def test_every_figure_can_be_shown(kind: type[Chain]) -> None:
    figures = chain_figures(kind())
    assert len({figure.key for figure in figures}) == len(figures)
    for figure in figures:
        for units in (METRIC, INCH_POUND):
            assert factor(units[figure.kind], KINDS[figure.kind].si) > 0


def test_links_and_their_angles_have_figures() -> None:
    figures = {figure.key: figure for figure in chain_figures(WishboneDropLink())}
    assert figures["link_force_0"].label == "Largest force of the drop link"
    # At design trim the link of the usual chain stands upright on a lever of 0.22 m; it pushes.
    assert figures["link_force_0"].value == pytest.approx(1 / 0.22, rel=0.1)
    assert figures["link_force_0"].value > 1 / 0.22
    assert 60 < degrees(figures["transmission_1"].value) < 90
