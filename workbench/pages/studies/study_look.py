"""What is known of a study before it runs."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from models.errors import InputError
from models.project import Project
from models.studies import Asked, StudyResult, ask
from models.study import ResultFile, Study
from workbench.pages.studies.study_runs import read_kept

__all__ = ["StudyLook", "looked_at"]


@dataclass(frozen=True, eq=False)
class StudyLook:
    """A study looked up, what is wrong with it, and the results that are kept.

    Attributes:
        study: looked at.
        asked: looked up; None where it cannot be answered.
        trouble: why not.
        result: kept results, where they were not on show already.
        lost: why kept results cannot be read.
    """

    study: Study
    asked: Asked | None = None
    trouble: str = ""
    result: StudyResult | None = None
    lost: str = ""

    def is_of(self, result: StudyResult) -> bool:
        """Whether a result has just these inputs."""
        return self.asked is not None and self.asked.inputs == result.asked.inputs


def looked_at(
    project: Project, study: Study, folders: tuple[Path, ...], known: ResultFile | None
) -> StudyLook:
    """Look at a study, off the GUI thread.

    Args:
        project: has the study.
        study: to be looked at.
        folders: where results are kept.
        known: results that are on show already.
    """
    asked, result, trouble, lost = None, None, "", ""
    if study.result != known:
        try:
            result = read_kept(study, folders)
        except InputError as error:
            lost = str(error)
    try:
        asked = ask(project, study)
    except InputError as error:
        trouble = str(error)
    return StudyLook(study, asked, trouble, result, lost)
