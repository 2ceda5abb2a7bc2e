"""One part of the car told in another way: the same inertia, the same mass."""

from __future__ import annotations

from typing import Literal

import pytest

from models.errors import InputError
from models.vehicle import (
    IndependentWheels,
    InertiaFromDynamicIndex,
    InertiaFromGyration,
    MeasuredInertia,
    SolidAxle,
    moment_of_inertia,
)
from models.vehicle.axle import converted_wheels
from models.vehicle.inertia import converted

Kind = Literal["measured", "radius of gyration", "dynamic index"]
MASS, A, B = 1700.0, 1.3, 1.6


@pytest.mark.parametrize("kind", ["measured", "radius of gyration", "dynamic index"])
@pytest.mark.parametrize(
    "inertia",
    [
        MeasuredInertia(value=2900.0),
        InertiaFromGyration(radius=1.27),
        InertiaFromDynamicIndex(index=0.93),
    ],
)
def test_another_way_to_give_an_inertia_keeps_it(
    inertia: MeasuredInertia | InertiaFromGyration | InertiaFromDynamicIndex, kind: Kind
) -> None:
    other = converted(inertia, kind, MASS, A, B)
    assert other.kind == kind
    # Five operations of doubles, each good to 1.1e-16.
    assert moment_of_inertia(other, MASS, A, B) == pytest.approx(
        moment_of_inertia(inertia, MASS, A, B), rel=1e-15
    )


def test_dynamic_index_is_gyration_squared_over_a_b() -> None:
    index = converted(InertiaFromGyration(radius=1.2), "dynamic index", MASS, A, B)
    assert isinstance(index, InertiaFromDynamicIndex)
    assert index.index == pytest.approx(1.2**2 / (A * B), rel=1e-15)


def test_an_inertia_that_the_other_kind_cannot_tell_is_refused() -> None:
    with pytest.raises(InputError, match=r"Dynamic index: .* outside the allowed range \(0.05 to 5\)"):
        converted(MeasuredInertia(value=1e6), "dynamic index", MASS, A, B)


@pytest.mark.parametrize("track", [0.2, 1.5, 5.0])
@pytest.mark.parametrize("mass", [0.1, 45.0, 3000.0])
def test_a_solid_axle_weighs_what_its_wheels_weighed_and_back(mass: float, track: float) -> None:
    solid = converted_wheels(IndependentWheels(unsprung_mass=mass), "solid axle", track)
    assert isinstance(solid, SolidAxle)
    assert solid.mass == 2 * mass
    assert solid.spring_spacing <= track
    assert converted_wheels(solid, "independent", track) == IndependentWheels(unsprung_mass=mass)


def test_the_axle_of_the_usual_track_and_mass_has_the_usual_inertia() -> None:
    solid = converted_wheels(IndependentWheels(unsprung_mass=SolidAxle().mass / 2), "solid axle", 1.5)
    assert solid == SolidAxle()


def test_the_same_kind_is_left_as_it_is() -> None:
    wheels = SolidAxle(mass=150.0, roll_inertia=12.0)
    assert converted_wheels(wheels, "solid axle", 1.4) is wheels
    assert converted(MeasuredInertia(value=500.0), "measured", MASS, A, B) == MeasuredInertia(value=500.0)
