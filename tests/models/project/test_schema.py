"""The published schema takes what the program writes and refuses what it would refuse for its shape."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from models.project import Project, dumps, loads, new_project
from models.project.file import ProjectFileError
from models.project.schema import project_schema
from models.project.variant import Variant
from tests.cars import EVERYTHING
from tests.study_cases import SEARCH

SAMPLES = sorted((Path(__file__).parents[3] / "sample_projects").glob("*.corduroy"))

Content = dict[str, Any]


@pytest.fixture(scope="module")
def validator() -> jsonschema.Draft202012Validator:
    schema = project_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def everything() -> Content:
    project = new_project(Variant(name="all parts", vehicle=EVERYTHING))
    whole = Project.model_validate({**dict(project), "studies": (SEARCH,)})
    return json.loads(dumps(whole))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples_pass(validator: jsonschema.Draft202012Validator, path: Path) -> None:
    validator.validate(json.loads(path.read_text(encoding="utf-8")))


def test_a_car_with_all_parts_and_a_study_passes(validator: jsonschema.Draft202012Validator) -> None:
    validator.validate(everything())


def _car(content: Content) -> Content:
    return content["variants"][0]["vehicle"]


BREAKS: dict[str, Callable[[Content], object]] = {
    "field missing": lambda content: _car(content).pop("wheelbase"),
    "field unknown": lambda content: _car(content).update(wheels="4"),
    "text without unit": lambda content: _car(content).update(wheelbase="2.9"),
    "SI number out of range": lambda content: _car(content).update(wheelbase=99.0),
    "no such choice": lambda content: content["run"].update(laws="magic"),
    "no such kind": lambda content: _car(content)["front"]["spring"].update(kind="wooden"),
    "other format": lambda content: content.update(format="other project"),
    "later version": lambda content: content.update(version=2),
    "part in place of a number": lambda content: _car(content).update(wheelbase={}),
}


@pytest.mark.parametrize("how", BREAKS)
def test_what_the_program_refuses_for_its_shape_is_refused(
    validator: jsonschema.Draft202012Validator, how: str
) -> None:
    content = everything()
    BREAKS[how](content)
    assert not validator.is_valid(content)
    with pytest.raises(ProjectFileError):
        loads(json.dumps(content))


def test_older_files_without_later_fields_pass(validator: jsonschema.Draft202012Validator) -> None:
    content = everything()
    del content["variants"][0]["hardware"], content["studies"], _car(content)["packaging"]
    validator.validate(content)
    loads(json.dumps(content))


def test_fields_say_what_they_mean_in_which_unit() -> None:
    rate = project_schema()["$defs"]["Spring"]["properties"]["rate"]
    assert rate["title"] == "Spring rate"
    assert "Allowed: 0 to 2000 N/mm. SI unit: N/m." in rate["description"]
    assert (rate["minimum"], rate["maximum"]) == (0.0, 2e6)
