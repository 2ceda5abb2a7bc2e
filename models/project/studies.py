"""Studies of a project."""

from __future__ import annotations

from models.errors import InputError
from models.fields import replaced
from models.project.project import Project, changed
from models.study import Study

__all__ = ["remove_study", "set_study", "study_of"]


def study_of(project: Project, name: str) -> Study:
    """Study of that name.

    Raises:
        InputError: the project has none.
    """
    for study in project.studies:
        if study.name == name:
            return study
    known = ", ".join(f"'{study.name}'" for study in project.studies[:10]) or "it has none"
    raise InputError.of("study", name, f"'{name}' is no study of the project (allowed: {known})")


def set_study(project: Project, study: Study, instead_of: str | None = None) -> Project:
    """Project with a study in place of one, by default of its own name, or at the end."""
    old = study.name if instead_of is None else instead_of
    names = [one.name for one in project.studies]
    studies = list(project.studies)
    if old in names:
        studies[names.index(old)] = study
    else:
        studies.append(study)
    shown = tuple(study.name if name == old else name for name in project.review.studies)
    return changed(project, studies=tuple(studies), review=replaced(project.review, ("studies",), shown))


def remove_study(project: Project, name: str) -> Project:
    """Project without the study of that name; raises :class:`InputError` where there is none."""
    gone = study_of(project, name)
    shown = tuple(shown for shown in project.review.studies if shown != name)
    return changed(
        project,
        studies=tuple(study for study in project.studies if study is not gone),
        review=replaced(project.review, ("studies",), shown),
    )
