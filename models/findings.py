"""What is wrong with a project although its file can be read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from models.assembly import mechanics
from models.errors import InputError
from models.judge.part_report import part_reports
from models.judge.scorecard import outcome, scorecard, wanted_cases
from models.project import Project, Variant
from models.statics import statics
from models.studies import ask
from models.units import KINDS, METRIC, UnitChoice, format_value
from models.vehicle import AS_DESIGNED, LoadCase

__all__ = ["Finding", "findings"]

Subject = Literal["stand", "run", "target", "steel", "study"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong.

    Attributes:
        subject: "stand", a car that does not stand in a load case, or not freely; "run", one that cannot
            drive the run; "target", one that cannot be judged; "steel", a part that differs from the car;
            "study", one that cannot be asked.
        variant: whose it is; empty where it is the project's.
        where: load case, figure, part or study.
        reason: what is wrong, in words.
        remark: worth knowing, but no fault: a stop that carries load at rest, say.
    """

    subject: Subject
    variant: str
    where: str
    reason: str
    remark: bool = False


def findings(project: Project, units: UnitChoice = METRIC) -> tuple[Finding, ...]:
    """Everything that is wrong, the cars first; units are those of the reasons."""
    return tuple(_findings(project, units))


def _findings(project: Project, units: UnitChoice) -> Iterator[Finding]:
    for variant in project.variants:
        for case in (AS_DESIGNED, *project.load_cases):
            yield from _stand(variant, case)
    yield from _judged(project)
    for variant in project.variants:
        yield from _steel(project, variant, units)
    for study in project.studies:
        try:
            ask(project, study)
        except InputError as error:
            for problem in error.problems:
                yield Finding("study", study.variant, study.name, problem.reason)


def _stand(variant: Variant, case: LoadCase) -> Iterator[Finding]:
    try:
        stand = statics(mechanics(variant.vehicle, case))
    except InputError as error:
        yield Finding("stand", variant.name, case.name, error.problems[0].reason)
        return
    if not stand.stable:
        yield Finding("stand", variant.name, case.name, f"does not stand, {stand.reason}")
    for warning in stand.warnings:
        yield Finding("stand", variant.name, case.name, warning, remark=True)


def _judged(project: Project) -> Iterator[Finding]:
    """Runs that come to no figures, and targets that nothing can be held against."""
    outcomes = {case: outcome(case) for case in wanted_cases(project)}
    card = scorecard(project, outcomes)
    for case, one in outcomes.items():
        if one.problem:
            names = [variant.name for variant in project.variants if variant.vehicle == case.vehicle]
            for name in names:
                yield Finding("run", name, case.load.name, one.problem)
    for row in card.rows:
        if row.target is None or not row.of_project:
            continue
        if row.problem:
            yield Finding("target", "", row.figure.label, row.problem)
            continue
        for name, cell in zip(card.variants, row.cells, strict=True):
            if cell.verdict is None and not cell.problem:
                yield Finding("target", name, row.figure.label, "the car has no such figure")


def _steel(project: Project, variant: Variant, units: UnitChoice) -> Iterator[Finding]:
    for report in part_reports(variant.vehicle, variant.hardware, project.load_cases).values():
        if report.part is None:
            continue
        for change in report.mismatch:
            unit, si = units[change.kind], KINDS[change.kind].si
            car, steel = (format_value(value, unit, si, 4) for value in (change.car, change.steel))
            reason = f"{change.label} {car} in the car, {steel} {'' if unit == '1' else unit}".rstrip()
            yield Finding("steel", variant.name, report.name, f"{reason} in steel")
