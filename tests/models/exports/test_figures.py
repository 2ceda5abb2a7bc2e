"""All figures of a project: which there are, and their names."""

from __future__ import annotations

from pathlib import Path

import pytest

from models.charts import CHART_CHOICES
from models.errors import InputError
from models.exports.figure_groups import GROUPS, Subject
from models.exports.figures import project_figures, write_figures
from models.fields import replaced
from models.project import Project, load, set_baseline
from models.units import INCH_POUND, METRIC

SAMPLES = Path(__file__).parents[3] / "sample_projects"


@pytest.fixture(scope="module")
def project() -> Project:
    return load(SAMPLES / "gas_joined_wagon.corduroy")


def test_every_chart_of_the_ride_and_every_group_that_the_car_has(project: Project) -> None:
    missing: list[str] = []
    figures = dict(project_figures(Subject(project, None, METRIC), missing))
    assert missing == []
    # A chart of what stays at zero says nothing: no roll on a road alike in both tracks, no bar to twist.
    ride = {f"ride-{key}" for key in CHART_CHOICES}
    assert len(ride & figures.keys()) > 40
    absent = {key.removeprefix("ride-") for key in ride - figures.keys()}
    assert {key for key in absent if not CHART_CHOICES[key].of} <= {
        "time-roll",
        "time-roll-acceleration",
        "time-frame-torsion",
        "time-twist",
    }
    for name in ("speeds-rms-pitch", "laws-front-force-all", "laws-left-restriction", "packaging-clearance"):
        assert name in figures
    assert "laws-rear-stabiliser" not in figures  # it has none
    assert figures["ride-psd-pitch"].curves[-1].variant == project.candidate


def test_a_car_beside_itself_has_no_differences(project: Project) -> None:
    alone = set_baseline(project, project.candidate)
    names = [name for name, _ in project_figures(Subject(alone, None, METRIC))]
    assert "ride-psd-pitch" in names
    assert not [name for name in names if name.startswith(("ride-difference", "ride-ratio"))]


def test_a_group_that_cannot_be_computed_is_told_and_the_others_stay(
    project: Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(_subject: Subject) -> list[tuple[str, object]]:
        raise InputError.of("car", "", "it does not stand")

    monkeypatch.setitem(GROUPS, "laws", refused)
    missing: list[str] = []
    names = [name for name, _ in project_figures(Subject(project, None, METRIC), missing)]
    assert missing == ["laws: car: it does not stand"]
    assert "ride-psd-pitch" in names
    assert not [name for name in names if name.startswith("laws")]


def test_files_by_the_same_names_with_the_same_bytes(
    project: Project, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import models.exports.figures as module

    few = {key: module.GROUPS[key] for key in ("roads", "packaging")}
    monkeypatch.setattr(module, "GROUPS", few)
    told: list[float] = []
    evil = replaced(project, ("name",), "=1+1 & <b>")
    first = write_figures(Subject(evil, None, INCH_POUND), tmp_path / "a", "svg", told.append)
    second = write_figures(Subject(evil, None, INCH_POUND), tmp_path / "b", "svg")
    assert [path.name for path in first] == [path.name for path in second]
    assert "packaging-travel.svg" in [path.name for path in first]
    assert all(a.read_bytes() == b.read_bytes() for a, b in zip(first, second, strict=True))
    assert told == sorted(told)
    assert "Wheel travel (in" in (tmp_path / "a" / "packaging-travel.svg").read_text(encoding="utf-8")
    before = first[0].read_bytes()
    with pytest.raises(InputError, match="cannot be made"):
        write_figures(Subject(evil, None, METRIC), first[0], "svg")
    assert first[0].read_bytes() == before


def test_a_cancel_ends_the_long_work_before_the_first_file(project: Project, tmp_path: Path) -> None:
    asked: list[float] = []

    class EndedError(Exception):
        pass

    def report(share: float) -> None:
        asked.append(share)
        if len(asked) == 3:
            raise EndedError

    with pytest.raises(EndedError):
        write_figures(Subject(project, None, METRIC), tmp_path, "svg", report)
    assert list(tmp_path.iterdir()) == []
