"""``corduroy time FILE``: what happens over time in the run of a project."""

from __future__ import annotations

import argparse

from models.analysis import Analysis, analyse
from models.assembly import CORNERS
from models.cautions import CAUTIONS
from models.charts import Axis
from models.errors import InputError
from models.project import Project, Variant
from models.ride.channels import CHANNELS
from models.units import UnitError, from_text
from workbench.commands.command import Answer, Command
from workbench.commands.curves import (
    Column,
    Curves,
    add_curve_options,
    chosen_keys,
    csv_text,
    curves_data,
    curves_table,
)
from workbench.commands.options import (
    add_car_options,
    add_load_option,
    add_project_options,
    chosen_variants,
    project_of,
    settings_lines,
    units_of,
)
from workbench.commands.text import do_not_stand, head_of, run_text

__all__ = ["COMMAND"]

_USUAL = ("pitch", "heave", "seat_acceleration")
_LOADS = tuple(f"tyre_load_{corner}" for corner in CORNERS)
_KNOWN = (*(channel.key for channel in CHANNELS), *_LOADS)


def _add_options(command: argparse.ArgumentParser) -> None:
    add_project_options(command)
    add_car_options(command)
    add_load_option(command)
    add_curve_options(command)
    command.add_argument(
        "--every", metavar="TIME", help="print one sample each '20 ms' or so; by default every one"
    )


def _run(options: argparse.Namespace) -> Answer:
    project, units = project_of(options), units_of(options)
    variants = chosen_variants(project, options)
    keys = chosen_keys(options.channel, _USUAL, _KNOWN)
    spacing = _spacing(options.every)
    analyses = [analyse(variant.vehicle, project.run, project.load) for variant in variants]
    found = [_curves(*pair, keys, spacing) for pair in zip(variants, analyses, strict=True)]
    if options.json:
        return Answer(_data(project, variants, analyses, found, options))
    lines = [project.name, run_text(project, units), *do_not_stand(variants, analyses)]
    lines += settings_lines(options)
    cautions = "Cautions: " + " ".join(CAUTIONS)
    if options.csv:
        return Answer(csv_text(found, units, [*lines, cautions]))
    return Answer("\n".join([*lines, "", *curves_table(found, units), "", cautions]))


def _spacing(text: str | None) -> float:
    if text is None:
        return 0.0
    try:
        spacing = from_text(text, "s")
    except UnitError as error:
        raise InputError.of("every", text, f"every: {error} (0 s or more, in s or ms)") from error
    if spacing < 0:
        raise InputError.of("every", text, f"every: {text} is outside the allowed range (0 s or more)")
    return spacing


def _curves(variant: Variant, analysis: Analysis, keys: list[str], spacing: float) -> Curves:
    t = analysis.time.t
    each = max(1, round(spacing / float(t[1] - t[0])))
    channels = []
    for key in keys:
        row = _KNOWN.index(key)
        if key in _LOADS:
            axis, values = Axis(f"Tyre load {key[-2:]}", "force"), analysis.tyre_load[_LOADS.index(key)]
        else:
            axis, values = Axis(CHANNELS[row].label, CHANNELS[row].kind), analysis.time.y[row]
        channels.append(Column(key, axis, values[::each]))
    return Curves(variant.name, Column("time", Axis("Time", "time"), t[::each]), tuple(channels))


def _data(
    project: Project,
    variants: list[Variant],
    analyses: list[Analysis],
    found: list[Curves],
    options: argparse.Namespace,
) -> dict[str, object]:
    return {
        "project": head_of(project),
        "run": project.run.model_dump(mode="json"),
        "load_case": project.load.name,
        "variants": {
            variant.name: {
                "does_not_stand": analysis.stand.reason or None,
                "laws": "linear" if analysis.nonlinear is None else "nonlinear",
                **curves_data(curves, units_of(options)),
            }
            for variant, analysis, curves in zip(variants, analyses, found, strict=True)
        },
        "cautions": list(CAUTIONS),
    }


COMMAND = Command(
    help="print what happens over time in the run",
    description="Drive variants over the event and the manoeuvre of the run, and print channels over time.",
    example="large_saloon.corduroy --channel pitch --channel travel_FL --every '20 ms' --csv",
    add_options=_add_options,
    run=_run,
)
