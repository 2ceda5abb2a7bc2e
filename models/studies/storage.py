"""Results on disk: a file of columns beside the project, which holds its inputs and can never run code.

The file is numpy's ``.npz``: a ZIP of plain arrays, read with pickling refused, and one text of JSON that is
checked field by field like a project.  It lies in the folder ``NAME.studies`` beside ``NAME.corduroy``, its
name made of the study's and of the hash of its inputs, so that a result never takes the place of one of other
inputs.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import re
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any, get_args

import numpy as np
from pydantic import TypeAdapter, ValidationError

from models.errors import InputError, Problem, input_error, system_reason
from models.figure import Better, Figure
from models.plain_file import read_limited
from models.project import SUFFIX, Project
from models.project.checked_json import parse_json
from models.project.safe_write import write_safely
from models.run import Run
from models.studies.array_file import read_arrays
from models.studies.asked import Asked, Situated, Wanted, places_of
from models.studies.columns import MISSING, REFUSED, Columns
from models.studies.result import StudyResult
from models.study import ResultFile, Study
from models.target import Target
from models.units import KINDS
from models.vehicle import LoadCase, Vehicle

__all__ = [
    "FOLDER_SUFFIX",
    "ResultFileError",
    "copy_results",
    "dump_result",
    "file_name",
    "folder_of",
    "kept_result",
    "load_result",
    "parse_result",
    "result_in",
    "save_result",
]

FORMAT = "corduroy study"
FORMAT_VERSION = 1
FOLDER_SUFFIX = ".studies"

_MOST_BYTES = 2_000_000_000
_MOST_REASONS = 100_000_000  # one for each car that was refused
_ARRAYS = {"about": np.uint8, "rows": np.float64, "values": np.float64, "state": np.uint8}
_STUDY: TypeAdapter[Study] = TypeAdapter(Study)
_DAMAGED = "the file of results is damaged"


class ResultFileError(InputError):
    """A file of results that cannot be read; says which and why."""


def folder_of(project_file: str | os.PathLike[str]) -> Path:
    """Folder of the results of a project file."""
    path = Path(project_file)
    return path.with_name(path.name.removesuffix(SUFFIX) + FOLDER_SUFFIX)


def file_name(asked: Asked) -> str:
    """Name of the file of a study: its name in plain letters and the beginning of its hash."""
    plain = re.sub(r"[^A-Za-z0-9]+", "-", asked.study.name).strip("-").lower()[:60]
    return f"{plain or 'study'}-{asked.inputs[:12]}.npz"


def save_result(result: StudyResult, path: str | os.PathLike[str]) -> ResultFile:
    """Write a result, whole or in part, in one step; gives what the project keeps of it.

    Raises:
        ResultFileError: it could not be written; a file that was there before is as it was.
    """
    target, data = Path(path), dump_result(result)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        write_safely(target.resolve(), data)
    except OSError as error:
        raise ResultFileError.of(
            target.name, "", f"the results are not saved: {system_reason(error)}"
        ) from error
    return ResultFile(file=target.name, checksum=hashlib.sha256(data).hexdigest(), inputs=result.asked.inputs)


def copy_results(project: Project, sources: Sequence[Path], target: str | os.PathLike[str]) -> None:
    """Copy the files of results that a project refers to beside another file of the project.

    A result that lies there already stays as it is; nothing is deleted.

    Args:
        project: refers to the results.
        sources: folders in which results may lie, the first one that has it counts.
        target: project file.

    Raises:
        ResultFileError: some could not be copied, each with its reason; all others are.
    """
    new = folder_of(target).resolve()
    problems: list[Problem] = []
    for kept in [study.result for study in project.studies if study.result is not None]:
        try:
            if not _lies_in(new, kept):
                source = next((one for one in sources if (one / kept.file).exists()), sources[0])
                data = read_limited(source / kept.file, _MOST_BYTES)
                new.mkdir(parents=True, exist_ok=True)
                write_safely((new / kept.file).resolve(), data)
        except OSError as error:
            problems.append(Problem(kept.file, "", f"the results are not copied: {system_reason(error)}"))
    if problems:
        raise ResultFileError(*problems)


def _lies_in(folder: Path, kept: ResultFile) -> bool:
    try:
        data = read_limited(folder / kept.file, _MOST_BYTES)
    except OSError:
        return False
    return hashlib.sha256(data).hexdigest() == kept.checksum


def load_result(path: str | os.PathLike[str], kept: ResultFile | None = None) -> StudyResult:
    """Result of a file.

    Args:
        path: of the file.
        kept: what the project says of it; another content is refused.

    Raises:
        ResultFileError: the file cannot be read, is damaged, or is another than the project says.
    """
    name = Path(path).name
    try:
        data = read_limited(Path(path), _MOST_BYTES)
    except (OSError, ValueError) as error:
        raise ResultFileError.of(name, "", f"the file cannot be read: {system_reason(error)}") from error
    if kept is not None and hashlib.sha256(data).hexdigest() != kept.checksum:
        raise ResultFileError.of(name, "", "the file is another than the one that the project refers to")
    return parse_result(data, name)


def kept_result(project_file: str | os.PathLike[str], asked: Asked) -> StudyResult | None:
    """Result of just these inputs that lies beside a project, whole or in part; None where there is none.

    Raises:
        ResultFileError: there is one, and it cannot be read.
    """
    return result_in(folder_of(project_file), asked)


def result_in(folder: Path, asked: Asked) -> StudyResult | None:
    """As :func:`kept_result`, from a folder of results."""
    path = folder / file_name(asked)
    if not path.exists():
        return None
    result = load_result(path)
    return result if result.asked.inputs == asked.inputs else None


def dump_result(result: StudyResult) -> bytes:
    """Content of the file; equal results have equal content."""
    text = json.dumps(_about(result), ensure_ascii=False, allow_nan=False, sort_keys=True)
    columns, file = result.columns, io.BytesIO()
    np.savez(  # figures of many digits grow no smaller by packing, which takes seconds
        file,
        allow_pickle=False,
        about=np.frombuffer(text.encode(), dtype=np.uint8),
        rows=columns.rows,
        values=columns.values,
        state=columns.state,
    )
    return file.getvalue()


def parse_result(data: bytes, name: str = "result") -> StudyResult:
    """Result of the content of a file.

    Raises:
        ResultFileError: it is damaged.
    """
    try:
        arrays = read_arrays(data, _ARRAYS, _MOST_BYTES)
        about = parse_json(arrays["about"].tobytes().decode(), _MOST_REASONS, 2 * _MOST_REASONS)
        return _result(about, arrays["rows"], arrays["values"], arrays["state"])
    except ValidationError as error:
        raise ResultFileError(*input_error(error, (name,)).problems) from error
    except InputError as error:
        raise ResultFileError(*error.problems) from error
    except Exception as error:  # numpy, zipfile and json raise a dozen types on damaged files
        raise ResultFileError.of(name, "", f"{_DAMAGED}: {str(error)[:80]}") from error


def _about(result: StudyResult) -> dict[str, Any]:
    asked = result.asked
    return {
        "format": FORMAT,
        "version": FORMAT_VERSION,
        "study": asked.study.model_dump(mode="json", exclude={"result"}),
        "variant": asked.variant,
        "car": asked.car.model_dump(mode="json"),
        "situations": [
            {
                "name": one.name,
                "run": one.run.model_dump(mode="json"),
                "load": one.load.model_dump(mode="json"),
            }
            for one in asked.situations
        ],
        "figures": [{**asdict(figure), "value": 0.0} for figure in asked.figures],
        "wanted": [
            {
                "target": one.target.model_dump(mode="json"),
                "situation": one.situation,
                "metric": one.metric,
                "words": one.words,
            }
            for one in asked.wanted
        ],
        "inputs": asked.inputs,
        "reasons": {str(row): reason for row, reason in sorted(result.columns.reasons.items())},
        "total": result.total,
        "finished": result.finished,
        "problem": result.problem,
    }


def _result(about: dict[str, Any], rows: Any, values: Any, state: Any) -> StudyResult:
    if about.get("format") != FORMAT or about.get("version") != FORMAT_VERSION:
        raise InputError.of("format", "", "this is no file of results that this program reads")
    study, car = _STUDY.validate_python(about["study"]), Vehicle.model_validate(about["car"])
    situations = tuple(
        Situated(str(one["name"]), Run.model_validate(one["run"]), LoadCase.model_validate(one["load"]))
        for one in about["situations"]
    )
    figures = tuple(_figure(one) for one in about["figures"])
    asked = Asked(
        study=study,
        variant=str(about["variant"]),
        car=car,
        places=places_of(car, study),
        situations=situations,
        metrics=tuple(figure.key for figure in figures),
        figures=figures,
        wanted=tuple(_wanted(one, len(situations), len(figures)) for one in about["wanted"]),
        inputs=str(about["inputs"]),
    )
    columns = Columns(
        rows,
        values,
        state,
        {int(row): str(reason) for row, reason in about["reasons"].items()},
    )
    _check_shapes(asked, columns)
    return StudyResult(asked, columns, int(about["total"]), bool(about["finished"]), str(about["problem"]))


def _figure(content: dict[str, Any]) -> Figure:
    figure = Figure(**{**content, "value": 0.0})
    texts = (figure.key, figure.label, figure.kind, figure.meaning, figure.better, figure.group)
    if not all(isinstance(text, str) for text in texts) or figure.kind not in KINDS:
        raise ValueError("a figure of no known kind")
    if figure.better not in get_args(Better):
        raise ValueError("a figure of which no way is better")
    return figure


def _wanted(content: dict[str, Any], situations: int, figures: int) -> Wanted:
    situation, metric = int(content["situation"]), int(content["metric"])
    if not (0 <= situation < situations and 0 <= metric < figures):
        raise ValueError("a target of no situation or figure of the study")
    return Wanted(Target.model_validate(content["target"]), situation, metric, str(content["words"]))


def _check_shapes(asked: Asked, columns: Columns) -> None:
    count = len(columns.rows)
    shapes = columns.rows.shape, columns.values.shape, columns.state.shape
    expected = (
        (count, len(asked.places)),
        (count, len(asked.situations), len(asked.metrics)),
        (count,),
    )
    if shapes != expected or (columns.state > REFUSED).any():
        raise ValueError("columns of different lengths")
    if not all(0 <= row < count and columns.state[row] == REFUSED for row in columns.reasons):
        raise ValueError("a reason of a car that was not refused")
    columns.values[columns.state == MISSING] = np.nan
