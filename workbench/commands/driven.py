"""Variants of a project driven in its run: what several commands print."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from typing import Any

from models.analysis import Analysis, analyse
from models.project import Project, Variant
from models.units import UnitChoice
from workbench.commands.options import (
    add_car_options,
    add_load_option,
    add_project_options,
    chosen_variants,
    project_of,
    settings_lines,
    units_of,
)
from workbench.commands.text import head_of, run_text

__all__ = ["Driven", "add_run_options", "driven", "run_head"]


@dataclass(frozen=True, slots=True, eq=False)
class Driven:
    """What was driven.

    Attributes:
        project: with the values that were set by hand.
        variants, analyses: those asked for, and their results in the same order.
        units: of display.
        lines: name, run, what was set by hand and which cars do not stand, for a reader.
    """

    project: Project
    variants: tuple[Variant, ...]
    analyses: tuple[Analysis, ...]
    units: UnitChoice
    lines: tuple[str, ...]


def add_run_options(command: argparse.ArgumentParser) -> None:
    """The file, the variants with values set by hand, and the load case."""
    add_project_options(command)
    add_car_options(command)
    add_load_option(command)


def driven(options: argparse.Namespace) -> Driven:
    """Drive what is asked for.

    Raises:
        InputError: file, variant, load case or value are refused.
    """
    project, units = project_of(options), units_of(options)
    variants = tuple(chosen_variants(project, options))
    analyses = tuple(analyse(variant.vehicle, project.run, project.load) for variant in variants)
    falling = [
        f"{variant.name}: does not stand, {analysis.stand.reason}; linear results only"
        for variant, analysis in zip(variants, analyses, strict=True)
        if not analysis.stand.stable
    ]
    lines = (project.name, run_text(project, units), *falling, *settings_lines(options))
    return Driven(project, variants, analyses, units, lines)


def run_head(project: Project) -> dict[str, Any]:
    """What JSON says first of results of a run."""
    return {
        "project": head_of(project),
        "run": project.run.model_dump(mode="json"),
        "load_case": project.load.name,
    }
