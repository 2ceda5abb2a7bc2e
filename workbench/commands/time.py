"""``corduroy time FILE``: what happens over time in the run of a project."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from models.analysis import Analysis
from models.assembly import CORNERS
from models.errors import InputError
from models.exports import columns_of
from models.ride.channels import CHANNELS
from models.units import UnitError, from_text
from workbench.commands.command import Answer, Command
from workbench.commands.curves import CurveKind, Curves, add_curve_options, curves_answer

__all__ = ["COMMAND"]


def _add_options(command: argparse.ArgumentParser) -> None:
    add_curve_options(command)
    command.add_argument(
        "--every", metavar="TIME", help="print one sample each '20 ms' or so; by default every one"
    )


def _run(options: argparse.Namespace) -> Answer:
    options.every = _spacing(options.every)
    return curves_answer(_HISTORIES, options)


def _spacing(text: str | None) -> float:
    if text is None:
        return 0.0
    try:
        spacing = from_text(text, "s")
    except UnitError as error:
        raise InputError.of("every", text, f"{error} (0 s or more, in s or ms)") from error
    if spacing < 0:
        raise InputError.of("every", text, f"{text} is outside the allowed range (0 s or more)")
    return spacing


def _curves(variant: str, analysis: Analysis, keys: Sequence[str], options: argparse.Namespace) -> Curves:
    columns, t = columns_of("time", analysis), analysis.time.t
    each = max(1, round(options.every / float(t[1] - t[0])))
    return Curves(variant, columns["time"].thinned(each), tuple(columns[key].thinned(each) for key in keys))


_HISTORIES = CurveKind(
    usual=("pitch", "heave", "seat_acceleration"),
    known=(*(channel.key for channel in CHANNELS), *(f"tyre_load_{corner}" for corner in CORNERS)),
    curves=_curves,
    more_lines=lambda found, keys: [],
    more_data=lambda analysis, keys, units: {"laws": "linear" if analysis.nonlinear is None else "nonlinear"},
)

COMMAND = Command(
    help="print what happens over time in the run",
    description="Drive variants over the event and the manoeuvre of the run, and print channels over time.",
    example="large_saloon.corduroy --channel pitch --channel travel_FL --every '20 ms' --csv",
    add_options=_add_options,
    run=_run,
)
