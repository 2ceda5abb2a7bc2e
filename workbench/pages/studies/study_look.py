"""What is known of a study before it runs."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from models.errors import InputError
from models.project import Project
from models.studies import Cost, StudyResult, Workers, ask, cost
from models.study import ResultFile, Study
from workbench.pages.studies.study_runs import read_kept
from workbench.runner import Job

__all__ = ["StudyLook", "looked_at"]


@dataclass(frozen=True, eq=False)
class StudyLook:
    """Inputs and cost of a study, what is wrong with it, and the results that are kept.

    Attributes:
        study: looked at.
        inputs: hash of all that results depend on; empty where the study cannot be answered.
        cost: estimate; None where there is none.
        targets: how many judge its cars.
        trouble: why it cannot be answered.
        result: kept results, where they were not known before.
        lost: why kept results cannot be read.
    """

    study: Study
    inputs: str = ""
    cost: Cost | None = None
    targets: int = 0
    trouble: str = ""
    result: StudyResult | None = None
    lost: str = ""


def looked_at(
    project: Project,
    study: Study,
    workers: Workers,
    folders: tuple[Path, ...],
    known: ResultFile | None,
    job: Job,
) -> StudyLook:
    """Look at a study, off the GUI thread.

    Args:
        project: has the study.
        study: to be looked at.
        workers: the cost is estimated in them.
        folders: where results are kept.
        known: results that are on show already.
        job: what this is done for.
    """
    result, lost = None, ""
    if study.result is not None and study.result != known:
        try:
            result = read_kept(study, folders)
        except InputError as error:
            lost = str(error)
    job.report(0.0)
    try:
        asked = ask(project, study)
        found = cost(asked, workers, lambda: job.cancelled)
        return StudyLook(study, asked.inputs, found, len(asked.wanted), "", result, lost)
    except InputError as error:
        return StudyLook(study, "", None, 0, str(error), result, lost)
