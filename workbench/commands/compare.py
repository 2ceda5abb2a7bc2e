"""``corduroy compare FILE``: variants against the baseline, in their parameters, figures and targets."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import Any

from models.cautions import CAUTIONS
from models.errors import InputError
from models.figure_text import unit_text
from models.judge.comparison import Comparison, compare
from models.judge.difference import Difference
from models.judge.scorecard import Cell, Row
from models.judge.scorecard_text import change_cell, label_of, target_words, value_words
from models.project import Project
from models.target import Target
from models.units import KINDS, UnitChoice, factor
from workbench.commands.command import FINDINGS, FINE, Answer, Command
from workbench.commands.driven import add_run_options, run_head
from workbench.commands.options import project_of, settings_lines, units_of
from workbench.commands.text import finite, run_text, table_lines

__all__ = ["COMMAND"]


def _add_options(command: argparse.ArgumentParser) -> None:
    add_run_options(command)
    command.add_argument(
        "--judge", action="store_true", help="exit with 1 where a variant misses a target of the project"
    )


def _run(options: argparse.Namespace) -> Answer:
    project = project_of(options)
    if options.judge and not project.targets:
        raise InputError.of("judge", "", "the project has no targets to judge by")
    found = compare(project, options.variant or ())
    code = FINDINGS if options.judge and _missed(found) else FINE
    if options.json:
        return Answer(_data(project, found, units_of(options)), code)
    head = [project.name, run_text(project, units_of(options)), *settings_lines(options)]
    return Answer("\n".join([*head, *_text_lines(found, units_of(options))]), code)


def _missed(found: Comparison) -> bool:
    """Whether a target is missed by any variant beside the baseline, or by that where it stands alone."""
    alone = len(found.scorecard.variants) == 1
    return any(
        cell.verdict is not None and not cell.verdict.passed
        for row in found.scorecard.rows
        if row.of_project
        for place, cell in enumerate(row.cells)
        if alone or place != found.scorecard.baseline
    )


# -- text ------------------------------------------------------------------------------------------------


def _text_lines(found: Comparison, units: UnitChoice) -> list[str]:
    lines: list[str] = []
    for name, differences in found.differences.items():
        title = f"{name} against {found.baseline}"
        lines += ["", title, "=" * len(title), ""]
        if not differences:
            lines.append("No parameter differs.")
            continue
        rows = [["Parameter", name, found.baseline, "Change"]]
        rows += [[one.words, *one.texts(units), one.change(units)] for one in differences]
        lines += table_lines(rows, 1)
    lines += ["", *table_lines(list(_figure_rows(found, units)), 3)]
    return [*lines, "", "! misses its target", "", "Cautions: " + " ".join(CAUTIONS)]


def _figure_rows(found: Comparison, units: UnitChoice) -> Iterator[list[str]]:
    card = found.scorecard
    places = [card.baseline, *(place for place in range(len(card.variants)) if place != card.baseline)]
    head = ["Figure", "Unit", "Target", f"{found.baseline} (baseline)"]
    for place in places[1:]:
        head += [card.variants[place], "Change"]
    yield head
    for row in card.rows:
        cells = [row.cells[place] for place in places]
        values = [_value(row, cells[0], units)]
        for cell in cells[1:]:
            values += [_value(row, cell, units), change_cell(row, cell, units)]
        yield [label_of(row, units), unit_text(row.figure.kind, units), target_words(row, units), *values]


def _value(row: Row, cell: Cell, units: UnitChoice) -> str:
    missed = cell.verdict is not None and not cell.verdict.passed
    return ("! " if missed else "") + value_words(row, cell, units)


# -- data ------------------------------------------------------------------------------------------------


def _data(project: Project, found: Comparison, units: UnitChoice) -> dict[str, Any]:
    card = found.scorecard
    return {
        **run_head(project),
        "baseline": found.baseline,
        "variants": list(card.variants),
        "differences": {
            name: [_difference(one, units) for one in differences]
            for name, differences in found.differences.items()
        },
        "figures": [_row(row, card.variants, units) for row in card.rows],
        "cautions": list(CAUTIONS),
    }


def _difference(one: Difference, units: UnitChoice) -> dict[str, Any]:
    here, baseline = one.texts(units)
    return {"place": ".".join(map(str, one.path)), "label": one.words, "value": here, "baseline": baseline}


def _row(row: Row, names: tuple[str, ...], units: UnitChoice) -> dict[str, Any]:
    unit, si = units[row.figure.kind], KINDS[row.figure.kind].si
    return {
        "key": row.figure.key,
        "label": row.figure.label,
        "group": row.figure.group,
        "unit": unit,
        "si_unit": si,
        "target": None if row.target is None else _target(row.target, row.of_project, units),
        "problem": row.problem or None,
        "values": {name: _cell(cell, factor(unit, si)) for name, cell in zip(names, row.cells, strict=True)},
    }


def _target(target: Target, of_project: bool, units: UnitChoice) -> dict[str, Any]:
    scale = factor(units[target.kind], KINDS[target.kind].si)
    return {
        "low": None if target.low is None else target.low / scale,
        "high": None if target.high is None else target.high / scale,
        "of": "project" if of_project else "common practice",
        "load_case": target.load_case or None,
        "road_class": target.road_class or None,
        "speed_m_s": target.speed,
    }


def _cell(cell: Cell, scale: float) -> dict[str, Any]:
    verdict = cell.verdict
    return {
        "value": finite(cell.value / scale),
        "si_value": finite(cell.value),
        "change": finite(cell.change / scale),
        "change_share": finite(cell.change_share),
        "met": None if verdict is None else verdict.passed,
        "margin": None if verdict is None else finite(verdict.margin / scale),
        "problem": cell.problem or None,
    }


COMMAND = Command(
    help="hold variants against the baseline",
    description="What differs between variants and the baseline, what that does to the key figures, and how"
    " they meet the targets, in the run of the project, over its road mix and in every "
    "situation that a target names.",
    example="large_saloon.corduroy --set rear.damper.rebound='1800 N·s/m' --judge",
    add_options=_add_options,
    run=_run,
)
