"""Studies on the command line: answered, kept beside the project, gone on with, printed as text and JSON."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from models.cautions import CAUTIONS
from models.fields import replaced
from models.project import Project, save, set_study
from models.studies import StudyResult, ask, file_name, load_result, run_study, save_result
from models.study import (
    GlobalSensitivity,
    Objective,
    Parameter,
    ParameterMap,
    ParetoSearch,
    Sensitivity,
    Situation,
    Study,
    Sweep,
    Tolerance,
    ToleranceDraw,
    TunedStart,
)
from models.target import Target
from tests.study_cases import FRONT, RATE, REAR, project, same
from workbench import cli

OTHER = Parameter(place=REAR, kind="rate", low=20e3, high=32e3)
TARGET = Target(metric="front_ride_frequency", kind="frequency", high=1.15)
FIGURES = ("front_ride_frequency",)
SWEEP = Sweep(name="Sweep", parameter=RATE, points=3, metrics=FIGURES)
STUDIES: tuple[Study, ...] = (
    SWEEP,
    ParameterMap(name="Map", x=RATE, y=OTHER, x_points=3, y_points=2, metrics=FIGURES),
    Sensitivity(name="Slopes", places=(FRONT, REAR), metrics=FIGURES),
    ToleranceDraw(
        name="Yield",
        tolerances=(Tolerance(place=FRONT, kind="rate", plus_minus=2e3),),
        draws=12,
        exact_draws=4,
        metrics=FIGURES,
    ),
    ParetoSearch(
        name="Front",
        parameters=(RATE, OTHER),
        objectives=(Objective(metric="pitch_share"), Objective(metric="rms_heave_acceleration")),
        population=8,
        generations=2,
        metrics=FIGURES,
    ),
    TunedStart(name="Start", parameters=(RATE,), wishes=(TARGET,), starts=4, metrics=FIGURES),
    GlobalSensitivity(name="Sobol", parameters=(RATE, OTHER), samples=8, metrics=FIGURES),
)

StudyRun = Callable[..., tuple[int, str, str]]


def with_studies(*studies: Study) -> Project:
    found = project(TARGET)
    for study in studies:
        found = set_study(found, study)
    return found


@pytest.fixture
def study(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> StudyRun:
    def run(of: Project, *arguments: str) -> tuple[int, str, str]:
        save(of, tmp_path / "car.corduroy")
        code = cli.main(["study", str(tmp_path / "car.corduroy"), "--workers", "0", *arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return run


def test_every_kind_is_answered_kept_and_printed(study: StudyRun, tmp_path: Path) -> None:
    of = with_studies(*STUDIES)
    code, out, err = study(of)
    assert (code, err) == (0, "")
    for one in STUDIES:
        path = tmp_path / "car.studies" / file_name(ask(of, one))
        assert load_result(path).finished
        assert f"{one.name}\n{'=' * len(one.name)}\n{one.kind} of Variant 1" in out
        assert str(path) in out
    assert "Front spring rate, N/mm" in out
    assert "Yield gained if exact, %" in out
    assert "All targets are met on" in out
    assert all(sentence in out for sentence in CAUTIONS)


def test_text_of_a_sweep_has_the_figures_of_its_cars(study: StudyRun) -> None:
    of = with_studies(replaced(SWEEP, ("situations",), (Situation(), Situation(speed=30.0))))
    out = study(of)[1]
    result = run_study(ask(of, of.studies[0]))
    rows = [line.split() for line in out.splitlines() if line.strip()[:2] in ("20", "26", "32")]
    assert [row[0] for row in rows] == ["20.00", "26.00", "32.00"] * 2
    assert [row[1] for row in rows[:3]] == [f"{value:.2f}" for value in result.columns.values[:, 0, 0]]
    assert "Situation: 108 km/h" in out


def test_json_has_results_in_si(study: StudyRun) -> None:
    of = with_studies(*STUDIES)
    code, out, _ = study(of, "--json")
    assert code == 0
    found = {one["study"]["name"]: one for one in json.loads(out)["studies"]}
    assert set(found) == {one.name for one in STUDIES}
    result = run_study(ask(of, SWEEP))
    assert found["Sweep"]["result"]["values"] == result.columns.values.tolist()
    assert found["Sweep"]["parameters"][0] == {
        "place": FRONT,
        "label": "Front spring rate",
        "si_unit": "N/m",
        "value": 26e3,
    }
    assert found["Yield"]["result"]["yield"]["cars"] == 12
    assert len(found["Map"]["result"]["feasible"]) == 2
    assert found["Start"]["result"]["missed"] == [0.0]


def test_only_the_study_asked_for_into_the_file_asked_for(study: StudyRun, tmp_path: Path) -> None:
    of, path = with_studies(*STUDIES), tmp_path / "own.npz"
    code, out, _ = study(of, "--study", "Sweep", "--out", str(path))
    assert code == 0
    assert "Yield" not in out
    assert load_result(path).finished
    assert not (tmp_path / "car.studies").exists()


def test_what_is_there_is_gone_on_with(study: StudyRun, tmp_path: Path) -> None:
    of, path = with_studies(SWEEP), tmp_path / "own.npz"
    whole = run_study(ask(of, SWEEP))
    marked = whole.columns.copy()
    marked.values[0] = 7.0  # to be seen again
    marked.state[1:] = 0
    save_result(StudyResult(whole.asked, marked, 3, False), path)
    assert study(of, "--out", str(path), "--resume")[0] == 0
    assert same(load_result(path), whole)  # of one piece of work that was not whole, nothing is taken
    marked = whole.columns.copy()
    marked.values[0] = 7.0
    save_result(StudyResult(whole.asked, marked, 3, False), path)
    assert study(of, "--out", str(path), "--resume")[0] == 0
    assert load_result(path).columns.values[0, 0, 0] == 7.0
    assert study(of, "--out", str(path))[0] == 0
    assert same(load_result(path), whole)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--study", "None"), "'None' is no study of the project"),
        (("--out", "x.npz"), "one file takes one study"),
        (("--study", "Sweep", "--cluster", "nowhere"), "no scheduler answers at 'nowhere'"),
    ],
)
def test_what_is_refused(study: StudyRun, arguments: tuple[str, ...], words: str) -> None:
    code, out, err = study(with_studies(*STUDIES), *arguments)
    assert (code, out) == (2, "")
    assert words in err


def test_results_of_another_car_are_not_gone_on_with(study: StudyRun, tmp_path: Path) -> None:
    path = tmp_path / "own.npz"
    study(with_studies(SWEEP), "--out", str(path))
    heavier = replaced(with_studies(SWEEP), ("variants", 0, "vehicle", "body", "mass"), 1500.0)
    code, _, err = study(heavier, "--out", str(path), "--resume")
    assert code == 2
    assert "of another car, run or definition" in err


def test_a_project_without_studies(study: StudyRun) -> None:
    code, _, err = study(project())
    assert code == 2
    assert "the project has no studies" in err


def test_lost_workers_keep_what_has_come(
    study: StudyRun, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(asked: object, *arguments: object, **others: object) -> StudyResult:
        whole = run_study(ask(with_studies(SWEEP), SWEEP))
        return StudyResult(whole.asked, whole.columns, 3, False, "the workers were lost")

    monkeypatch.setattr("workbench.commands.study.run_study", broken)
    code, _, err = study(with_studies(SWEEP), "--out", str(tmp_path / "own.npz"))
    assert code == 2
    assert "the workers were lost" in err
    assert "go on with --resume" in err
    assert load_result(tmp_path / "own.npz").columns.done == 3


def test_without_a_target_there_is_no_yield(study: StudyRun) -> None:
    of = replaced(with_studies(STUDIES[1], STUDIES[3]), ("targets",), ())
    out = study(of)[1]
    assert out.count("No target holds in these situations") == 2
    assert "all targets" not in out
    found = json.loads(study(of, "--json")[1])["studies"]
    assert found[1]["result"]["yield"] is None


def test_refused_cars_are_listed_by_kind_of_reason(study: StudyRun) -> None:
    far = Parameter(place="body.cg_to_front_axle", kind="length", low=1.0, high=4.5)
    of = with_studies(Sweep(name="Far", parameter=far, points=8, metrics=FIGURES))
    out = study(of)[1]
    assert "refused: 4 × such as CG to front axle: 3 m is outside the allowed range" in out
    refused = json.loads(study(of, "--json")[1])["studies"][0]["refused"]
    assert [(kind["cars"], kind["only"]) for kind in refused] == [(4, False)]


def test_a_number_of_workers_that_cannot_be_is_refused(study: StudyRun) -> None:
    code, _, err = study(with_studies(SWEEP), "--workers", "-3")
    assert code == 2
    assert "-3 processes are outside the allowed range" in err
