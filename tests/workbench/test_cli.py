"""The figures on the command line: aligned text, JSON, exit codes, and no screen."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable
from itertools import product
from pathlib import Path

import pytest

from models.analysis import analyse
from models.assembly import mechanics
from models.cautions import CAUTIONS
from models.fields import replaced
from models.judge import key_figures
from models.project import Project, duplicate_variant, load, new_project, rename_variant, save
from models.project.variant import Variant
from models.statics import statics
from models.vehicle import Stop
from workbench import cli

SAMPLES = Path(__file__).parents[2] / "sample_projects"
SALOON = str(SAMPLES / "large_saloon.corduroy")

Figures = Callable[..., tuple[int, str, str]]


@pytest.fixture
def figures(capsys: pytest.CaptureFixture[str]) -> Figures:
    def run(*arguments: str) -> tuple[int, str, str]:
        code = cli.main(["figures", *arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return run


@pytest.fixture
def level(tmp_path: Path) -> str:
    """A car in which bounce is pure heave, so that its motion centre is at infinity."""
    project = duplicate_variant(new_project(Variant(name="level")), "level", "other")
    path = tmp_path / "level.corduroy"
    save(project, path)
    return str(path)


def test_table_has_a_line_for_each_figure_and_a_column_for_each_variant(figures: Figures) -> None:
    code, out, err = figures(SALOON)
    assert (code, err) == (0, "")
    title, run, _, head, rule, *lines = out.splitlines()
    project = load(SALOON)
    assert title == project.name
    assert run == (
        "full car, 80.0 km/h, class C surface, 1-cos bump, nonlinear time response, load: as designed"
    )
    assert re.split(r" {2,}", head)[-3:] == [
        "joined torsion bars",
        "separate coil springs (baseline)",
        "separate, just as soft",
    ]
    expected = key_figures(analyse(project.variants[0].vehicle, project.run))
    rows = lines[: len(expected)]
    assert [row[: len(figure.label)] for row, figure in zip(rows, expected, strict=True)] == [
        figure.label for figure in expected
    ]
    assert set(rule) == {"-"}
    assert {len(row) for row in (head, rule, *rows)} == {len(head)}
    assert lines[len(expected) :] == ["", "Cautions: " + " ".join(CAUTIONS)]


def test_table_shows_value_and_unit(figures: Figures) -> None:
    _, out, _ = figures(SALOON, "--variant", "separate coil springs")
    (line,) = (line for line in out.splitlines() if line.startswith("Front wheel rate"))
    assert line.split() == ["Front", "wheel", "rate", "N/mm", "27.0"]


def test_units_may_be_inch_pound(figures: Figures) -> None:
    _, out, _ = figures(SALOON, "--variant", "separate coil springs", "--units", "inch-pound")
    (line,) = (line for line in out.splitlines() if line.startswith("Front wheel rate"))
    # 27 N/mm · 25.4 mm/in / 4.448222 N/lbf = 154.2 lbf/in
    assert line.split()[-2:] == ["lbf/in", "154"]
    assert "49.7 mph" in out


def test_json_holds_what_the_models_compute(figures: Figures) -> None:
    code, out, err = figures(SALOON, "--json")
    assert (code, err) == (0, "")
    content = json.loads(out)
    project = load(SALOON)
    assert content["project"] == {
        "name": project.name,
        "note": project.note,
        "baseline": "separate coil springs",
        "candidate": "joined torsion bars",
    }
    assert content["run"]["speed"] == "80 km/h"
    assert content["run"]["event"]["kind"] == "1-cos bump"
    assert content["cautions"] == list(CAUTIONS)
    assert tuple(content["variants"]) == project.names
    for variant in project.variants:
        analysis = analyse(variant.vehicle, project.run)
        found = content["variants"][variant.name]
        assert {key: figure["si_value"] for key, figure in found["figures"].items()} == {
            figure.key: pytest.approx(figure.value, rel=1e-9) for figure in key_figures(analysis)
        }
        assert [mode["name"] for mode in found["modes"]] == list(analysis.modes.names)
        assert [mode["frequency_hz"] for mode in found["modes"]] == pytest.approx(analysis.modes.frequency)
        assert [mode["damping_ratio"] for mode in found["modes"]] == pytest.approx(
            analysis.modes.damping_ratio
        )


def test_the_load_case_of_the_file_is_the_one_computed(figures: Figures, tmp_path: Path) -> None:
    """As in the window; a saloon with full seats must not be printed as an empty one."""
    project = replaced(load(SALOON), ("load_case",), "four up")
    path = tmp_path / "laden.corduroy"
    save(project, path)
    _, out, _ = figures(str(path))
    assert out.splitlines()[1].endswith("load: four up")
    _, out, _ = figures(str(path), "--json")
    content = json.loads(out)
    assert content["load_case"] == "four up"
    (name, *_) = project.names
    laden, empty = (
        analyse(project.variant(name).vehicle, project.run, *carried) for carried in ((project.load,), ())
    )
    found = {key: figure["si_value"] for key, figure in content["variants"][name]["figures"].items()}
    assert found == {figure.key: pytest.approx(figure.value, rel=1e-9) for figure in key_figures(laden)}
    (weight,) = (figure.value for figure in key_figures(empty) if figure.key == "corner_load_RL")
    assert found["corner_load_RL"] > 1.1 * weight


def test_json_states_each_figure_in_its_unit(figures: Figures) -> None:
    _, out, _ = figures(SALOON, "--json")
    figure = json.loads(out)["variants"]["separate coil springs"]["figures"]["front_wheel_rate"]
    assert figure == {
        "label": "Front wheel rate",
        "value": pytest.approx(27.0, rel=1e-12),
        "unit": "N/mm",
        "si_value": pytest.approx(27000.0, rel=1e-12),
        "si_unit": "N/m",
    }


def test_a_motion_centre_at_infinity_is_null_or_a_dash(figures: Figures, level: str) -> None:
    _, out, _ = figures(level, "--json")
    figure = json.loads(out)["variants"]["level"]["figures"]["bounce_motion_centre"]
    assert (figure["value"], figure["si_value"]) == (None, None)
    _, out, _ = figures(level)
    (line,) = (line for line in out.splitlines() if line.startswith("Bounce motion centre"))
    assert line.split()[-2:] == ["–", "–"]


def test_variants_are_picked_in_the_order_asked_for_and_once(figures: Figures, level: str) -> None:
    _, out, _ = figures(level, "--json", "--variant", "other", "--variant", "level", "--variant", "other")
    assert list(json.loads(out)["variants"]) == ["other", "level"]


def test_another_load_case_can_be_asked_for(figures: Figures) -> None:
    _, out, _ = figures(SALOON, "--load", "full boot", "--json")
    content = json.loads(out)
    assert content["load_case"] == "full boot"
    project = load(SALOON)
    (case,) = (case for case in project.load_cases if case.name == "full boot")
    for variant in project.variants:
        found = content["variants"][variant.name]["figures"]["corner_load_RL"]["si_value"]
        stand = statics(mechanics(variant.vehicle, case))
        assert found == pytest.approx(stand.tyre_force[2], rel=1e-9)
    _, out, _ = figures(SALOON, "--load", "full boot")
    assert "load: full boot" in out.splitlines()[1]


def test_a_car_that_does_not_stand_has_dashes(figures: Figures, tmp_path: Path) -> None:
    loose = replaced(load(SALOON), ("variants", 0, "vehicle", "left", "trim", "bar_rate"), 0.0)
    for axle, stop in product(
        ("front", "rear"), ("bump_stop", "rebound_stop")
    ):  # it would come to rest on them
        loose = replaced(loose, ("variants", 0, "vehicle", axle, stop), Stop())
    path = tmp_path / "loose.corduroy"
    save(replaced(loose, ("variants", 0, "vehicle", "front", "spring", "rate"), 0.0), path)
    code, out, err = figures(str(path), "--variant", "joined torsion bars")
    assert code == 0
    assert "joined torsion bars: does not stand, nothing holds the body in pitch" in out + err
    (line,) = (line for line in out.splitlines() if line.startswith("Corner load FL"))
    assert line.split()[-1] == "–"


def test_half_car_has_no_roll(figures: Figures) -> None:
    _, out, _ = figures(str(SAMPLES / "half_car_example.corduroy"))
    assert out.splitlines()[1].startswith("half car, 36.0 km/h")
    assert "roll" not in out.partition("Cautions")[0].lower()


def test_names_of_any_alphabet_are_printed(figures: Figures, level: str) -> None:
    project: Project = rename_variant(load(level), "other", "größer 较软")
    save(replaced(project, ("name",), "Ξ"), level)
    code, out, _ = figures(level)
    assert code == 0
    assert "größer 较软" in out


@pytest.mark.parametrize(
    ("arguments", "reason"),
    [
        (["absent.corduroy"], "corduroy: absent.corduroy: the file cannot be read: no such file"),
        (
            [SALOON, "--variant", "ghost"],
            "'ghost' is no variant of the project (allowed: 'joined torsion bars'",
        ),
        (
            [SALOON, "--load", "elephant"],
            "'elephant'",
        ),
        ([SALOON, "--colour"], "unrecognized arguments: --colour"),
        ([SALOON, "--units", "nautical"], "invalid choice: 'nautical'"),
        ([], "the following arguments are required: FILE"),
    ],
)
def test_refusals_go_to_stderr_with_code_2(figures: Figures, arguments: list[str], reason: str) -> None:
    code, out, err = figures(*arguments)
    assert (code, out) == (2, "")
    assert reason in err


def test_all_wrong_fields_are_told(figures: Figures, level: str) -> None:
    path = Path(level)
    text = path.read_text(encoding="utf-8").replace('"26 N/mm"', '"26 mm"')
    path.write_text(text.replace('"80 km/h"', '"0 km/h"'), encoding="utf-8")
    code, _, err = figures(level)
    assert code == 2
    assert err.count("Spring rate: 'mm' does not measure the same as 'N/m' (0 to 2000 N/mm)") == 4
    assert "Speed: 0 km/h is outside the allowed range (1.8 to 432 km/h)" in err


def test_help_says_what_to_be_careful_of(figures: Figures) -> None:
    code, out, _ = figures("--help")
    assert code == 0
    assert CAUTIONS[1] in " ".join(out.split())


def run_python(code: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", code, *arguments],
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )


def test_no_screen_library_is_loaded() -> None:
    code = (
        "import sys; from workbench.__main__ import main; file = sys.argv[1];"
        "commands = ('compare', 'spectrum', 'check', 'figures');"
        "codes = [main([command, file, '--json']) for command in commands];"
        "loaded = {name.partition('.')[0] for name in sys.modules};"
        "print(codes, loaded & {'PySide6', 'shiboken6', 'pyqtgraph', 'matplotlib'}, file=sys.stderr)"
    )
    done = run_python(code, SALOON)
    assert done.stderr == "[0, 0, 0, 0] set()\n"
    assert done.stdout.count('"format": "corduroy ') == 4


@pytest.mark.skipif(sys.platform == "win32", reason="POSIX pipes")
def test_a_reader_that_closes_the_pipe_is_no_fault() -> None:
    code = (
        "import os, sys; from workbench import cli; reading, writing = os.pipe(); os.dup2(writing, 1);"
        "os.close(reading); sys.exit(cli.main(sys.argv[1:]))"
    )
    done = run_python(code, "figures", SALOON)
    assert (done.returncode, done.stderr) == (0, "")
