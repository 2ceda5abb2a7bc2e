"""Commands that print results: compare, time, spectrum; and values that are set by hand."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from models.analysis import analyse
from models.fields import replaced
from models.judge import key_figures
from models.judge.comparison import compare
from models.project import load, rename_variant, save
from models.ride.channels import channel_index
from models.units import factor
from workbench import cli

SALOON = str(Path(__file__).parents[2] / "sample_projects" / "large_saloon.corduroy")
JOINED, COILS = "joined torsion bars", "separate coil springs"

Command = Callable[..., tuple[int, str, str]]


@pytest.fixture
def corduroy(capsys: pytest.CaptureFixture[str]) -> Command:
    def run(*arguments: str) -> tuple[int, str, str]:
        code = cli.main(arguments)
        return code, *capsys.readouterr()

    return run


def rows_of(out: str) -> list[list[str]]:
    return list(csv.reader(line for line in out.splitlines() if not line.startswith("#")))


# -- time and spectrum -----------------------------------------------------------------------------------


def test_time_as_csv_holds_the_histories_in_the_units_asked_for(corduroy: Command) -> None:
    code, out, err = corduroy(
        "time", SALOON, "--variant", COILS, "--channel", "heave", "--channel", "tyre_load_FL",
        "--csv", "--units", "inch-pound",
    )  # fmt: skip
    assert (code, err) == (0, "")
    head, *rows = rows_of(out)
    assert head == ["Time (s)", f"Heave at CG, {COILS} (in)", f"Tyre load FL, {COILS} (lbf)"]
    project = load(SALOON)
    analysis = analyse(project.variant(COILS).vehicle, project.run)
    expected = [
        analysis.time.t,
        analysis.time.channel("heave") / 0.0254,
        analysis.tyre_load[0] / 4.4482216152605,
    ]
    # Nine digits are printed.
    np.testing.assert_allclose(np.array(rows, float).T, expected, rtol=1e-8, atol=1e-12)


def test_time_as_data_and_at_wider_steps(corduroy: Command) -> None:
    _, out, _ = corduroy(
        "time", SALOON, "--json", "--every", "20 ms", "--channel", "pitch", "--variant", COILS
    )
    found = json.loads(out)["variants"][COILS]
    project = load(SALOON)
    time = analyse(project.variant(COILS).vehicle, project.run).time
    each = round(0.02 / (time.t[1] - time.t[0]))
    assert each > 1
    assert found["laws"] == "nonlinear"
    assert found["time"]["values"] == pytest.approx(time.t[::each])
    pitch = found["channels"]["pitch"]
    assert (pitch["label"], pitch["unit"]) == ("Pitch angle", "deg")
    np.testing.assert_allclose(
        np.array(pitch["values"]) * pitch["si_per_unit"],
        time.channel("pitch")[::each],
        rtol=1e-12,
        atol=1e-15,
    )


def test_csv_has_no_cell_that_a_spreadsheet_would_run(corduroy: Command, tmp_path: Path) -> None:
    project = load(SALOON)
    renamed = rename_variant(replaced(project, ("name",), "=1+1"), project.candidate, "soft, =2+2")
    save(renamed, tmp_path / "car.corduroy")
    _, out, _ = corduroy("time", str(tmp_path / "car.corduroy"), "--csv", "--every", "1 s")
    head = [line for line in out.splitlines() if line.startswith("#")]
    cells = [cell.strip() for line in head for cell in re.split(r"[,;\t]", line)]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@"))]
    assert "Pitch angle, soft, =2+2 (deg)" in next(csv.reader(out.splitlines()[len(head) :]))


def test_spectrum_has_densities_and_rms(corduroy: Command) -> None:
    _, out, _ = corduroy("spectrum", SALOON, "--json", "--channel", "all", "--variant", JOINED)
    found = json.loads(out)["variants"][JOINED]
    project = load(SALOON)
    ride = analyse(project.variant(JOINED).vehicle, project.run).ride
    pitch, row = found["channels"]["pitch"], channel_index("pitch")
    assert pitch["unit"] == "deg²/Hz"
    np.testing.assert_allclose(
        np.array(pitch["values"]) * factor("deg", "rad") ** 2, ride.psd[row], rtol=1e-12
    )
    assert found["rms"]["pitch"]["si_value"] == ride.rms[row]
    assert len(found["rms"]) == len(ride.rms)


def test_tables_name_units_and_share_the_first_column(corduroy: Command) -> None:
    _, out, _ = corduroy("spectrum", SALOON, "--channel", "heave_acceleration")
    head = next(line for line in out.splitlines() if line.startswith("Frequency (Hz)"))
    assert head.count("Frequency (Hz)") == 1
    assert head.count("((m/s²)²/Hz)") == 3
    assert "RMS, 0.1 to 50 Hz" in out


@pytest.mark.parametrize(
    ("arguments", "reason"),
    [
        (["--channel", "yaw"], "no channel 'yaw' (there are: all, heave, roll, pitch"),
        (["--every", "20 mm"], "every: 'mm' does not measure the same as 's'"),
        (["--every", "-1 s"], "outside the allowed range (0 s or more)"),
        (["--set", "front.spring.rate"], "is no setting, such as front.spring.rate='18 N/mm'"),
        (["--set", "front.spring.rate=18"], "'18' has no unit; write for example '18 N/m' (0 to 2000 N/mm)"),
        (["--set", "front.spring.rate=-1 N/m"], "outside the allowed range (0 to 2000 N/mm)"),
        (["--set", "front.sprng.rate=1 N/m"], "no 'sprng' in 'front' (there are: track, "),
        (["--set", "front.bump_stop={"], "front.bump_stop: this is no JSON"),
        (["--set", "run.speed=1e9 km/h"], "(1.8 to 432 km/h)"),
    ],
)
def test_refusals(corduroy: Command, arguments: list[str], reason: str) -> None:
    code, out, err = corduroy("time", SALOON, *arguments)
    assert (code, out) == (2, "")
    assert reason in err


# -- values set by hand ----------------------------------------------------------------------------------


def figures_of(out: str, name: str) -> dict[str, Any]:
    found = json.loads(out)["variants"][name]["figures"]
    return {key: figure["si_value"] for key, figure in found.items()}


def test_a_value_of_the_car_is_set_in_the_candidate_and_the_result_says_so(corduroy: Command) -> None:
    setting = "front.spring.rate=18 N/mm"
    _, out, _ = corduroy("figures", SALOON, "--json", "--set", setting, "--set", "run.speed=120 km/h")
    project = replaced(load(SALOON), ("run", "speed"), "120 km/h")
    softer = replaced(project.variant(JOINED).vehicle, ("front", "spring", "rate"), 18e3)
    for name, vehicle in ((JOINED, softer), (COILS, project.variant(COILS).vehicle)):
        expected = {one.key: one.value for one in key_figures(analyse(vehicle, project.run))}
        assert figures_of(out, name) == pytest.approx(expected)
    assert json.loads(out)["settings"] == [setting, "run.speed=120 km/h"]
    _, out, _ = corduroy("figures", SALOON, "--set", setting)
    assert f"Set by hand: {setting}" in out


def test_it_is_set_in_the_variants_that_are_named(corduroy: Command) -> None:
    _, out, _ = corduroy("figures", SALOON, "--json", "--set", "wheelbase=3 m", "--variant", COILS)
    project = load(SALOON)
    longer = replaced(project.variant(COILS).vehicle, ("wheelbase",), 3.0)
    expected = {one.key: one.value for one in key_figures(analyse(longer, project.run))}
    assert figures_of(out, COILS) == pytest.approx(expected)


def test_a_whole_part_is_set_as_json(corduroy: Command) -> None:
    part = '{"kind": "half-sine bump", "height": "20 mm", "length": "1 m", "start": "5 m", "side": "left"}'
    _, out, _ = corduroy("figures", SALOON, "--json", "--set", f"run.event={part}")
    assert json.loads(out)["run"]["event"]["kind"] == "half-sine bump"


# -- compare ---------------------------------------------------------------------------------------------


def test_compare_holds_variants_against_the_baseline(corduroy: Command) -> None:
    code, out, err = corduroy("compare", SALOON, "--json")
    assert (code, err) == (0, "")
    content, expected = json.loads(out), compare(load(SALOON))
    assert content["baseline"] == COILS
    assert set(content["differences"]) == set(expected.differences) == {JOINED, "separate, just as soft"}
    differing = {one["place"]: (one["value"], one["baseline"]) for one in content["differences"][JOINED]}
    assert differing["front.spring.rate"] == ("1.2 N/mm", "27 N/mm")
    for entry, row in zip(content["figures"], expected.scorecard.rows, strict=True):
        assert entry["key"] == row.figure.key
        for name, cell in zip(expected.scorecard.variants, row.cells, strict=True):
            found = entry["values"][name]
            if np.isfinite(cell.value):
                assert found["si_value"] == cell.value
            assert found["met"] == (None if cell.verdict is None else cell.verdict.passed)
    pitch = next(entry for entry in content["figures"] if entry["key"] == "rms_pitch")
    # 0.15 deg at most, as the file has it.
    assert pitch["target"]["high"] == pytest.approx(0.15)
    assert [pitch["values"][name]["met"] for name in (JOINED, COILS)] == [True, False]


def test_compare_as_text_marks_what_misses(corduroy: Command) -> None:
    _, out, _ = corduroy("compare", SALOON, "--variant", JOINED)
    lines = out.splitlines()
    assert f"{JOINED} against {COILS}" in lines
    (row,) = (line for line in lines if line.startswith("RMS pitch angle  "))
    assert "≤ 0.150" in row
    assert "! 0.232" in row
    assert row.rstrip().endswith("%)")
    assert "separate, just as soft" not in out


@pytest.mark.parametrize(("damper", "code"), [("1250 N·s/m", 0), ("4000 N·s/m", 1)])
def test_judge_makes_a_missed_target_an_exit_code(corduroy: Command, damper: str, code: int) -> None:
    setting = f"front.damper.jounce={damper}"
    targets = '[{"metric": "rms_pitch", "kind": "angle", "low": null, "high": "0.15 deg"},'
    targets += ' {"metric": "rms_heave_acceleration", "kind": "acceleration", "high": "0.78 m/s²"}]'
    asked = ("compare", SALOON, "--variant", JOINED, "--set", setting, "--set", f"targets={targets}")
    assert corduroy(*asked, "--judge")[0] == code
    assert corduroy(*asked)[0] == 0


def test_judge_without_a_target_is_refused_and_not_passed(corduroy: Command) -> None:
    code, out, err = corduroy("compare", SALOON, "--set", "targets=[]", "--judge")
    assert (code, out) == (2, "")
    assert "no targets to judge by" in err


def test_two_forms_of_output_at_once_are_refused(corduroy: Command) -> None:
    code, out, err = corduroy("time", SALOON, "--csv", "--json")
    assert (code, out) == (2, "")
    assert "exclude each other" in err
