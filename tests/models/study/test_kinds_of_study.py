"""Definitions of studies: read from text with units, and what is refused."""

from __future__ import annotations

import pytest
from pydantic import TypeAdapter, ValidationError

from models.study import (
    GlobalSensitivity,
    Parameter,
    ParameterMap,
    ParetoSearch,
    ResultFile,
    Sensitivity,
    Study,
    Sweep,
    Tolerance,
    ToleranceDraw,
    TunedStart,
    path_of,
    place_of,
)

STUDY: TypeAdapter[Study] = TypeAdapter(Study)
FRONT = {"place": "front.spring.rate", "kind": "rate", "low": "20 N/mm", "high": "32 N/mm"}
REAR = {**FRONT, "place": "rear.spring.rate"}
WISH = {"metric": "front_ride_frequency", "kind": "frequency", "low": "1 Hz", "high": "1 Hz"}
OFF = {"place": "front.spring.rate", "kind": "share", "plus_minus": "5 %"}


@pytest.mark.parametrize(
    ("kind", "fields", "part"),
    [
        ("sweep", {"parameter": FRONT}, Sweep),
        ("map", {"x": FRONT, "y": REAR}, ParameterMap),
        ("sensitivity", {"places": ["body.mass"], "step": "2 %"}, Sensitivity),
        ("tolerances", {"tolerances": [OFF]}, ToleranceDraw),
        (
            "pareto",
            {"parameters": [FRONT, REAR], "objectives": [{"metric": "a"}, {"metric": "b", "aim": "higher"}]},
            ParetoSearch,
        ),
        ("tuned start", {"parameters": [FRONT], "wishes": [WISH]}, TunedStart),
        ("global sensitivity", {"parameters": [FRONT, REAR], "samples": 64}, GlobalSensitivity),
    ],
)
def test_every_kind_reads_back_what_it_writes(kind: str, fields: dict[str, object], part: type) -> None:
    study = STUDY.validate_python({"kind": kind, "name": "Study", **fields})
    assert isinstance(study, part)
    assert STUDY.validate_python(study.model_dump(mode="json")) == study


def test_numbers_are_in_si_and_texts_in_the_usual_unit() -> None:
    parameter = Parameter.model_validate(FRONT)
    assert (parameter.low, parameter.high) == (20e3, 32e3)
    assert parameter.model_dump(mode="json") == FRONT
    assert parameter.path == ("front", "spring", "rate")
    assert Tolerance.model_validate(OFF).plus_minus == pytest.approx(0.05)
    assert path_of("rear.damper.points.2.force") == ("rear", "damper", "points", 2, "force")
    assert place_of(("rear", "damper", "points", 2, "force")) == "rear.damper.points.2.force"


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"parameter": {**FRONT, "low": "40 N/mm"}}, "less than the value to which it goes, 32"),
        ({"parameter": {**FRONT, "low": "32 N/mm"}}, "less than the value to which it goes"),
        ({"parameter": {**FRONT, "low": "20"}}, "has no unit"),
        ({"parameter": {**FRONT, "low": "20 kg"}}, "does not measure the same"),
        ({"parameter": {**FRONT, "kind": "colour"}}, "is no kind of quantity"),
        ({"parameter": {**FRONT, "place": "front..rate"}}, "place"),
        ({"parameter": {**FRONT, "place": "__class__"}, "points": 1}, "points"),
        ({"parameter": {**FRONT, "low": "0 N/mm"}, "spacing": "even ratio"}, "need values above 0"),
        ({"parameter": FRONT, "situations": []}, "situations"),
        ({"parameter": FRONT, "situations": [{"speed": "900 km/h"}]}, "Speed"),
        ({"parameter": FRONT, "metrics": ["a b"]}, "metrics"),
        ({"parameter": FRONT, "colour": 1}, "colour"),
        (
            {"parameter": FRONT, "result": {"file": "../x.npz", "checksum": "0" * 64, "inputs": "0" * 64}},
            "file",
        ),
        ({"kind": "map", "x": FRONT, "y": FRONT}, "goes across the map already"),
        ({"kind": "global sensitivity", "parameters": [FRONT], "samples": 100}, "a power of two"),
        ({"kind": "global sensitivity", "parameters": [FRONT, FRONT]}, "varied more than once"),
        ({"kind": "tolerances", "tolerances": [OFF, OFF]}, "varied more than once"),
        ({"kind": "tolerances", "tolerances": [{**OFF, "plus_minus": "-1 %"}]}, "0 and more"),
        ({"kind": "sensitivity", "places": ["body.mass", "body.mass"]}, "varied more than once"),
        ({"kind": "sensitivity", "places": ["body.mass"], "step": "90 %"}, "Step"),
        ({"kind": "pareto", "parameters": [FRONT], "objectives": [{"metric": "a"}]}, "objectives"),
        ({"kind": "tuned start", "parameters": [FRONT], "wishes": []}, "wishes"),
        ({"kind": "tuned start", "parameters": [FRONT], "wishes": [{**WISH, "low": "1"}]}, "has no unit"),
        ({"kind": "guess"}, "guess"),
    ],
)
def test_what_is_refused(fields: dict[str, object], words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        STUDY.validate_python({"kind": "sweep", **fields})


def test_a_result_file_is_a_plain_name_beside_the_project() -> None:
    seal = {"checksum": "0" * 64, "inputs": "f" * 64}
    assert ResultFile(file="sweep-0a1b.npz", **seal).file == "sweep-0a1b.npz"
    for name in ("/etc/x.npz", "a/b.npz", "..npz", "a.txt", "a\\b.npz", ".npz"):
        with pytest.raises(ValidationError):
            ResultFile(file=name, **seal)
