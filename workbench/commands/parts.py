"""``corduroy parts FILE``: what the parts in steel give and bear, and where the car differs from them."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Sequence
from typing import Any

from models.cautions import CAUTIONS, HARDWARE_CAUTIONS
from models.figure_text import unit_text, value_text
from models.hardware import Change
from models.judge import Figure
from models.judge.part_report import PartReport, StateTable, is_exceeded, part_reports
from models.project import Project, Variant
from models.units import KINDS, UnitChoice, factor, format_value
from workbench.commands.command import Command
from workbench.commands.options import add_car_options, add_project_options, printed
from workbench.commands.text import figure_entry, finite, head_of, table_lines

__all__ = ["COMMAND"]

_CAUTIONS = (*HARDWARE_CAUTIONS, *CAUTIONS)


def _text(project: Project, variants: Sequence[Variant], units: UnitChoice) -> str:
    """Tables of the parts of each variant."""
    lines = [project.name]
    for variant in variants:
        lines += ["", variant.name, "=" * len(variant.name)]
        reports = _described(project, variant)
        for report in reports:
            lines += ["", *_part(report, units)]
        if not reports:
            lines += ["", "No part in steel is described."]
    return "\n".join([*lines, "", "Cautions: " + " ".join(_CAUTIONS)])


def _data(project: Project, variants: Sequence[Variant], units: UnitChoice) -> dict[str, Any]:
    """The same as data."""
    return {
        "project": head_of(project),
        "load_cases": [case.name for case in project.load_cases],
        "variants": {
            variant.name: {report.place: _entry(report, units) for report in _described(project, variant)}
            for variant in variants
        },
        "cautions": list(_CAUTIONS),
    }


def _described(project: Project, variant: Variant) -> list[PartReport]:
    reports = part_reports(variant.vehicle, variant.hardware, project.load_cases)
    return [report for report in reports.values() if report.part is not None]


def _part(report: PartReport, units: UnitChoice) -> Iterable[str]:
    yield report.name
    yield from table_lines([["Figure", "Unit", "Value"], *_figure_rows(report.figures, units)], 2)
    if report.states.rows:
        yield ""
        yield from table_lines(_state_rows(report.states, units), 1)
    for title, figures in report.groups:
        yield ""
        yield from table_lines([[title, "Unit", "Value"], *_figure_rows(figures, units)], 2)
    yield ""
    if not report.mismatch:
        yield "The car has these values within 1 %."
    for change in report.mismatch:
        yield f"Differs from the car: {_change(change, units)}"


def _figure_rows(figures: Iterable[Figure], units: UnitChoice) -> list[list[str]]:
    return [[figure.label, unit_text(figure.kind, units), _value(figure, units)] for figure in figures]


def _state_rows(table: StateTable, units: UnitChoice) -> list[list[str]]:
    kinds = [cell.kind for cell in table.rows[0].cells]
    heads = [
        f"{column}, {unit}" if (unit := unit_text(kind, units)) else column
        for column, kind in zip(table.columns, kinds, strict=True)
    ]
    rows = [[row.name, *(_value(cell, units) for cell in row.cells)] for row in table.rows]
    return [["State", *heads], *rows]


def _value(figure: Figure, units: UnitChoice) -> str:
    text = value_text(figure, units)
    return f"! {text}" if is_exceeded(figure) else text


def _change(change: Change, units: UnitChoice) -> str:
    unit, si = units[change.kind], KINDS[change.kind].si
    car, steel = (format_value(value, unit, si, 4) for value in (change.car, change.steel))
    return f"{change.label} {car} in the car, {steel} {unit_text(change.kind, units)} in steel".rstrip()


def _entry(report: PartReport, units: UnitChoice) -> dict[str, Any]:
    return {
        "label": report.name,
        "figures": _entries(report.figures, units),
        "states": {
            row.key: {"label": row.name, "figures": _entries(row.cells, units)} for row in report.states.rows
        },
        "groups": {title: _entries(figures, units) for title, figures in report.groups},
        "exceeded": [
            figure.label
            for figure in (*report.figures, *(cell for row in report.states.rows for cell in row.cells))
            if is_exceeded(figure)
        ],
        "mismatch": [_change_entry(change, units) for change in report.mismatch],
    }


def _entries(figures: Iterable[Figure], units: UnitChoice) -> dict[str, Any]:
    return {figure.key: figure_entry(figure, units) for figure in figures}


def _change_entry(change: Change, units: UnitChoice) -> dict[str, Any]:
    unit, si = units[change.kind], KINDS[change.kind].si
    return {
        "label": change.label,
        "car": finite(change.car / factor(unit, si)),
        "steel": finite(change.steel / factor(unit, si)),
        "unit": unit,
        "difference": finite(change.difference),
    }


def _add_options(command: argparse.ArgumentParser) -> None:
    add_project_options(command)
    add_car_options(command)


COMMAND = Command(
    help="print what the parts in steel give and bear",
    description="Rate, stress, mass and more of the springs and bars that are described in a project, in "
    "each load case and at the stops, and where the car differs from them; ! marks what exceeds"
    " a limit.",
    example="large_saloon.corduroy --variant 'joined torsion bars'",
    add_options=_add_options,
    run=printed(_text, _data),
    cautions=_CAUTIONS,
)
