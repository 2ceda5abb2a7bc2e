"""``corduroy spectrum FILE``: spectra and RMS values on the random road of a project."""

from __future__ import annotations

import argparse

from models.analysis import Analysis, analyse
from models.cautions import CAUTIONS
from models.charts import Axis
from models.project import Project, Variant
from models.ride.channels import CHANNELS, channel_index
from models.units import KINDS, UnitChoice, factor, format_value
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
from workbench.commands.text import do_not_stand, finite, head_of, run_text, table_lines
from workbench.figure_text import unit_text

__all__ = ["COMMAND"]

_USUAL = ("pitch", "heave_acceleration", "seat_acceleration")
_KNOWN = tuple(channel.key for channel in CHANNELS)


def _add_options(command: argparse.ArgumentParser) -> None:
    add_project_options(command)
    add_car_options(command)
    add_load_option(command)
    add_curve_options(command)


def _run(options: argparse.Namespace) -> Answer:
    project, units = project_of(options), units_of(options)
    variants = chosen_variants(project, options)
    keys = chosen_keys(options.channel, _USUAL, _KNOWN)
    analyses = [analyse(variant.vehicle, project.run, project.load) for variant in variants]
    found = [_curves(*pair, keys) for pair in zip(variants, analyses, strict=True)]
    if options.json:
        return Answer(_data(project, variants, analyses, found, units))
    lines = [project.name, run_text(project, units), *do_not_stand(variants, analyses)]
    lines += settings_lines(options)
    cautions = "Cautions: " + " ".join(CAUTIONS)
    if options.csv:
        return Answer(csv_text(found, units, [*lines, cautions]))
    rms = table_lines(_rms_rows(variants, analyses, keys, units), 2)
    return Answer("\n".join([*lines, "", *rms, "", *curves_table(found, units), "", cautions]))


def _curves(variant: Variant, analysis: Analysis, keys: list[str]) -> Curves:
    ride = analysis.ride
    channels = []
    for key in keys:
        channel = CHANNELS[channel_index(key)]
        axis = Axis(f"{channel.label} PSD", channel.kind, "psd")
        channels.append(Column(key, axis, ride.psd[channel_index(key)]))
    frequency = Column("frequency", Axis("Frequency", "frequency"), ride.frequency)
    return Curves(variant.name, frequency, tuple(channels))


def _rms_rows(
    variants: list[Variant], analyses: list[Analysis], keys: list[str], units: UnitChoice
) -> list[list[str]]:
    low, high = analyses[0].ride.frequency[[0, -1]]
    rows = [[f"RMS, {low:g} to {high:g} Hz", "Unit", *(variant.name for variant in variants)]]
    for key in keys:
        channel, row = CHANNELS[channel_index(key)], channel_index(key)
        unit, si = units[channel.kind], KINDS[channel.kind].si
        values = [format_value(float(one.ride.rms[row]), unit, si) for one in analyses]
        rows.append([channel.label, unit_text(channel.kind, units), *values])
    return rows


def _data(
    project: Project,
    variants: list[Variant],
    analyses: list[Analysis],
    found: list[Curves],
    units: UnitChoice,
) -> dict[str, object]:
    return {
        "project": head_of(project),
        "run": project.run.model_dump(mode="json"),
        "load_case": project.load.name,
        "variants": {
            variant.name: {
                "does_not_stand": analysis.stand.reason or None,
                **curves_data(curves, units),
                "rms": {one.key: _rms(analysis, one.key, units) for one in curves.channels},
            }
            for variant, analysis, curves in zip(variants, analyses, found, strict=True)
        },
        "cautions": list(CAUTIONS),
    }


def _rms(analysis: Analysis, key: str, units: UnitChoice) -> dict[str, object]:
    kind, value = CHANNELS[channel_index(key)].kind, float(analysis.ride.rms[channel_index(key)])
    unit, si = units[kind], KINDS[kind].si
    return {"value": finite(value / factor(unit, si)), "unit": unit, "si_value": finite(value), "si_unit": si}


COMMAND = Command(
    help="print spectra and RMS values on the random road",
    description="One-sided power spectral densities and RMS values of channels of variants on the random "
    "road of the run (ISO 8608), after the linear model about the static equilibrium.",
    example="large_saloon.corduroy --channel pitch --csv",
    add_options=_add_options,
    run=_run,
)
