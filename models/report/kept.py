"""Results of the chosen studies, from beside the project."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from models.errors import InputError
from models.project import Project, study_of
from models.report.bench import ShownStudy
from models.studies import StudyResult, ask, folder_of, load_result
from models.studies.storage import result_in
from models.study import Study

__all__ = ["kept_studies"]

_NONE = "no results are kept beside the project; run the study first"


def kept_studies(
    project: Project,
    file: str | os.PathLike[str] | None,
    names: Iterable[str],
    elsewhere: Iterable[Path] = (),
) -> tuple[ShownStudy, ...]:
    """Chosen studies with their results; one that has none, or whose file is damaged, says why.

    Args:
        project: defines the studies.
        file: where it lies; None where it was never saved.
        names: of the studies.
        elsewhere: further folders in which results may lie, such as that of projects never saved.

    Raises:
        InputError: the project has no such study.
    """
    folders = [*([] if file is None else [folder_of(file)]), *elsewhere]
    return tuple(_shown(project, folders, name) for name in names)


def _shown(project: Project, folders: list[Path], name: str) -> ShownStudy:
    study = study_of(project, name)
    try:
        result = _result(project, folders, study)
    except InputError as error:
        return ShownStudy(name, None, " ".join(str(error).split()).rstrip("."))
    return ShownStudy(name, result) if result is not None else ShownStudy(name, None, _NONE)


def _result(project: Project, folders: list[Path], study: Study) -> StudyResult | None:
    """Of the present inputs, else of earlier ones, which the document then says; None where there is none."""
    asked = ask(project, study)
    for folder in folders:
        result = result_in(folder, asked)
        if result is not None:
            return result
    if study.result is not None:
        for folder in folders:
            if (folder / study.result.file).exists():
                return load_result(folder / study.result.file, study.result)
    return None
