"""What many variants have in common with one: ranges, rules between fields, and the element table."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import InputError
from models.fields import Path
from models.studies.batch_vehicle import allowed, is_plain, quantity, same_parts, stacked, varied
from models.vehicle import Vehicle
from tests.cars import EVERYTHING
from tests.same_figures import plain_paths

_PATHS = list(plain_paths(EVERYTHING))
#: Numbers with rules between them.
_BOUND: list[Path] = [
    ("wheelbase",),
    ("body", "cg_to_front_axle"),
    ("rear", "track"),
    ("rear", "wheels", "spring_spacing"),
]


@settings(max_examples=150)
@given(st.data())
def test_allowed_is_what_the_data_model_takes(data: st.DataObject) -> None:
    paths = data.draw(st.lists(st.sampled_from(_PATHS + 8 * _BOUND), min_size=1, max_size=5, unique=True))

    def reach(path: Path) -> tuple[float, float]:
        field = quantity(EVERYTHING, path)
        beyond = 0.05 * (field.high - field.low)
        return field.low - beyond, field.high + beyond

    values = np.array([[data.draw(st.floats(*reach(path))) for path in paths]])
    try:
        varied(EVERYTHING, paths, values[0])
    except InputError:
        assert not allowed(EVERYTHING, paths, values)[0]
    else:
        assert allowed(EVERYTHING, paths, values)[0]


def test_the_vehicle_itself_is_left_alone() -> None:
    before = EVERYTHING.model_dump()
    car = stacked(EVERYTHING, [("rear", "wheels", "mass")], np.array([[100.0], [110.0]]))
    assert np.array_equal(np.asarray(car.rear.wheels.mass), [100.0, 110.0])  # type: ignore[union-attr]
    assert EVERYTHING.model_dump() == before


def test_a_variant_with_the_same_values_is_the_same_car() -> None:
    assert varied(EVERYTHING, [], []) == EVERYTHING
    assert varied(Vehicle(), [("wheelbase",)], [3.1]) == Vehicle(wheelbase=3.1)


def test_rows_with_the_same_parts() -> None:
    values = np.array([[1.0, 0.0], [2.0, 3.0], [5.0, 0.0], [0.0, 0.0]])
    groups = sorted(rows.tolist() for rows in same_parts(values))
    assert groups == [[0, 2], [1], [3]]
    assert list(same_parts(np.empty((0, 2)))) == []
    assert [rows.tolist() for rows in same_parts(np.empty((2, 0)))] == [[0, 1]]


def test_plain_numbers() -> None:
    assert is_plain(("front", "spring", "rate"))
    assert not is_plain(("front", "spring", "points", 0, "force"))
    assert not is_plain(("left", "trim", "linkage", "arm", "length"))
