"""``corduroy spectrum FILE``: spectra and RMS values on the random road of a project."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from functools import partial
from typing import Any

from models.analysis import Analysis
from models.exports import columns_of
from models.figure_text import unit_text
from models.ride.channels import CHANNELS, channel_index
from models.units import KINDS, UnitChoice, factor, format_value
from workbench.commands.command import Command
from workbench.commands.curves import CurveKind, Curves, add_curve_options, curves_answer
from workbench.commands.driven import Driven
from workbench.commands.text import finite, table_lines

__all__ = ["COMMAND"]


def _curves(variant: str, analysis: Analysis, keys: Sequence[str], options: argparse.Namespace) -> Curves:
    columns = columns_of("spectrum", analysis)
    return Curves(variant, columns["frequency"], tuple(columns[key] for key in keys))


def _rms_lines(found: Driven, keys: Sequence[str]) -> list[str]:
    low, high = found.analyses[0].ride.frequency[[0, -1]]
    rows = [[f"RMS, {low:g} to {high:g} Hz", "Unit", *(variant.name for variant in found.variants)]]
    for key in keys:
        channel = CHANNELS[channel_index(key)]
        unit, si = found.units[channel.kind], KINDS[channel.kind].si
        values = [format_value(_rms(analysis, key), unit, si) for analysis in found.analyses]
        rows.append([channel.label, unit_text(channel.kind, found.units), *values])
    return [*table_lines(rows, 2), ""]


def _rms_data(analysis: Analysis, keys: Sequence[str], units: UnitChoice) -> dict[str, Any]:
    return {"rms": {key: _rms_entry(key, _rms(analysis, key), units) for key in keys}}


def _rms_entry(key: str, rms: float, units: UnitChoice) -> dict[str, Any]:
    kind = CHANNELS[channel_index(key)].kind
    unit, si = units[kind], KINDS[kind].si
    return {"value": finite(rms / factor(unit, si)), "unit": unit, "si_value": finite(rms), "si_unit": si}


def _rms(analysis: Analysis, key: str) -> float:
    return float(analysis.ride.rms[channel_index(key)])


_SPECTRA = CurveKind(
    usual=("pitch", "heave_acceleration", "seat_acceleration"),
    known=tuple(channel.key for channel in CHANNELS),
    curves=_curves,
    more_lines=_rms_lines,
    more_data=_rms_data,
)

COMMAND = Command(
    help="print spectra and RMS values on the random road",
    description="One-sided power spectral densities and RMS values of channels of variants on the random "
    "road of the run (ISO 8608), after the linear model about the static equilibrium.",
    example="large_saloon.corduroy --channel pitch --csv",
    add_options=add_curve_options,
    run=partial(curves_answer, _SPECTRA),
)
