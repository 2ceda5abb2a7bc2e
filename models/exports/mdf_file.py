"""Recordings as ASAM MDF 4 files, through the library asammdf of the extra ``measured``."""

from __future__ import annotations

import io
from importlib.util import find_spec

import numpy as np

from models.errors import InputError
from models.exports.recording import Recording
from models.program import VERSION
from models.units import UnitChoice

__all__ = ["mdf_bytes", "why_no_mdf"]

_VERSION = "4.10"
_EPOCH = 0  # a computed history has no time of day; a fixed one lets the same recording give the same bytes


def why_no_mdf() -> str:
    """Why MDF files cannot be written here; empty where they can."""
    if find_spec("asammdf") is None:
        return "MDF needs the library asammdf. Install the extra: pip install 'corduroy[measured]'"
    return ""


def mdf_bytes(recording: Recording, units: UnitChoice) -> bytes:
    """One channel group over time in s; or over the index of the sample, as MDF knows no master of frequency.

    Channels have the names of the trade, with the stable key as display name.  Header, file history and
    group say where the data comes from.

    Raises:
        InputError: the library is not installed.
    """
    if why_no_mdf():
        raise InputError.of("format", "mdf", why_no_mdf())
    from asammdf import MDF, Signal

    first, *others = recording.columns
    if recording.over_time:
        master, over, synchronised = first.values, ("Time", 1), others
    else:
        master, over = np.arange(len(first.values), dtype=np.float64), ("Index", 4)
        synchronised = list(recording.columns)
    signals = [
        Signal(
            samples=column.shown(units),
            timestamps=master,
            name=column.axis.label,
            unit=column.unit(units),
            master_metadata=over,
            display_names={column.key: "key"},
        )
        for column in synchronised
    ]
    buffer = io.BytesIO()
    with MDF(version=_VERSION) as file:
        _describe(file, recording)
        file.append(signals, acq_name=recording.title, comment=recording.title, common_timebase=True)
        file.save(buffer, add_history_block=False)  # ours is there already, and has a fixed time
    return buffer.getvalue()


def _describe(file: object, recording: Recording) -> None:
    """Header and file history."""
    from asammdf.blocks.v4_blocks import FileHistory

    about = {name: _printable(text) for name, text in recording.about.lines}
    header = file.header  # type: ignore[attr-defined]
    header.abs_time, header.tz_offset, header.daylight_save_time, header.time_flags = _EPOCH, 0, 0, 0
    header.project, header.subject, header.author = about["project"], about["variant"], about["program"]
    lines = [recording.title, *(f"{name}: {text}" for name, text in about.items())]
    header.description = "\n".join(lines)
    history = FileHistory()
    history.abs_time, history.tz_offset, history.daylight_save_time, history.time_flags = _EPOCH, 0, 0, 0
    history.comment = (
        f"<FHcomment><TX>computed</TX><tool_id>Corduroy</tool_id><tool_vendor>Corduroy</tool_vendor>"
        f"<tool_version>{VERSION}</tool_version></FHcomment>"
    )
    file.file_history.append(history)  # type: ignore[attr-defined]


def _printable(text: str) -> str:
    """Without control signs, which no XML may hold."""
    return "".join(sign if sign.isprintable() else " " for sign in text)
