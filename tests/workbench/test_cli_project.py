"""Commands that make and check project files: new, check, schema; and what holds for all commands."""

from __future__ import annotations

import io
import json
import re
import shlex
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest

from models.fields import replaced
from models.project import load, loads, new_project, save
from models.study import Parameter, Sweep
from models.target import made
from workbench import cli, desktop
from workbench.__main__ import main as start

SAMPLES = Path(__file__).parents[2] / "sample_projects"
SALOON = str(SAMPLES / "large_saloon.corduroy")

Command = Callable[..., tuple[int, str, str]]


@pytest.fixture
def corduroy(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Command:
    def run(*arguments: str, stdin: str = "") -> tuple[int, str, str]:
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(stdin.encode())))
        code = cli.main(arguments)
        return code, *capsys.readouterr()

    return run


# -- all commands ----------------------------------------------------------------------------------------


def test_every_command_has_help_with_an_example_and_the_exit_codes(corduroy: Command) -> None:
    for name in cli.COMMANDS:
        code, out, _ = corduroy(name, "--help")
        assert code == 0
        assert f"example:\n  corduroy {name} " in out
        assert "exit codes:\n  0  all is well" in out


def test_overview_lists_every_command() -> None:
    told = re.findall(r"^  ([a-z]\S*)", cli.overview(), re.MULTILINE)
    assert told == [*cli.COMMANDS, desktop.COMMAND]


@pytest.mark.parametrize("name", ["check", "figures", "compare", "time", "spectrum", "parts", "packaging"])
def test_json_begins_with_format_and_version_and_reads_stdin(corduroy: Command, name: str) -> None:
    code, out, err = corduroy(name, "-", "--json", stdin=Path(SALOON).read_text(encoding="utf-8"))
    assert (code, err) == (0, "")
    content = json.loads(out)
    assert list(content)[:2] == ["format", "version"]
    assert (content["format"], content["version"]) == (f"corduroy {name}", 1)
    assert corduroy(name, SALOON, "--json")[1] == out


def test_damaged_stdin_is_refused(corduroy: Command) -> None:
    code, out, err = corduroy("figures", "-", stdin='{"format": ')
    assert (code, out) == (2, "")
    assert "damaged at line 1" in err


# -- check -----------------------------------------------------------------------------------------------


def test_samples_have_no_faults(corduroy: Command) -> None:
    for path in SAMPLES.glob("*.corduroy"):
        code, out, err = corduroy("check", str(path))
        assert (code, err) == (0, ""), out


def test_faults_are_told_with_code_1(corduroy: Command, tmp_path: Path) -> None:
    project = load(SALOON)
    for axle in ("front", "rear"):
        for part, value in (("spring", 0.0), ("bump_stop", 0.0), ("rebound_stop", 0.0)):
            project = replaced(project, ("variants", 1, "vehicle", axle, part, "rate"), value)
            if part != "spring":
                project = replaced(project, ("variants", 1, "vehicle", axle, part, "growth"), 0.0)
    project = replaced(project, ("variants", 0, "vehicle", "left", "coupling", "bar_rate"), 900.0)
    lost = made("rms_pitch", "angle", (None, 0.01), ("no such load", "", None))
    unknown = made("no_such_figure", "angle", (None, 0.01))
    project = replaced(project, ("targets",), (*project.targets, lost, unknown))
    parameter = Parameter(place="front.wings", kind="rate", low=1.0, high=2.0)
    project = replaced(project, ("studies",), (Sweep(parameter=parameter),))
    path = tmp_path / "faulty.corduroy"
    save(project, path)

    code, out, _ = corduroy("check", str(path), "--json")
    assert code == 1
    found = {
        (one["about"], one["variant"], one["where"]): one["reason"]
        for one in json.loads(out)["findings"]
        if one["fault"]
    }
    assert "does not stand" in found["stand", "separate coil springs", "as designed"]
    assert "no such load" in found["target", None, "RMS pitch angle"]
    assert "no such figure" in found["target", None, "no such figure"]
    bar = found["steel", "joined torsion bars", "Interconnection bars"]
    assert bar.startswith("Interconnection bar rate 900.0 in the car, ")
    assert bar.endswith(" N·m/rad in steel")
    assert "no such number" in found["study", None, "Study"]

    code, out, _ = corduroy("check", str(path))
    assert code == 1
    assert sum(line.startswith("!") for line in out.splitlines()) == len(found)


def test_a_refused_file_has_code_2_and_its_problems_as_data(corduroy: Command) -> None:
    text = Path(SALOON).read_text(encoding="utf-8").replace('"80 km/h"', '"0 km/h"', 1)
    code, out, _ = corduroy("check", "-", "--json", stdin=text)
    content = json.loads(out)
    assert (code, content["readable"]) == (2, False)
    assert content["problems"] == [
        {
            "field": "run > speed",
            "value": "0 km/h",
            "reason": "Speed: 0 km/h is outside the allowed range (1.8 to 432 km/h)",
        }
    ]
    code, out, err = corduroy("check", "-", stdin=text)
    assert (code, out) == (2, "")
    assert "1.8 to 432 km/h" in err


#: Commands whose example computes long; their own tests run them.
_SLOW = ("verify", "review", "life")


def test_the_examples_work_as_they_stand_in_one_folder(
    corduroy: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    for name in cli.COMMANDS:
        told = corduroy(name, "--help")[1].partition("example:\n")[2].partition("\n\n")[0]
        for line in told.splitlines():
            words, _, _file = line.partition(" > ")
            program, *arguments = shlex.split(words)
            assert (program, arguments[0]) == ("corduroy", name)
            if name not in _SLOW:
                code, out, err = corduroy(*arguments)
                assert (code, err) == (1 if "--judge" in arguments else 0, ""), line
                assert out.strip(), line
    assert {path.name for path in tmp_path.iterdir()} >= {"my_car.corduroy", "bar_rate.npz", "data"}


@pytest.mark.parametrize(
    ("arguments", "screen", "reason"),
    [(["figure"], "offscreen", "'figure' is neither a command nor a file"), ([], "", "no screen")],
)
def test_what_can_open_no_window_is_told_in_words(
    arguments: list[str],
    screen: str,
    reason: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("QT_QPA_PLATFORM", screen)
    assert start(arguments) == 2
    assert reason in capsys.readouterr().err


# -- new and schema --------------------------------------------------------------------------------------


def test_new_writes_a_plain_car_or_a_sample_but_overwrites_nothing(corduroy: Command, tmp_path: Path) -> None:
    path = tmp_path / "car.corduroy"
    assert corduroy("new", str(path))[0] == 0
    assert load(path) == new_project()
    code, _, err = corduroy("new", str(path), "--from", "small_hatchback")
    assert code == 2
    assert "there already; --force" in err
    assert load(path) == new_project()
    code, out, _ = corduroy(
        "new", str(path), "--from", "small_hatchback", "--name", "Mine", "--force", "--json"
    )
    assert (code, json.loads(out)["project"]) == (0, "Mine")
    assert load(path) == replaced(load(SAMPLES / "small_hatchback.corduroy"), ("name",), "Mine")
    assert load(f"{path}.bak") == new_project()


def test_new_prints_to_stdout_and_names_its_samples(corduroy: Command) -> None:
    assert loads(corduroy("new", "-")[1]) == new_project()
    code, _, err = corduroy("new", "-", "--from", "spaceship")
    assert code == 2
    assert "samples: large_saloon, " in err


def test_schema_takes_what_new_makes(corduroy: Command) -> None:
    schema = json.loads(corduroy("schema")[1])
    jsonschema.validate(json.loads(corduroy("new", "-")[1]), schema)
