"""``corduroy check FILE``: what is wrong with a project."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import Any

from models.errors import InputError
from models.findings import Finding, findings
from models.project import Project
from models.vehicle import AS_DESIGNED
from workbench.commands.command import FINDINGS, FINE, REFUSED, Answer, Command
from workbench.commands.options import add_project_options, project_of, units_of
from workbench.commands.text import head_of, table_lines

__all__ = ["COMMAND"]


def _run(options: argparse.Namespace) -> Answer:
    try:
        project = project_of(options)
    except InputError as error:
        if not options.json:
            raise
        return Answer(_refused(error), REFUSED)
    found = findings(project, units_of(options))
    code = FINE if all(one.remark for one in found) else FINDINGS
    return Answer(_data(project, found) if options.json else _text(project, found), code)


def _text(project: Project, found: Sequence[Finding]) -> str:
    cases = len(project.load_cases) + 1
    looked = (
        f"{len(project.variants)} variants in {cases} load cases, {len(project.targets)} targets, "
        f"{len(project.studies)} studies"
    )
    lines = [project.name, looked, ""]
    if not found:
        return "\n".join([*lines, "Nothing is wrong."])
    rows = [["", "About", "Variant", "Where", "What"]]
    rows += [
        ["" if one.remark else "!", one.subject, one.variant, one.where, " ".join(one.reason.split())]
        for one in found
    ]
    faults = sum(not one.remark for one in found)
    count = f"{faults} {'fault' if faults == 1 else 'faults'}, {len(found) - faults} to know"
    return "\n".join([*lines, *table_lines(rows, len(rows[0])), "", count])


def _data(project: Project, found: Sequence[Finding]) -> dict[str, Any]:
    return {
        "readable": True,
        "project": head_of(project),
        "load_cases": [AS_DESIGNED.name, *(case.name for case in project.load_cases)],
        "problems": [],
        "findings": [
            {
                "about": one.subject,
                "variant": one.variant or None,
                "where": one.where,
                "reason": one.reason,
                "fault": not one.remark,
            }
            for one in found
        ],
    }


def _refused(error: InputError) -> dict[str, Any]:
    problems = [{"field": one.field, "value": one.value, "reason": one.reason} for one in error.problems]
    return {"readable": False, "problems": problems, "findings": []}


COMMAND = Command(
    help="say what is wrong with a project",
    description="Read a project and say what is wrong with it: fields with value, allowed range and unit; "
    "cars that do not stand in a load case or cannot drive the run; targets that cannot be "
    "judged; parts in steel that differ from the car; studies that cannot be asked. ! marks a "
    "fault; the rest is worth knowing.",
    example="my_car.corduroy --json",
    add_options=add_project_options,
    run=_run,
)
