"""The parts in steel on the command line: tables, JSON, what differs and what is exceeded."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from models.cautions import HARDWARE_CAUTIONS
from models.fields import replaced
from models.judge.part_report import part_reports
from models.project import load, save
from workbench import cli

SALOON = Path(__file__).parents[2] / "sample_projects" / "large_saloon.corduroy"
JOINED = "joined torsion bars"


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert cli.main(["parts", *arguments]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return out


@pytest.fixture
def weak(tmp_path: Path) -> str:
    """A car with a softer interconnection bar than its steel, of a weaker steel."""
    project = load(SALOON)
    project = replaced(project, ("variants", 0, "vehicle", "left", "coupling", "bar_rate"), 1000.0)
    steel = ("variants", 0, "hardware", "interconnection", "bar", "material", "shear_limit_preset")
    path = tmp_path / "weak.corduroy"
    save(replaced(project, steel, 300e6), path)
    return str(path)


def test_table_tells_each_part_in_each_state(capsys: pytest.CaptureFixture[str]) -> None:
    out = run(capsys, str(SALOON), "--variant", JOINED)
    for line in ("Interconnection bars", "Clocking", "Motor", "Rear stabiliser bar"):
        assert f"\n{line}" in out
    assert "Rear springs" not in out
    heads = [line for line in out.splitlines() if "Torque, N·m" in line and "Wind-up, deg" in line]
    assert [head.split("  ")[0] for head in heads] == ["State"] * 2  # interconnection and trim bars
    report = part_reports(*_car(0))["interconnection"]
    stress = f"{report.states.rows[0].cells[2].value / 1e6:.0f}"
    (row,) = (line for line in out.splitlines() if line.startswith("design trim") and stress in line)
    assert row.split()[-2:] == [stress, "49.3"]
    assert out.count("The car has these values within 1 %.") == 5
    assert "!" not in out
    assert all(caution in out for caution in HARDWARE_CAUTIONS)


def test_what_differs_and_what_is_exceeded_is_told(capsys: pytest.CaptureFixture[str], weak: str) -> None:
    out = run(capsys, weak, "--variant", JOINED)
    assert "Differs from the car: Interconnection bar rate 1000 in the car, 1240 N·m/rad in steel" in out
    (safety,) = (line for line in out.splitlines() if line.startswith("Safety") and "!" in line)
    assert float(safety.split()[-1]) < 1
    entry = json.loads(run(capsys, weak, "--json"))["variants"][JOINED]["interconnection"]
    (change,) = entry["mismatch"]
    assert change["unit"] == "N·m/rad"
    assert change["difference"] == pytest.approx(0.24, abs=0.005)
    assert "Safety" in entry["exceeded"]


def test_json_holds_what_the_models_compute(capsys: pytest.CaptureFixture[str]) -> None:
    content = json.loads(run(capsys, str(SALOON), "--json"))
    assert content["load_cases"][1] == "four up"
    assert set(HARDWARE_CAUTIONS) < set(content["cautions"])
    for number, (_, found) in enumerate(content["variants"].items()):
        for place, report in part_reports(*_car(number)).items():
            if report.part is None:
                assert place not in found
                continue
            values = {key: figure["si_value"] for key, figure in found[place]["figures"].items()}
            for figure in report.figures:
                assert values[figure.key] == (None if figure.value == float("inf") else figure.value)
            assert list(found[place]["states"]) == [row.key for row in report.states.rows]


def test_units_may_be_inch_pound(capsys: pytest.CaptureFixture[str]) -> None:
    out = run(capsys, str(SALOON), "--units", "inch-pound")
    assert "Shear stress, ksi" in out


def test_a_car_without_steel_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    out = run(capsys, str(SALOON.with_name("small_hatchback.corduroy")))
    assert out.count("No part in steel is described.") == 2


def _car(number: int):  # type: ignore[no-untyped-def]
    project = load(SALOON)
    variant = project.variants[number]
    return variant.vehicle, variant.hardware, project.load_cases
