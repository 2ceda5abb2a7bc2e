from __future__ import annotations

import types
from collections.abc import Iterator
from typing import Annotated, Any, Literal, Union, get_args, get_origin

import pytest
from pydantic import BaseModel

from models.errors import InputError
from models.fields import Label, Part, Quantity, described, follow, replaced
from models.run import Run
from models.units import KINDS, factor
from models.vehicle import SolidAxle, Vehicle


def _part_types(annotation: Any) -> Iterator[type[BaseModel]]:
    """Data models inside an annotation."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    elif get_origin(annotation) in (Annotated, Union, types.UnionType, tuple):
        for inner in get_args(annotation):
            yield from _part_types(inner)


def _all_part_types(*roots: type[BaseModel]) -> list[type[BaseModel]]:
    found: dict[type[BaseModel], None] = {}
    todo = list(roots)
    while todo:
        part_type = todo.pop()
        if part_type not in found:
            found[part_type] = None
            for _, _, annotation in described(part_type):
                todo += _part_types(annotation)
    return list(found)


PART_TYPES = _all_part_types(Vehicle, Run)
QUANTITIES = [
    (part_type, name, note)
    for part_type in PART_TYPES
    for name, note, _ in described(part_type)
    if isinstance(note, Quantity)
]


def _name(value: Any) -> str:
    return value.__name__ if isinstance(value, type) else value if isinstance(value, str) else ""


@pytest.mark.parametrize("part_type", PART_TYPES, ids=_name)
def test_every_field_is_described(part_type: type[BaseModel]) -> None:
    for name, note, annotation in described(part_type):
        if name == "kind" and get_origin(annotation) is Literal:
            continue  # tells apart the members of a choice; the field that holds the choice is described
        assert note is not None, name
        assert note.label
        assert note.meaning.endswith("."), note.meaning


@pytest.mark.parametrize(("part_type", "name", "note"), QUANTITIES, ids=_name)
def test_ranges_hold_the_typical_range_and_the_default(
    part_type: type[BaseModel], name: str, note: Quantity
) -> None:
    assert note.kind_name in KINDS
    assert note.low <= note.typical[0] < note.typical[1] <= note.high
    default = part_type.model_fields[name].default
    assert note.low <= default <= note.high
    assert note.validate(default) == default


@pytest.mark.parametrize(("part_type", "name", "note"), QUANTITIES, ids=_name)
@pytest.mark.parametrize("end", ["low", "high"])
def test_the_ends_of_a_range_are_allowed_and_what_is_beyond_is_refused(
    part_type: type[BaseModel], name: str, note: Quantity, end: str
) -> None:
    limit = getattr(note, end)
    beyond = limit + (1 if end == "high" else -1) * max(1.0, abs(limit))
    assert note.validate(limit) == limit
    with pytest.raises(InputError) as refusal:
        replaced(part_type(), (name,), beyond)
    (problem,) = refusal.value.problems
    unit = note.kind.usual
    assert problem.field == name.replace("_", " ")
    assert float(problem.value) == beyond
    assert note.label in problem.reason
    assert f"{beyond / factor(unit, note.kind.si):.6g}" in problem.reason
    assert note.range_text() in problem.reason
    if unit != "1":
        assert unit in problem.reason


@pytest.mark.parametrize("value", [float("nan"), float("inf"), True, None, [1.0], "", "soft", "12 kg", "12"])
def test_what_is_no_rate_is_refused(value: object) -> None:
    with pytest.raises(InputError, match=r"Spring rate.*0 to 2000 N/mm"):
        replaced(Vehicle(), ("front", "spring", "rate"), value)


def test_text_with_another_unit_is_converted() -> None:
    softer = replaced(Vehicle(), ("front", "spring", "rate"), "100 lbf/in")
    assert softer.front.spring.rate == pytest.approx(17512.68, abs=5e-3)  # 1 lbf/in = 175.12684 N/m
    assert softer.rear == Vehicle().rear


def test_a_refusal_names_the_whole_path() -> None:
    with pytest.raises(InputError) as refusal:
        replaced(Vehicle(), ("front", "spring", "rate"), -1.0)
    (problem,) = refusal.value.problems
    assert problem.field == "front > spring > rate"


def test_a_rule_between_fields_is_kept_on_every_edit() -> None:
    with pytest.raises(InputError, match="less than the wheelbase"):
        replaced(Vehicle(), ("wheelbase",), 1.2)
    with pytest.raises(InputError, match=r"Rear spring spacing.*track"):
        replaced(Vehicle(), ("rear", "wheels"), SolidAxle(spring_spacing=1.6))


def test_an_edit_leaves_the_original_alone() -> None:
    vehicle = Vehicle()
    edited = replaced(vehicle, ("left", "coupling", "sense"), "pitch stiffening")
    assert follow(edited, ("left", "coupling", "sense")) == "pitch stiffening"
    assert vehicle == Vehicle()
    assert edited != vehicle


def test_equal_values_make_equal_parts() -> None:
    path = ("body", "mass")
    heavier = replaced(Vehicle(), path, 1800.0)
    assert replaced(heavier, path, Vehicle().body.mass) == Vehicle()
    assert hash(replaced(heavier, path, "1.7 t")) == hash(Vehicle())
    zero = replaced(Vehicle(), ("seat", "y"), -0.0)
    assert zero.model_dump_json() == replaced(Vehicle(), ("seat", "y"), 0.0).model_dump_json()


def test_unknown_fields_are_refused() -> None:
    class Bare(Part):
        pass

    with pytest.raises(ValueError, match="Extra inputs"):
        Bare.model_validate({"colour": "blue"})


def test_the_text_of_a_vehicle_reads_back_to_the_bit() -> None:
    vehicle = replaced(Vehicle(), ("rear", "wheels"), SolidAxle(mass=1 / 3 * 100))
    assert Vehicle.model_validate_json(vehicle.model_dump_json()) == vehicle


def test_the_schema_tells_unit_range_and_meaning() -> None:
    field = Vehicle.model_json_schema()["properties"]["wheelbase"]
    assert field["title"] == "Wheelbase"
    assert "0.2 to 15 m" in field["description"]


def test_a_label_is_no_quantity() -> None:
    notes = {name: note for name, note, _ in described(Vehicle)}
    assert isinstance(notes["body"], Label)
    assert isinstance(notes["wheelbase"], Quantity)
