"""Results of one car with units."""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import cached_property
from pathlib import Path as FilePath
from typing import Any

import numpy as np
import pint
from numpy.typing import NDArray

from models.analysis import Analysis
from models.api.choices import known, unit_choice
from models.api.named import Named, Table
from models.assembly import CORNERS
from models.errors import InputError
from models.exports import DATA, FORMATS, Recording, about_of, encoded, recording, why_missing
from models.figure import Figure
from models.judge.figures import key_figures
from models.project.write_file import write_file
from models.ride.channels import CHANNELS
from models.units import quantity

__all__ = ["Histories", "Result", "Spectra"]

_ROWS = {channel.key: number for number, channel in enumerate(CHANNELS)}
_LOADS = tuple(f"tyre_load_{corner}" for corner in CORNERS)


class Histories(Named[pint.Quantity[Any]]):
    """All channels over the event and the manoeuvre of a run, by key.

    Keys are those of :data:`models.ride.channels.CHANNELS`, and ``tyre_load_FL`` and so on, the whole tyre
    forces.  Values are arrays (N,) with a unit.

    Raises:
        InputError: there is no channel of that key; says which there are.
    """

    def __init__(self, analysis: Analysis) -> None:
        super().__init__("channel", (*_ROWS, *_LOADS), self._history)
        self._analysis = analysis

    @property
    def t(self) -> pint.Quantity[Any]:
        """(N,) time at equal steps, s."""
        return quantity(self._analysis.time.t, "time")

    def _history(self, key: str) -> pint.Quantity[Any]:
        if key in _LOADS:
            return quantity(self._analysis.tyre_load[_LOADS.index(key)], "force")
        row = _ROWS[key]
        return quantity(self._analysis.time.y[row], CHANNELS[row].kind)


class Spectra(Named[pint.Quantity[Any]]):
    """One-sided power spectral densities of all channels on the random road of a run, by key.

    Values are arrays (F,) with a unit, such as (m/s²)²/Hz.

    Raises:
        InputError: there is no channel of that key; says which there are.
    """

    def __init__(self, analysis: Analysis) -> None:
        super().__init__("channel", _ROWS, self._spectrum)
        self._ride = analysis.ride

    @property
    def frequency(self) -> pint.Quantity[Any]:
        """(F,) rising, Hz."""
        return quantity(self._ride.frequency, "frequency")

    @cached_property
    def rms(self) -> Mapping[str, pint.Quantity[Any]]:
        """Root mean square of each channel over the band of :attr:`frequency`, by key."""
        rows = zip(CHANNELS, self._ride.rms, strict=True)
        return Table("channel", {one.key: quantity(float(rms), one.kind) for one, rms in rows})

    def _spectrum(self, key: str) -> pint.Quantity[Any]:
        row = _ROWS[key]
        return quantity(self._ride.psd[row], CHANNELS[row].kind, form="psd")


class Result:
    """What one car does in the run and the load case of its project.

    Attributes:
        analysis: the same as plain numbers and arrays in SI.
        project, variant: names of where it comes from; files say them.
        time: histories of the run.
        spectrum: spectra on its random road.
    """

    def __init__(self, analysis: Analysis, project: str = "", variant: str = "") -> None:
        self.analysis = analysis
        self.project, self.variant = project, variant
        self.time = Histories(analysis)
        self.spectrum = Spectra(analysis)

    @property
    def stands(self) -> bool:
        """Whether the car stands in its load case; if not, results are linear; :attr:`why_not` says why."""
        return self.analysis.stand.stable

    @property
    def why_not(self) -> str:
        """Why the car does not stand; empty where it does."""
        return self.analysis.stand.reason

    @cached_property
    def described(self) -> Mapping[str, Figure]:
        """Key figures with label, meaning and formula, by key; values in SI."""
        return Table("figure", {figure.key: figure for figure in key_figures(self.analysis)})

    @cached_property
    def figures(self) -> Mapping[str, pint.Quantity[Any]]:
        """Key figures by key, in the order in which they are read."""
        values = {key: quantity(figure.value, figure.kind) for key, figure in self.described.items()}
        return Table("figure", values)

    @cached_property
    def modes(self) -> Mapping[str, tuple[pint.Quantity[Any], float]]:
        """Undamped frequency (nan where there is none) and damping ratio of each natural mode, by name."""
        found = self.analysis.modes
        rows = zip(found.names, found.frequency, found.damping_ratio, strict=True)
        return Table(
            "mode", {name: (quantity(float(f), "frequency"), float(ratio)) for name, f, ratio in rows}
        )

    def table(self, what: str = "time", units: str = "metric") -> dict[str, NDArray[np.float64]]:
        """Columns by head with unit ("Pitch angle (deg)"), that which the others are over first.

        ``pandas.DataFrame(result.table())`` makes a frame of them.

        Args:
            what: "time", "spectrum", "response" (per road height, both tracks alike) or "sweep" (figures of
                the random road over vehicle speed).
            units: "metric", "inch-pound" or "si".

        Returns:
            arrays (N,) of plain numbers.

        Raises:
            InputError: there are no such data or units; says which there are.
        """
        choice = unit_choice(units)
        return {column.head(choice): column.shown(choice) for column in self._recording(what).columns}

    def export(self, path: str | os.PathLike[str], what: str = "time", units: str = "metric") -> FilePath:
        """Write a file for other tools; gives its path.

        Args:
            path: its suffix names the format: ``.csv``, ``.mat`` (level 5) or ``.mf4`` (ASAM MDF 4, which
                needs the extra ``measured``).
            what, units: as of :meth:`table`.

        Raises:
            InputError: as of :meth:`table`, or the format is not known or not installed, or the file cannot
                be written; what was there then is as it was.
        """
        target = FilePath(path)
        form = known("format", target.suffix.lower(), {one.suffix: name for name, one in FORMATS.items()})
        if why_missing(form):
            raise InputError.of("format", form, why_missing(form))
        write_file(target, encoded(self._recording(what), form, unit_choice(units)))
        return target

    def _recording(self, what: str) -> Recording:
        known("data", what, DATA)
        return recording(what, self.analysis, about_of(self.project, self.variant, self.analysis))

    def __repr__(self) -> str:
        run = self.analysis.run
        return f"<Result: {run.model}, {run.event.kind}, {len(self.described)} figures>"
