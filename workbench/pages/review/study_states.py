"""What is kept of the studies that a review could show."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from models.errors import InputError
from models.project import Project
from models.studies import ask, file_name, is_stale
from models.study import Study
from workbench.pages.review.ticked_list import Told

__all__ = ["study_states"]

_NONE = Told("no results yet; start it on the page Studies", warns=True)
_LOST = Told("its results are not there any more; start it again", warns=True)
_STALE = Told("results of an earlier car, run or definition", warns=True)
_KEPT = Told("results kept")


def study_states(project: Project, folders: Iterable[Path]) -> dict[str, Told]:
    """By name of the study: whether there are results, and of the present car."""
    folders = list(folders)
    return {study.name: _state(project, study, folders) for study in project.studies}


def _state(project: Project, study: Study, folders: list[Path]) -> Told:
    if _is_there(project, study, folders):  # kept by the command or in Python, too
        return _KEPT
    if study.result is None:
        return _NONE
    if not any((folder / study.result.file).exists() for folder in folders):
        return _LOST
    return _STALE if is_stale(project, study) else _KEPT


def _is_there(project: Project, study: Study, folders: list[Path]) -> bool:
    """Whether results of the present inputs lie in a folder."""
    try:
        name = file_name(ask(project, study))
    except InputError:
        return False
    return any((folder / name).exists() for folder in folders)
