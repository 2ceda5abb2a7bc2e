"""``corduroy export``: files by names that stay the same, and clear refusals."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from scipy.io import loadmat

from models.analysis import analyse
from models.fields import replaced
from models.project import Project, Variant, save
from models.ride.channels import channel_index
from models.run import Run
from models.vehicle import Vehicle
from workbench.cli import main


@pytest.fixture
def file(tmp_path: Path) -> Path:
    soft = replaced(Vehicle(), ("front", "spring", "rate"), 20e3)
    project = Project(
        name="Export",
        variants=(Variant(name="As is", vehicle=Vehicle()), Variant(name="=Soft/er", vehicle=soft)),
        baseline="As is",
        candidate="=Soft/er",
        run=Run(duration=0.5),
    )
    path = tmp_path / "car.corduroy"
    save(project, path)
    return path


def test_a_file_for_each_variant_and_kind_of_data(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "data"
    words = ["export", str(file), "--what", "time", "--what", "spectrum", "--out", str(out), "--units", "si"]
    assert main(words) == 0
    names = ["spectrum-as-is.csv", "spectrum-soft-er.csv", "time-as-is.csv", "time-soft-er.csv"]
    assert sorted(path.name for path in out.iterdir()) == names
    assert capsys.readouterr().out.splitlines()[0] == str(out / "time-as-is.csv")
    first = (out / names[3]).read_bytes()
    assert main(["export", str(file), "--variant", "=Soft/er", "--out", str(out), "--units", "si"]) == 0
    assert (out / names[3]).read_bytes() == first
    heads, *rows = csv.reader(line for line in first.decode().splitlines() if not line.startswith("#"))
    numbers = np.array(rows, dtype=float).T
    expected = analyse(replaced(Vehicle(), ("front", "spring", "rate"), 20e3), Run(duration=0.5))
    np.testing.assert_array_equal(numbers[heads.index("Time (s)")], expected.time.t)
    row = channel_index("pitch")
    np.testing.assert_array_equal(numbers[heads.index("Pitch angle (rad)")], expected.time.y[row])


def test_one_file_by_its_own_name(file: Path, tmp_path: Path) -> None:
    path = tmp_path / "one.mat"
    words = [
        "export",
        str(file),
        "--variant",
        "As is",
        "--what",
        "sweep",
        "--format",
        "mat",
        "--out",
        str(path),
    ]
    assert main([*words, "--units", "inch-pound"]) == 0
    found = loadmat(path, simplify_cells=True)
    assert found["about"]["variant"] == "As is"
    assert found["units"]["speed"] == "mph"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--format", "svg"], "'svg' is no format of data; use csv, mat, mdf"),
        (["--figures", "f", "--format", "csv"], "'csv' is no format of figures; use svg, pdf, png"),
        (["--figures", "f", "--what", "time"], "leave it out"),
        (["--out", "one.csv"], "2 files do not go into one"),
        (["--variant", "Nobody"], "Nobody"),
        (["--load", "Nobody"], "Nobody"),
        (["--out", "car.corduroy"], "the folder cannot be made"),
        (["--variant", "As is", "--out", "nowhere/one.csv"], "cannot be written"),
    ],
)
def test_what_does_not_fit_is_refused_and_writes_nothing(
    words: list[str],
    told: str,
    file: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(file.parent)
    before = file.read_bytes()
    assert main(["export", file.name, *words]) == 2
    assert told in capsys.readouterr().err
    assert file.read_bytes() == before
    assert [path.name for path in file.parent.iterdir() if path.is_file()] == [file.name]


def test_all_figures_of_a_variant(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from models.exports.figure_groups import GROUPS

    for group in GROUPS:
        if group not in ("roads", "packaging"):  # the others take a while
            monkeypatch.setitem(GROUPS, group, lambda _subject: ())
    out = tmp_path / "figures"
    assert main(["export", str(file), "--figures", str(out), "--variant", "As is"]) == 0
    names = {path.name for path in out.iterdir()}
    assert {"roads-profile.svg", "packaging-travel.svg"} < names
    assert set(capsys.readouterr().out.splitlines()) == {str(out / name) for name in names}
    text = (out / "packaging-travel.svg").read_text(encoding="utf-8")
    assert "Export: As is against As is" in text
