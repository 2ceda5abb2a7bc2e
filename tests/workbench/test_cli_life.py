"""Lives on the command line: table, JSON, and what a project without roads or steel is told."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from models.cautions import HARDWARE_CAUTIONS
from models.fields import replaced
from models.figure_text import distance_text
from models.hardware import Hardware
from models.hardware.fatigue import NOT_COVERED
from models.judge.road_loads import road_loads
from models.judge.steel_life import fatigue_parts, steel_lives
from models.project import Project, load, save
from models.roads import HalfSine, RoadShare
from workbench import cli

SALOON = load(Path(__file__).parents[2] / "sample_projects" / "large_saloon.corduroy")
SOFT = "separate, just as soft"
AT = SALOON.names.index(SOFT)
KERB = RoadShare(name="kerb", share=1.0, speed=12.0, event=HalfSine(height=0.05, length=1.0, side="left"))
SHORT: Project = replaced(SALOON, ("road_mix",), (KERB,))

Life = Callable[..., tuple[int, str, str]]


@pytest.fixture
def life(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Life:
    def run(project: Project, *arguments: str) -> tuple[int, str, str]:
        save(project, tmp_path / "car.corduroy")
        code = cli.main(["life", str(tmp_path / "car.corduroy"), *arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return run


def test_a_line_for_each_part_and_side(life: Life) -> None:
    code, out, err = life(SHORT, "--variant", SOFT)
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[:3] == [SHORT.name, "Over the road mix: kerb; load: as designed", ""]
    variant = SHORT.variant(SOFT)
    parts = fatigue_parts(variant.vehicle, variant.hardware)
    loads = road_loads(variant.vehicle, SHORT.run, SHORT.load, SHORT.road_mix)
    lives = steel_lives(loads, variant.vehicle, variant.hardware)
    rows = lines[8 : 8 + len(parts)]
    for row, part, found in zip(rows, parts, lives, strict=True):
        assert row.startswith(part.name)
        assert distance_text(found.distance, "km") in row
        assert "kerb" in row
    assert all(sentence in out for sentence in (*NOT_COVERED, *HARDWARE_CAUTIONS))


def test_json_has_figures_and_roads(life: Life) -> None:
    code, out, _ = life(SHORT, "--json", "--variant", SOFT, "--units", "inch-pound")
    assert code == 0
    content = json.loads(out)
    assert content["road_mix"] == ["kerb"]
    found = content["variants"][SOFT]
    assert found["target"] == {"distance": pytest.approx(300e3 / 1.609344), "unit": "mi", "reliability": 0.99}
    part = found["parts"][0]
    assert (part["place"], part["side"], part["label"]) == ("front_spring", "left", "Front springs, left")
    assert part["figures"]["steel_peak"]["unit"] == "ksi"
    assert part["roads"] == [{"name": "kerb", "distance_share": 1.0, "damage_share": pytest.approx(1.0)}]
    assert content["not_covered"] == list(NOT_COVERED)


def test_what_misses_its_target_is_marked(life: Life) -> None:
    weak = replaced(
        SHORT, ("variants", AT, "hardware", "front_spring", "material", "fatigue", "amplitude"), 20e6
    )
    _, out, _ = life(weak, "--variant", SOFT)
    lines = [line for line in out.splitlines() if line.startswith(("Front springs", "Front stabiliser"))]
    assert ["! " in line for line in lines] == [True, True, False]


def test_without_roads_or_steel(life: Life) -> None:
    code, out, err = life(replaced(SALOON, ("road_mix",), ()))
    assert (code, out) == (2, "")
    assert "road mix" in err
    bare = replaced(SHORT, ("variants", AT, "hardware"), Hardware())
    code, out, _ = life(bare, "--variant", SOFT)
    assert code == 0
    assert "No part in steel that is described carries load in this car." in out


def test_a_car_that_does_not_stand_leaves_the_others_their_lives(life: Life) -> None:
    fallen: Project = SHORT
    for axle in ("front", "rear"):
        path = ("variants", AT, "vehicle", axle)
        fallen = replaced(fallen, (*path, "spring", "rate"), 0.0)
        for stop in ("bump_stop", "rebound_stop"):
            for law in ("rate", "growth"):
                fallen = replaced(fallen, (*path, stop, law), 0.0)
    other = next(name for name in SALOON.names if name != SOFT)
    reason = f"the car does not stand in '{fallen.load.name}'"
    code, out, _ = life(fallen, "--variant", SOFT, "--variant", other)
    assert code == 0
    assert f"Not driven: {reason}." in out
    assert out.count("Life 99 %") == 1  # the head of the one table
    code, out, _ = life(fallen, "--json", "--variant", SOFT, "--variant", other)
    variants = json.loads(out)["variants"]
    assert variants[SOFT]["not_driven"] == reason
    assert variants[SOFT]["parts"] == []
    assert variants[other]["parts"]
    assert "not_driven" not in variants[other]
