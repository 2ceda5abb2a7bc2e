"""Pieces of text and JSON that the commands share."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from models.judge import Figure
from models.manoeuvre import Straight
from models.project import Project
from models.roads import road_class
from models.units import KINDS, UnitChoice, factor, format_value

__all__ = ["figure_entry", "finite", "head_of", "run_text", "table_lines"]


def table_lines(rows: Sequence[Sequence[str]], words: int) -> list[str]:
    """Rows of one table below each other, the first one underlined.

    Args:
        rows: cells, the head first.
        words: how many of the first columns stand to the left; the others are numbers.
    """
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    lines = [_aligned(row, widths, words) for row in rows]
    lines.insert(1, "-" * max(map(len, lines)))
    return lines


def _aligned(row: Sequence[str], widths: Sequence[int], words: int) -> str:
    cells = [
        cell.ljust(width) if place < words else cell.rjust(width)
        for place, (cell, width) in enumerate(zip(row, widths, strict=True))
    ]
    return "  ".join(cells).rstrip()


def figure_entry(figure: Figure, units: UnitChoice) -> dict[str, Any]:
    """A figure for JSON, in its unit and in SI."""
    unit, si = units[figure.kind], KINDS[figure.kind].si
    return {
        "label": figure.label,
        "value": finite(figure.value / factor(unit, si)),
        "unit": unit,
        "si_value": finite(figure.value),
        "si_unit": si,
    }


def finite(value: float) -> float | None:
    """JSON has no infinity: a motion centre at infinity is null."""
    return float(value) if math.isfinite(value) else None


def run_text(project: Project, units: UnitChoice) -> str:
    """The run and the load case on one line."""
    run = project.run
    speed = format_value(run.speed, units["speed"], "m/s")
    surface = f"class {road_class(run.surface.roughness)} surface"
    driven = (
        run.event.kind if isinstance(run.manoeuvre, Straight) else f"{run.event.kind}, {run.manoeuvre.kind}"
    )
    return (
        f"{run.model}, {speed} {units['speed']}, {surface}, {driven}, {run.laws} time response, "
        f"load: {project.load.name}"
    )


def head_of(project: Project) -> dict[str, Any]:
    """What JSON says of the project first."""
    return project.model_dump(mode="json", include={"name", "note", "baseline", "candidate"})
