"""Load cases of a project: the one that the car carries now stays one of them whatever is done."""

from __future__ import annotations

from typing import TypeVar

from pydantic import ValidationError

from models.errors import InputError, input_error
from models.fields import replaced
from models.project.project import Project, changed, fresh_name
from models.study import Situation, Study, TunedStart
from models.target import Target
from models.vehicle import AS_DESIGNED, LoadCase

__all__ = [
    "add_load_case",
    "choose_load_case",
    "duplicate_load_case",
    "remove_load_case",
    "rename_load_case",
]

S = TypeVar("S", Target, Situation)


def add_load_case(project: Project, case: LoadCase) -> Project:
    """Project with one more load case at the end; its name gets a number if it is taken."""
    names = _case_names(project)
    name = next(
        name for name in (case.name, *(f"{case.name} {n}" for n in range(2, 100))) if name not in names
    )
    return _with_cases(project, (*project.load_cases, _case(name, case)))


def duplicate_load_case(project: Project, name: str) -> Project:
    """Project with a copy of a load case right after it, named "... copy"."""
    place = _case_index(project, name)
    cases = project.load_cases
    copy = _case(fresh_name(name, _case_names(project)), cases[place])
    return _with_cases(project, (*cases[: place + 1], copy, *cases[place + 1 :]))


def rename_load_case(project: Project, name: str, new_name: str) -> Project:
    """Project in which a load case has another name, also where it is carried, has targets or is studied."""
    place = _case_index(project, name)
    cases = project.load_cases
    case = _case(new_name, cases[place])
    chosen = case.name if project.load_case == name else project.load_case
    renamed = _with_cases(project, (*cases[:place], case, *cases[place + 1 :]), chosen)
    return changed(
        renamed,
        targets=_in_case(project.targets, name, case.name),
        studies=tuple(_studied_in_case(study, name, case.name) for study in project.studies),
    )


def remove_load_case(project: Project, name: str) -> Project:
    """Project without that load case; where it is the one carried now, the car is as designed again."""
    place = _case_index(project, name)
    cases = (*project.load_cases[:place], *project.load_cases[place + 1 :])
    return _with_cases(project, cases, AS_DESIGNED.name if project.load_case == name else project.load_case)


def choose_load_case(project: Project, name: str) -> Project:
    """Project in which the car carries another load case, or is as designed."""
    return changed(project, load_case=name)


def _studied_in_case(study: Study, name: str, new_name: str) -> Study:
    if isinstance(study, TunedStart):
        return replaced(study, ("wishes",), _in_case(study.wishes, name, new_name))
    return replaced(study, ("situations",), _in_case(study.situations, name, new_name))


def _in_case(scoped: tuple[S, ...], name: str, new_name: str) -> tuple[S, ...]:
    return tuple(replaced(one, ("load_case",), new_name) if one.load_case == name else one for one in scoped)


def _case_names(project: Project) -> tuple[str, ...]:
    return (AS_DESIGNED.name, *(case.name for case in project.load_cases))


def _case_index(project: Project, name: str) -> int:
    names = _case_names(project)[1:]
    if name not in names:
        known = ", ".join(f"'{known}'" for known in names[:10])
        raise InputError.of(
            "load case", name, f"'{name}' is no load case that can be edited (allowed: {known})"
        )
    return names.index(name)


def _case(name: str, case: LoadCase) -> LoadCase:
    try:
        return LoadCase(name=name, loads=case.loads)
    except ValidationError as error:
        raise input_error(error) from error


def _with_cases(project: Project, cases: tuple[LoadCase, ...], chosen: str | None = None) -> Project:
    return changed(project, load_cases=cases, load_case=project.load_case if chosen is None else chosen)
