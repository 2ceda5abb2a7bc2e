"""``corduroy packaging FILE``: travel and clearance against their limits, and the tolerance stack at trim."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from models.analysis import analyse
from models.cautions import CAUTIONS
from models.figure_text import unit_text, value_text
from models.judge.packaging import Checked, PackagingReport, packaging
from models.judge.packaging_text import limit_words, number, reasons, verdict, with_unit, yield_words
from models.judge.trim_rows import StackRow, left_out, method, stack_rows
from models.judge.trim_tolerance import TrimStack, bar_diameters, trim_stack
from models.project import Project, Variant
from models.units import KINDS, UnitChoice, factor
from models.vehicle import AS_DESIGNED
from workbench.commands.command import Command
from workbench.commands.driven import add_run_options
from workbench.commands.options import printed
from workbench.commands.text import figure_entry, finite, head_of, table_lines

__all__ = ["COMMAND"]


def _text(project: Project, variants: Sequence[Variant], units: UnitChoice) -> str:
    """Tables of the checks and of the stack of each variant."""
    lines = [project.name]
    for variant in variants:
        lines += ["", variant.name, "=" * len(variant.name), ""]
        lines += _checks(_report(project, variant), units)
        lines += ["", *_stack(_trim_stack(project, variant), units)]
    return "\n".join([*lines, "", "Cautions: " + " ".join(CAUTIONS)])


def _data(project: Project, variants: Sequence[Variant], units: UnitChoice) -> dict[str, Any]:
    """The same as data."""
    return {
        "project": head_of(project),
        "load_cases": [AS_DESIGNED.name, *(case.name for case in project.load_cases)],
        "variants": {variant.name: _entry(project, variant, units) for variant in variants},
        "cautions": list(CAUTIONS),
    }


def _report(project: Project, variant: Variant) -> PackagingReport:
    analysis = analyse(variant.vehicle, project.run, project.load)
    return packaging(analysis, (AS_DESIGNED, *project.load_cases), variant.hardware)


def _trim_stack(project: Project, variant: Variant) -> TrimStack:
    steel = variant.hardware
    return trim_stack(variant.vehicle, steel.trim_tolerances, project.load, diameters=bar_diameters(steel))


def _checks(report: PackagingReport, units: UnitChoice) -> list[str]:
    rows = [["Check", "Place", "Load case", "Unit", "Value", "Limit", "Margin"]]
    rows += [_check(check, units) for check in report.checks]
    return [*table_lines(rows, 4), "", *filter(None, (verdict(report.checks), reasons(report)))]


def _check(check: Checked, units: UnitChoice) -> list[str]:
    kind = check.figure.kind
    room = "" if check.met is None else number(check.margin, kind, units)
    return [
        check.figure.label,
        check.place,
        check.case,
        unit_text(kind, units),
        number(check.figure.value, kind, units),
        limit_words(check, units),
        f"! {room}" if check.met is False else room,
    ]


def _stack(stack: TrimStack, units: UnitChoice) -> list[str]:
    title = f"Tolerance stack at trim, load: {stack.load}"
    if stack.reason:
        return [title, f"The car does not stand, {stack.reason}."]
    length, angle = units["travel"], units["angle"]
    head = ["What is off", "Tolerance", f"Front, {length}", f"Rear, {length}", f"Pitch, {angle}"]
    head += [f"{place}, % of variance" for place in ("Front", "Rear", "Pitch")]
    rows = table_lines([head, *(_row(row, units) for row in stack_rows(stack))], 1)
    return [title, "", *rows, "", yield_words(stack, units), method(stack), left_out()]


def _row(row: StackRow, units: UnitChoice) -> list[str]:
    allowed = row.tolerance
    return [
        row.label,
        "" if allowed is None else f"± {with_unit(allowed.value, allowed.kind, units)}",
        *(value_text(figure, units).replace("-", "−") for figure in row.change),
        *(f"{100 * figure.value:.1f}" for figure in row.share),
        *[""] * (3 - len(row.share)),
    ]


def _entry(project: Project, variant: Variant, units: UnitChoice) -> dict[str, Any]:
    report, stack = _report(project, variant), _trim_stack(project, variant)
    return {
        "does_not_stand": {
            case: reason
            for case, reason in zip(report.envelope.cases, report.envelope.reasons, strict=True)
            if reason
        },
        "checks": [_check_entry(check, units) for check in report.checks],
        "tolerance_stack": {
            "load_case": stack.load,
            "does_not_stand": stack.reason or None,
            "draws": len(stack.draws),
            "seed": stack.seed,
            "rows": {} if stack.reason else {row.key: _row_entry(row, units) for row in stack_rows(stack)},
            "within": finite(stack.within),
            "within_95_percent_confidence": [finite(share) for share in stack.within_limits()],
            "method": method(stack),
            "left_out": left_out(),
        },
    }


def _check_entry(check: Checked, units: UnitChoice) -> dict[str, Any]:
    kind = check.figure.kind
    scale = factor(units[kind], KINDS[kind].si)
    return {
        "key": check.figure.key,
        **figure_entry(check.figure, units),
        "place": check.place,
        "load_case": check.case or None,
        "limit": finite(check.limit / scale),
        "sense": check.sense,
        "margin": finite(check.margin / scale),
        "met": check.met,
    }


def _row_entry(row: StackRow, units: UnitChoice) -> dict[str, Any]:
    return {
        "label": row.label,
        "tolerance": None if row.tolerance is None else figure_entry(row.tolerance, units),
        "change": {figure.key: figure_entry(figure, units) for figure in row.change},
        "share": {figure.key: figure_entry(figure, units) for figure in row.share},
    }


COMMAND = Command(
    help="print travel and clearance against their limits, and the tolerance stack at trim",
    description="Wheel travel, ground clearance and angles of the variants of a project in its load cases "
    "and its run, and what tolerances do to the height at trim; ! marks what misses its limit.",
    example="large_saloon.corduroy --variant 'joined torsion bars'",
    add_options=add_run_options,
    run=printed(_text, _data),
)
