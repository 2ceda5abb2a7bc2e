"""Files of results: the same after reading, refused where damaged, never run, known as stale."""

from __future__ import annotations

import io
import pickle
import zipfile
from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest

from models.fields import replaced
from models.project import dumps, loads, rename_variant, set_study
from models.studies import (
    ResultFileError,
    StudyResult,
    ask,
    built_cars,
    copy_results,
    file_name,
    folder_of,
    is_stale,
    kept_result,
    load_result,
    run_study,
    save_result,
)
from models.studies.storage import dump_result, parse_result
from models.study import Tolerance, ToleranceDraw
from models.target import Target
from tests.study_cases import FRONT, REAR, project, same

STUDY = ToleranceDraw(
    name="Yield of the rear, ±5 %",
    tolerances=(
        Tolerance(place=FRONT, kind="rate", plus_minus=45e3),
        Tolerance(place=REAR, kind="share", plus_minus=0.05, distribution="triangular"),
    ),
    draws=12,
    exact_draws=4,
    metrics=("front_ride_frequency",),
)
PROJECT = project(Target(metric="front_ride_frequency", kind="frequency", high=1.2))


@pytest.fixture(scope="module")
def result() -> StudyResult:
    found = run_study(ask(PROJECT, STUDY))
    assert found.columns.refused > 0
    return found


def test_results_go_with_a_project_that_is_saved_elsewhere(tmp_path: Path, result: StudyResult) -> None:
    first, second = tmp_path / "here.corduroy", tmp_path / "away" / "there.corduroy"
    kept = save_result(result, folder_of(first) / file_name(result.asked))
    moved = set_study(PROJECT, STUDY.model_copy(update={"result": kept}))
    copy_results(moved, (tmp_path / "nowhere", folder_of(first)), second)
    copied = folder_of(second) / kept.file
    assert same(load_result(copied, kept), result)
    copied.write_bytes(b"damaged")
    copy_results(moved, (folder_of(first),), second)
    assert same(load_result(copied, kept), result)
    with pytest.raises(ResultFileError, match=r"the results are not copied: no such file"):
        copy_results(moved, (tmp_path / "nowhere",), tmp_path / "third.corduroy")


def test_what_is_kept_is_the_same(tmp_path: Path, result: StudyResult) -> None:
    path = folder_of(tmp_path / "car.corduroy") / file_name(result.asked)
    assert path.parent.name == "car.studies"
    assert path.name.startswith("yield-of-the-rear-5-")
    kept = save_result(result, path)
    again = load_result(path, kept)
    assert same(again, result)
    assert again.columns.reasons == result.columns.reasons
    assert again.asked.study == STUDY
    assert again.asked.car == result.asked.car
    assert again.asked.places == result.asked.places
    assert again.asked.wanted == result.asked.wanted
    assert again.asked.situations == result.asked.situations
    assert built_cars(again).whole == built_cars(result).whole
    assert dump_result(again) == dump_result(result) == path.read_bytes()
    # It can be gone on with, and is found by what was asked.
    assert same(run_study(ask(PROJECT, STUDY), earlier=again), result)
    found = kept_result(tmp_path / "car.corduroy", ask(PROJECT, STUDY))
    assert found is not None
    assert same(found, result)
    other = ask(PROJECT, replaced(STUDY, ("seed",), 2))
    assert kept_result(tmp_path / "car.corduroy", other) is None


def test_another_content_than_the_project_says(tmp_path: Path, result: StudyResult) -> None:
    kept = save_result(result, tmp_path / "a.npz")
    save_result(StudyResult(result.asked, result.columns, 1, False), tmp_path / "a.npz")
    with pytest.raises(ResultFileError, match="another than the one that the project refers to"):
        load_result(tmp_path / "a.npz", kept)


def test_damage_is_told(tmp_path: Path, result: StudyResult) -> None:
    data = dump_result(result)
    with pytest.raises(ResultFileError, match="cannot be read"):
        load_result(tmp_path / "none.npz")
    for place in range(0, len(data), len(data) // 40):
        damaged = data[:place] + bytes([data[place] ^ 0xFF]) + data[place + 1 :]
        with suppress(ResultFileError):  # a byte that means nothing may well be another one
            parse_result(damaged)
    for end in range(0, len(data), len(data) // 20):
        with pytest.raises(ResultFileError):
            parse_result(data[:end])


def _with(result: StudyResult, **arrays: object) -> bytes:
    with np.load(io.BytesIO(dump_result(result))) as content:
        file = io.BytesIO()
        np.savez(file, **({name: content[name] for name in content.files} | arrays))
    return file.getvalue()


def test_nothing_in_a_file_is_run(result: StudyResult, tmp_path: Path) -> None:
    flag = tmp_path / "run"

    class Trap:
        def __reduce__(self) -> object:
            return (Path.touch, (flag,))

    file = io.BytesIO()
    np.savez(file, about=np.array([Trap()], dtype=object), allow_pickle=True)
    for data in (
        file.getvalue(),
        pickle.dumps(Trap()),
        _with(result, values=np.array([Trap()], dtype=object)),
    ):
        with pytest.raises(ResultFileError):
            parse_result(data)
    assert not flag.exists()


def test_columns_that_do_not_fit_are_refused(result: StudyResult) -> None:
    for arrays in (
        {"rows": result.columns.rows[:-1]},
        {"values": result.columns.values[:, :, :0]},
        {"state": np.full(len(result.columns.rows), 7, dtype=np.uint8)},
        {"rows": np.array([["a"]])},
    ):
        with pytest.raises(ResultFileError):
            parse_result(_with(result, **arrays))


def test_a_file_that_unpacks_to_too_much(result: StudyResult, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("models.studies.storage._MOST_BYTES", 1000)
    with pytest.raises(ResultFileError, match="unpacks to more than the 0 MB allowed"):
        parse_result(dump_result(result))
    assert zipfile.is_zipfile(io.BytesIO(dump_result(result)))


def test_stale_when_the_car_changes_and_not_when_a_name_does(tmp_path: Path, result: StudyResult) -> None:
    kept = save_result(result, tmp_path / "a.npz")
    study = replaced(STUDY, ("result",), kept)
    current = set_study(PROJECT, study)
    assert loads(dumps(current)) == current
    assert not is_stale(current, study)
    assert not is_stale(current, replaced(study, ("name",), "Other"))
    assert not is_stale(rename_variant(current, "Variant 1", "Renamed"), study)
    assert not is_stale(replaced(current, ("run", "event", "start"), 3.0), study)
    assert not is_stale(current, replaced(study, ("result",), None))
    for path, value in (
        (("variants", 0, "vehicle", "body", "mass"), 1234.0),
        (("run", "speed"), 10.0),
        (("run", "surface", "roughness"), 1e-5),
        (("run", "model"), "half car"),
    ):
        assert is_stale(replaced(current, path, value), study)
    assert is_stale(current, replaced(study, ("seed",), 5))
    # A target judges the same results; only one of a figure that was not computed asks for more.
    stricter = Target(metric="front_ride_frequency", kind="frequency", high=1.1)
    assert not is_stale(replaced(current, ("targets",), (stricter,)), study)
    more = (*current.targets, Target(metric="pitch_share", kind="ratio", high=1.0))
    assert is_stale(replaced(current, ("targets",), more), study)
