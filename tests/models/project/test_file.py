"""The project file: text that reads back to the bit, and damage that is named."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.fields import follow, replaced
from models.hardware import (
    BarSpring,
    CoilSpring,
    Hardware,
    InterconnectionBar,
    LevellerMotor,
    Material,
    MultiLeafSpring,
    TorsionBar,
    TrimBar,
)
from models.linkage import DirectLever, TrailingArmBellCrank
from models.project import (
    Project,
    ProjectFileError,
    Variant,
    dumps,
    duplicate_variant,
    file,
    load,
    loads,
    new_project,
    rename_variant,
)
from models.project.checked_json import parse_json
from models.project.file import MOST_BYTES
from models.project.project import MOST_VARIANTS
from models.project.text import NAME_LENGTH, NOTE_LENGTH
from models.roads import MeasuredRoad, RandomRoad, RoadShare
from models.roads.mix import MOST_SHARES
from models.roads.samples import MOST_POINTS
from models.study.kinds import MOST_STUDIES
from models.target import MOST_TARGETS, Target
from models.vehicle import Packaging, SolidAxle, Vehicle
from tests.study_cases import widest_study


@pytest.fixture
def project() -> Project:
    vehicle = replaced(Vehicle(), ("rear", "wheels"), SolidAxle())
    vehicle = replaced(vehicle, ("right",), vehicle.left)
    variants = (Variant(name="weich – größer", vehicle=vehicle), Variant(name="steel"))
    run = replaced(new_project().run, ("event",), RandomRoad(seed=7))
    return Project(name="Probe", variants=variants, baseline="steel", candidate=variants[0].name, run=run)


def changed(project: Project, path: tuple[str | int, ...], value: Any) -> str:
    """Text of the project's file with one value exchanged, or taken out where it is ``...``."""
    content = json.loads(dumps(project))
    above = content
    for step in path[:-1]:
        above = above[step]
    if value is ...:
        del above[path[-1]]
    else:
        above[path[-1]] = value
    return json.dumps(content)


def problems(text: str) -> dict[str, str]:
    with pytest.raises(ProjectFileError) as caught:
        loads(text)
    return {problem.field: problem.reason for problem in caught.value.problems}


CAR = ("variants", 0, "vehicle")
WORDS = ("variants", "1", "vehicle", "left", "coupling", "rear linkage")


def test_text_reads_back_equal_and_is_written_equal(project: Project) -> None:
    assert loads(dumps(project)) == project
    assert dumps(loads(dumps(project))) == dumps(project)


def test_text_states_units_and_names_as_typed(project: Project) -> None:
    text = dumps(project)
    assert '"rate": "26 N/mm"' in text
    assert '"speed": "80 km/h"' in text
    assert "weich – größer" in text


@given(
    rate=st.floats(0.0, 2e6),
    mass=st.floats(10.0, 50e3),
    speed=st.floats(0.5, 120.0),
    roughness=st.floats(1e-7, 1e-3),
)
@settings(max_examples=60, deadline=None)
def test_every_number_reads_back_to_the_bit(rate: float, mass: float, speed: float, roughness: float) -> None:
    project = new_project()
    for path, value in (
        ((*CAR, "front", "spring", "rate"), rate),
        ((*CAR, "body", "mass"), mass),
        (("run", "speed"), speed),
        (("run", "surface", "roughness"), roughness),
    ):
        project = replaced(project, path, value)
    back = loads(dumps(project))
    assert back == project
    assert math.copysign(1.0, follow(back, (*CAR, "front", "spring", "rate"))) == 1.0


def test_numbers_may_be_written_in_any_unit_of_their_kind(project: Project) -> None:
    text = changed(project, (*CAR, "front", "spring", "rate"), "148.5 lbf/in")
    rate = follow(loads(text), (*CAR, "front", "spring", "rate"))
    # 1 lbf/in = 4.4482216152605 N / 0.0254 m, exact by definition of pound-force and inch
    assert rate == pytest.approx(148.5 * 4.4482216152605 / 0.0254, rel=1e-14)


def test_byte_order_mark_and_foreign_line_ends_are_read(project: Project, tmp_path: Path) -> None:
    path = tmp_path / "foreign.corduroy"
    path.write_bytes(b"\xef\xbb\xbf" + dumps(project).replace("\n", "\r\n").encode())
    assert load(path) == project


def test_damage_is_found_by_line_and_column(project: Project) -> None:
    text = dumps(project).replace('"note": "",', '"note" "",', 1)
    assert problems(text) == {"": "the file is damaged at line 5, column 10: Expecting ':' delimiter"}


@pytest.mark.parametrize("part", [1, 100, -2])
def test_a_cut_file_is_damaged(project: Project, part: int) -> None:
    (reason,) = problems(dumps(project)[:part]).values()
    assert reason.startswith("the file is damaged at line")


@pytest.mark.parametrize(
    ("text", "field", "reason"),
    [
        ("[]", "format", "this is no project file"),
        ("null", "format", "this is no project file"),
        ('{"format": "corduroy figures"}', "format", "this is no project file"),
        ('{"format": "a", "format": "b"}', "format", "stands twice"),
        ('{"x": {"rate": 1, "rate": 2}}', "rate", "stands twice"),
        ('{"x": NaN}', "", "NaN stands for a number, but only finite numbers"),
        ('{"x": -Infinity}', "", "-Infinity stands for a number, but only finite numbers"),
        ('{"x": 1' + "0" * 5000 + "}", "", "thousands of digits"),
        ("[" * 100_000, "", "nested too deeply"),
        ('{"a":' * 100_000, "", "nested too deeply"),
    ],
)
def test_text_that_is_no_project(text: str, field: str, reason: str) -> None:
    found = problems(text)
    assert list(found) == [field]
    assert reason in found[field]


@pytest.mark.parametrize("version", [0, 2, 99, -1, 1.0, True, "1", None, [1]])
def test_unknown_version_is_named_beside_the_one_that_is_read(project: Project, version: object) -> None:
    (reason,) = problems(changed(project, ("version",), version)).values()
    assert reason == f"the file has version {version}; this program reads version 1"


def test_a_file_that_version_1_wrote_opens() -> None:
    """The file stays as it is for good; a later version has to open it and find the same car in it."""
    project = load(Path(__file__).parent / "version_1.corduroy")
    assert project.names == ("hatchback", "sports saloon")
    assert (project.baseline, project.candidate) == ("sports saloon", "hatchback")
    assert project.run.speed == 50 / 3.6
    assert project.run.event == RandomRoad(seed=11)
    car = project.variant("hatchback").vehicle
    assert car.rear.wheels == SolidAxle(mass=80.0, roll_inertia=20.0, spring_spacing=1.1)
    assert car.left.coupling.bar_rate == 650.0
    assert car.right is not None
    assert car.right.trim.bar_rate == 300.0


def test_older_versions_are_brought_up_step_by_step(
    project: Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = json.loads(dumps(project))
    old["titel"] = old.pop("name")

    def first(content: dict[str, Any]) -> dict[str, Any]:
        return {"title" if name == "titel" else name: value for name, value in content.items()}

    def second(content: dict[str, Any]) -> dict[str, Any]:
        return {"name" if name == "title" else name: value for name, value in content.items()}

    monkeypatch.setattr(file, "FORMAT_VERSION", 3)
    monkeypatch.setattr(file, "_MIGRATIONS", {1: first, 2: second})
    assert loads(json.dumps(old)) == project
    assert problems(json.dumps({**old, "version": 4}))["version"].endswith("reads version 1 to 3")


@pytest.mark.parametrize(
    ("path", "value", "field", "words"),
    [
        (
            (*CAR, "front", "spring", "rate"),
            "-1 N/mm",
            "variants > 1 > vehicle > front > spring > rate",
            "Spring rate: -1 N/mm is outside the allowed range (0 to 2000 N/mm)",
        ),
        (
            (*CAR, "front", "spring", "rate"),
            "26",
            "variants > 1 > vehicle > front > spring > rate",
            "Spring rate: '26' has no unit; write for example '26 N/m' (0 to 2000 N/mm)",
        ),
        (
            (*CAR, "body", "mass"),
            "3 m",
            "variants > 1 > vehicle > body > mass",
            "Sprung mass: 'm' does not measure the same as 'kg' (10 to 50000 kg)",
        ),
        (
            (*CAR, "body", "mass"),
            10**400,
            "variants > 1 > vehicle > body > mass",
            "is outside the allowed range (10 to 50000 kg)",
        ),
        (
            (*CAR, "body", "mass"),
            [1700],
            "variants > 1 > vehicle > body > mass",
            "'[1700]' is not a number with a unit (10 to 50000 kg)",
        ),
        (
            (*CAR, "rear", "wheels", "mass"),
            True,
            "variants > 1 > vehicle > rear > wheels > mass",
            "'True' is not a number with a unit (0.2 to 6000 kg)",
        ),
        (
            ("run", "event", "seed"),
            -1,
            "run > event > seed",
            "outside the allowed range (at least 0)",
        ),
        (("run", "event", "kind"), "hill", "run > event", "'hill'"),
        (
            ("run", "model"),
            "eighth car",
            "run > model",
            "'full car', 'half car', 'half car in roll', 'quarter car front' or 'quarter car rear'",
        ),
        (("variants",), {}, "variants", "a list is expected here"),
        ((*CAR, "front"), 5, "variants > 1 > vehicle > front", "a group of fields is expected here"),
        (("candidate",), "ghost", "candidate", "'ghost' is no variant of the project"),
        ((*CAR, "colour"), "red", "variants > 1 > vehicle > colour", "no field of this name is known here"),
        (("name",), ..., "name", "the field is missing"),
        ((*CAR, "front", "track"), ..., "variants > 1 > vehicle > front > track", "the field is missing"),
        (
            (*CAR, "rear", "wheels", "mass"),
            ...,
            "variants > 1 > vehicle > rear > wheels > mass",
            "the field is missing",
        ),
        ((*CAR, "right", "trim"), ..., "variants > 1 > vehicle > right > trim", "the field is missing"),
        (("run", "event", "seed"), ..., "run > event > seed", "the field is missing"),
    ],
)
def test_wrong_fields_are_named(
    project: Project, path: tuple[str | int, ...], value: object, field: str, words: str
) -> None:
    found = problems(changed(project, path, value))
    assert list(found) == [field]
    assert words in found[field]


def test_all_wrong_fields_are_listed(project: Project) -> None:
    content = json.loads(dumps(project))
    car = content["variants"][0]["vehicle"]
    car["body"]["mass"] = "1 g"
    car["front"]["spring"]["rate"] = "lots"
    car["rear"]["sprung"] = 1
    del car["seat"]["x"]
    content["run"]["speed"] = "900 km/h"
    assert set(problems(json.dumps(content))) == {
        "variants > 1 > vehicle > body > mass",
        "variants > 1 > vehicle > front > spring > rate",
        "variants > 1 > vehicle > rear > sprung",
        "variants > 1 > vehicle > seat > x",
        "run > speed",
    }


def test_a_long_list_of_wrong_fields_ends_with_a_count(project: Project) -> None:
    content = json.loads(dumps(project))
    content |= {f"field {number}": 1 for number in range(80)}
    with pytest.raises(ProjectFileError) as caught:
        loads(json.dumps(content))
    assert str(caught.value).splitlines()[-1] == "and 30 more"


def test_load_names_the_file_and_the_field(project: Project, tmp_path: Path) -> None:
    path = tmp_path / "car.corduroy"
    path.write_text(changed(project, ("run", "speed"), "fast"), encoding="utf-8")
    with pytest.raises(
        ProjectFileError, match=r"^car\.corduroy > run > speed: Speed: 'fast' is not a number"
    ):
        load(path)


@pytest.mark.parametrize(
    ("name", "reason"),
    [("absent", "no such file or directory"), ("folder", "it is a folder"), ("nul\0", "null")],
)
def test_paths_that_cannot_be_read(tmp_path: Path, name: str, reason: str) -> None:
    (tmp_path / "folder").mkdir()
    with pytest.raises(ProjectFileError, match=f"the file cannot be read: .*{reason}"):
        load(tmp_path / name)


def test_bytes_that_are_no_text(tmp_path: Path) -> None:
    path = tmp_path / "latin.corduroy"
    path.write_bytes('{"name": "größer"}'.encode("latin-1"))
    with pytest.raises(ProjectFileError, match="byte 13 is no UTF-8 text"):
        load(path)


def test_a_file_of_any_size_is_not_read_whole(tmp_path: Path) -> None:
    path = tmp_path / "huge.corduroy"
    with path.open("wb") as opened:
        opened.truncate(10**12)  # a sparse file of a terabyte
    with pytest.raises(ProjectFileError, match="larger than the 30 MB allowed"):
        load(path)


def widest_hardware() -> Hardware:
    """Parts in every place, with the longest texts."""
    material = Material(name="\U0001f697" * 80, source="\U0001f697" * 400)
    bar = TorsionBar(material=material)
    return Hardware(
        front_spring=MultiLeafSpring(material=material),
        rear_spring=MultiLeafSpring(material=material),
        interconnection=InterconnectionBar(bar=bar),
        trim=TrimBar(bar=bar, motor=LevellerMotor()),
    )


def test_a_linkage_is_in_the_file_only_where_there_is_one(project: Project) -> None:
    """So that files from before there were any are read, and written as they are."""
    assert "linkage" not in dumps(project)
    chained = replaced(project, (*CAR, "left", "coupling", "rear_linkage"), TrailingArmBellCrank())
    chained = replaced(chained, (*CAR, "right", "trim", "linkage"), DirectLever(jounce=0.1))
    assert loads(dumps(chained)) == chained
    assert dumps(loads(dumps(chained))) == dumps(chained)
    at = (*CAR, "left", "coupling", "rear_linkage")
    missing = problems(changed(chained, (*at, "crank", "inlet", "y"), ...))
    assert missing == {f"{' > '.join(WORDS)} > crank > inlet > y": "the field is missing"}
    refused = problems(changed(chained, (*at, "jounce"), "500 mm"))
    assert "locks at" in refused[" > ".join((*WORDS, "trailing arm and bell crank"))]
    assert loads(changed(chained, at, None)).variants[0].vehicle.left.coupling.rear_linkage is None


def test_the_largest_project_that_is_allowed_can_be_opened_again(project: Project) -> None:
    vehicle = project.variants[0].vehicle
    for path in (("coupling", "front_linkage"), ("coupling", "rear_linkage"), ("trim", "linkage")):
        for side in ("left", "right"):
            vehicle = replaced(vehicle, (side, *path), TrailingArmBellCrank())
    for axle in ("front", "rear"):
        vehicle = replaced(vehicle, (axle, "stabiliser", "linkage"), TrailingArmBellCrank())

    def widest(number: int) -> Variant:
        name = f"{number:03}".ljust(NAME_LENGTH, "\U0001f697")
        return Variant(
            name=name,
            note="\U0001f697" * NOTE_LENGTH,
            vehicle=vehicle,
            hardware=widest_hardware(),
        )

    heights = " ".join(["-99999.999"] * MOST_POINTS)
    road = MeasuredRoad(left=heights, right=heights)
    largest = replaced(new_project(widest(0)), ("variants",), tuple(map(widest, range(MOST_VARIANTS))))
    largest = replaced(largest, ("run", "event"), road)
    largest = replaced(largest, ("road_mix",), (RoadShare(event=road),) * MOST_SHARES)
    widest_target = {
        "kind": "motion sickness dose",
        "low": 0.1 / 3,
        "high": 1 / 3,
        "load_case": "\U0001f697" * 80,
    }
    targets = tuple(Target(metric=f"{n:080}", **widest_target) for n in range(MOST_TARGETS))
    largest = replaced(largest, ("targets",), targets)
    largest = replaced(largest, ("studies",), tuple(map(widest_study, range(MOST_STUDIES))))
    text = dumps(largest)
    assert len(text.encode()) < MOST_BYTES
    assert parse_json(text)["name"] == largest.name


def test_steel_of_a_variant_is_kept(project: Project) -> None:
    hardware = Hardware(
        front_spring=CoilSpring(),
        rear_spring=BarSpring(),
        interconnection=InterconnectionBar(),
        trim=TrimBar(motor=LevellerMotor()),
    )
    fitted = replaced(project, ("variants", 0, "hardware"), hardware)
    assert loads(dumps(fitted)) == fitted
    renamed = rename_variant(fitted, project.names[0], "other")
    assert renamed.variants[0].hardware == hardware
    assert duplicate_variant(fitted, project.names[0]).variants[1].hardware == hardware
    # What is there is checked like all else.
    found = problems(changed(fitted, ("variants", 0, "hardware", "front_spring", "wire_diameter"), ...))
    assert found == {"variants > 1 > hardware > front spring > wire diameter": "the field is missing"}
    found = problems(changed(fitted, ("variants", 0, "hardware", "trim", "bar", "bore"), "30 mm"))
    assert "less than the bar diameter" in "".join(found.values())


def test_a_file_from_before_the_steel_has_none(project: Project) -> None:
    """It changes no result, so that a file without it may stay as it is."""
    assert loads(changed(project, ("variants", 0, "hardware"), ...)) == project


TEXT = dumps(new_project())


def _leaves(content: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    inner = content.items() if isinstance(content, dict) else enumerate(content)
    leaves = [path] if path else []
    for step, value in inner if isinstance(content, (dict, list)) else ():
        leaves += _leaves(value, (*path, step)) if isinstance(value, (dict, list)) else [(*path, step)]
    return leaves


LEAVES = _leaves(json.loads(TEXT))
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=6,
)


def _refusal(read: Callable[[], Project]) -> str | None:
    """Words of the refusal, or None where the project was read; anything else raised is a fault."""
    try:
        project = read()
    except ProjectFileError as error:
        return str(error)
    assert loads(dumps(project)) == project
    return None


@given(path=st.sampled_from(LEAVES), value=JSON)
@settings(max_examples=150, deadline=None)
def test_any_value_at_any_place_loads_or_is_refused(path: tuple[str | int, ...], value: object) -> None:
    assert _refusal(lambda: loads(changed(new_project(), path, value))) != ""


@given(
    start=st.integers(0, len(TEXT)),
    length=st.integers(0, 40),
    patch=st.text(max_size=8) | st.sampled_from(['"', "{", "}", "[", ",", "1e999", "9" * 40, " N/mm"]),
)
@settings(max_examples=200, deadline=None)
def test_any_patched_text_loads_or_is_refused(start: int, length: int, patch: str) -> None:
    assert _refusal(lambda: loads(TEXT[:start] + patch + TEXT[start + length :])) != ""


@given(noise=st.binary(max_size=60), start=st.integers(0, len(TEXT)))
@settings(max_examples=60, deadline=None)
def test_any_patched_bytes_load_or_are_refused(
    noise: bytes, start: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    data = TEXT.encode()
    path = tmp_path_factory.getbasetemp() / "noise.corduroy"
    path.write_bytes(data[:start] + noise + data[start:])
    refusal = _refusal(lambda: load(path))
    assert refusal is None or refusal.startswith("noise.corduroy")


@pytest.mark.parametrize(
    "value",
    ["__import__('os').abort() N/mm", "1 N/mm; import os", "1 m**99**99", "1 (lambda: 0)()", "1 os.abort"],
)
def test_a_file_runs_no_code(project: Project, value: str) -> None:
    (reason,) = problems(changed(project, (*CAR, "front", "spring", "rate"), value)).values()
    assert reason.startswith("Spring rate: '")


def test_a_file_from_before_the_packaging_has_the_usual_one(project: Project) -> None:
    """It changes no result of the ride, so that it may be missing; what is in it may not."""
    assert loads(changed(project, (*CAR, "packaging"), ...)).variants[0].vehicle.packaging == Packaging()
    found = problems(changed(project, (*CAR, "packaging", "points"), ...))
    assert list(found) == ["variants > 1 > vehicle > packaging > points"]
