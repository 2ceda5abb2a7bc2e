"""Formats of data files by name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from models.exports.csv_file import csv_bytes
from models.exports.mat_file import mat_bytes
from models.exports.mdf_file import mdf_bytes, why_no_mdf
from models.exports.recording import Recording
from models.units import UnitChoice

__all__ = ["FORMATS", "DataFormat", "encoded", "why_missing"]


@dataclass(frozen=True, slots=True)
class DataFormat:
    """A format on offer.

    Attributes:
        suffix: of its files.
        title: for a list of choices.
        content: of a file.
    """

    suffix: str
    title: str
    content: Callable[[Recording, UnitChoice], bytes]


#: Formats by name.  The same recording gives the same bytes in each, with the same version of the library.
FORMATS: dict[str, DataFormat] = {
    "csv": DataFormat(".csv", "CSV, text with units in the heads", csv_bytes),
    "mat": DataFormat(".mat", "MAT, level 5", mat_bytes),
    "mdf": DataFormat(".mf4", "ASAM MDF 4", mdf_bytes),
}


def encoded(recording: Recording, form: str, units: UnitChoice) -> bytes:
    """Content of a file.

    Raises:
        InputError: the format needs a library that is not installed.
    """
    return FORMATS[form].content(recording, units)


def why_missing(form: str) -> str:
    """Why a format cannot be written here; empty where it can."""
    return why_no_mdf() if form == "mdf" else ""
