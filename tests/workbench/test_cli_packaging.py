"""Packaging on the command line: checks, tolerance stack, JSON, and a car that does not stand."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from models.analysis import analyse
from models.fields import replaced
from models.judge.packaging import packaging
from models.judge.trim_tolerance import bar_diameters, trim_stack
from models.project import Project, load, save
from models.vehicle import AS_DESIGNED, Stop
from workbench import cli

SALOON = load(Path(__file__).parents[2] / "sample_projects" / "large_saloon.corduroy")
JOINED = "joined torsion bars"
VEHICLE = ("variants", SALOON.names.index(JOINED), "vehicle")

Printed = Callable[..., str]


@pytest.fixture
def printed(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Printed:
    def run(project: Project, *arguments: str) -> str:
        save(project, tmp_path / "car.corduroy")
        code = cli.main(["packaging", str(tmp_path / "car.corduroy"), "--variant", JOINED, *arguments])
        out, err = capsys.readouterr()
        assert (code, err) == (0, "")
        return out

    return run


def test_a_line_for_each_check_and_tolerance(printed: Printed) -> None:
    out = printed(SALOON)
    variant = SALOON.variant(JOINED)
    report = packaging(
        analyse(variant.vehicle, SALOON.run, SALOON.load),
        (AS_DESIGNED, *SALOON.load_cases),
        variant.hardware,
    )
    lines = out.splitlines()
    head = next(number for number, line in enumerate(lines) if line.startswith("Check"))
    rows = lines[head + 2 : head + 2 + len(report.checks)]
    for row, check in zip(rows, report.checks, strict=True):
        assert row.startswith(check.figure.label)
        assert check.place in row
        assert ("! " in row) == (check.met is False)
    missed = [row for row in rows if "! " in row]
    assert any("full boot" in row and "82.3" in row and "! −7.32" in row for row in missed)
    assert "2 of " in out
    assert "Tolerance stack at trim, load: as designed" in out
    (clocking,) = (line for line in lines if line.startswith("Bar clocking"))
    assert "± 0.500 deg" in clocking
    assert "95 % confidence" in out
    assert "Left out:" in out


def test_json_holds_what_the_models_compute(printed: Printed) -> None:
    content = json.loads(printed(SALOON, "--json", "--units", "inch-pound"))
    assert content["load_cases"] == ["as designed", *(case.name for case in SALOON.load_cases)]
    found = content["variants"][JOINED]
    (jounce,) = (
        check
        for check in found["checks"]
        if (check["key"], check["load_case"]) == ("travel_jounce_rear", "full boot")
    )
    assert (jounce["unit"], jounce["met"], jounce["place"]) == ("in", False, "RL")
    assert jounce["margin"] == pytest.approx((0.075 - jounce["si_value"]) / 0.0254)
    variant = SALOON.variant(JOINED)
    stack = trim_stack(
        variant.vehicle,
        variant.hardware.trim_tolerances,
        SALOON.load,
        diameters=bar_diameters(variant.hardware),
    )
    told = found["tolerance_stack"]
    assert told["within"] == stack.within
    assert told["within_95_percent_confidence"] == pytest.approx(stack.within_limits())
    change = told["rows"]["rss"]["change"]["stack_rss_pitch"]
    assert change["si_value"] == pytest.approx(stack.rss[6])


def test_a_car_that_does_not_stand_is_told_why(printed: Printed) -> None:
    soft = replaced(SALOON, (*VEHICLE, "left", "coupling", "bar_rate"), 0.0)
    soft = replaced(soft, (*VEHICLE, "front", "bump_stop"), Stop())
    soft = replaced(soft, (*VEHICLE, "front", "spring", "rate"), 0.0)
    out = printed(soft)
    assert "The car stands in none of the load cases; as designed, nothing holds the body" in out
    assert "The car does not stand, nothing holds the body" in out
    told = json.loads(printed(soft, "--json"))["variants"][JOINED]
    assert told["does_not_stand"]["as designed"].startswith("nothing holds the body")
    assert told["tolerance_stack"]["within"] is None
