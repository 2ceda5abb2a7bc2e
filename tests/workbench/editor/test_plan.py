"""Rows are read off the fields of a part."""

from __future__ import annotations

from typing import Annotated

import pytest

from models.fields import Label, Part, replaced
from models.run import Run
from models.vehicle import LoadCase, Side, TabulatedSpring, Vehicle
from workbench.editor.plan import Choice, Group, Kinds, Maybe, Number, Table, WholeNumber, plan, prominent


def _shapes(part_type: type[Part]) -> dict[str, object]:
    return {field.name: field.shape for field in plan(part_type)}


def test_plain_fields_come_before_those_with_rows_of_their_own() -> None:
    names = [field.name for field in plan(Run)]
    assert names[:4] == ["speed", "duration", "laws", "model"]
    assert set(names[4:]) >= {"event", "surface", "manoeuvre"}


def test_shapes_of_the_vehicle() -> None:
    shapes = _shapes(Vehicle)
    assert isinstance(shapes["wheelbase"], Number)
    assert shapes["right"] == Maybe((Side,))
    assert shapes["left"] == Group(Side)


def test_kinds_of_road_events() -> None:
    shape = _shapes(Run)["event"]
    assert isinstance(shape, Kinds)
    kinds = {part_type.model_fields["kind"].default: part_type for part_type in shape.types}
    assert {"step", "ramp", "random road"} <= kinds.keys()
    assert _shapes(kinds["random road"]) == {"seed": WholeNumber()}
    assert isinstance(_shapes(kinds["step"])["side"], Choice)


def test_lists_of_plain_parts_are_tables() -> None:
    table = _shapes(TabulatedSpring)["points"]
    assert isinstance(table, Table)
    assert [field.label for field in table.columns] == ["Deflection", "Force"]
    loads = _shapes(LoadCase)["loads"]
    assert isinstance(loads, Table)
    assert [field.name for field in loads.columns] == ["name", "mass", "x", "y", "z"]


def test_a_list_of_parts_with_parts_in_them_is_no_table() -> None:
    class Cases(Part):
        cases: Annotated[tuple[LoadCase, ...], Label("Cases", "Many.")] = ()

    with pytest.raises(TypeError, match="Cases"):
        plan(Cases)


def test_a_field_without_a_row_is_a_mistake_of_the_model() -> None:
    class Odd(Part):
        numbers: Annotated[tuple[int, ...], Label("Numbers", "Many.")] = ()

    with pytest.raises(TypeError, match="Numbers"):
        plan(Odd)


def test_prominent_quantities_are_named_by_their_place_where_needed() -> None:
    names = [field.label for _, field in prominent(Vehicle())]
    assert names == ["Front spring rate", "Rear spring rate", "Interconnection bar rate"]


def test_a_place_is_named_also_where_only_one_of_two_axles_has_the_quantity() -> None:
    vehicle = replaced(Vehicle(), ("front", "spring"), TabulatedSpring())
    assert [field.label for _, field in prominent(vehicle)] == [
        "Rear spring rate",
        "Interconnection bar rate",
    ]


def test_both_sides_are_at_hand_if_they_differ() -> None:
    names = [field.label for _, field in prominent(replaced(Vehicle(), ("right",), Side()))]
    assert names[2:] == ["Left interconnection bar rate", "Right interconnection bar rate"]
