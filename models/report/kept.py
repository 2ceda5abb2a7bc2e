"""Results of the chosen studies, from beside the project."""

from __future__ import annotations

import os
from collections.abc import Iterable

from models.errors import InputError
from models.project import Project, study_of
from models.report.bench import ShownStudy
from models.studies import ask, folder_of, kept_result, load_result

__all__ = ["kept_studies"]

_NONE = "no results are kept beside the project; run the study first"


def kept_studies(
    project: Project, file: str | os.PathLike[str] | None, names: Iterable[str]
) -> tuple[ShownStudy, ...]:
    """Chosen studies with their results; one that has none, or whose file is damaged, says why.

    Args:
        project: defines the studies.
        file: where it lies; None where it was never saved.
        names: of the studies.

    Raises:
        InputError: the project has no such study.
    """
    return tuple(_shown(project, file, name) for name in names)


def _shown(project: Project, file: str | os.PathLike[str] | None, name: str) -> ShownStudy:
    study = study_of(project, name)
    if file is None:
        return ShownStudy(name, None, _NONE)
    try:
        result = kept_result(file, ask(project, study))
        if result is None and study.result is not None:  # of earlier inputs, which the document then says
            result = load_result(folder_of(file) / study.result.file, study.result)
    except InputError as error:
        return ShownStudy(name, None, " ".join(str(error).split()).rstrip("."))
    return ShownStudy(name, result) if result is not None else ShownStudy(name, None, _NONE)
