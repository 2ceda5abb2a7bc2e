"""Results of one car with units."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Any

import pint

from models.analysis import Analysis
from models.assembly import CORNERS
from models.errors import InputError
from models.figure import Figure
from models.judge.figures import key_figures
from models.ride.channels import CHANNELS
from models.units import quantity

__all__ = ["Histories", "Result", "Spectra"]

_ROWS = {channel.key: number for number, channel in enumerate(CHANNELS)}
_LOADS = tuple(f"tyre_load_{corner}" for corner in CORNERS)


class Histories(Mapping[str, pint.Quantity[Any]]):
    """All channels over the event and the manoeuvre of a run, by key.

    Keys are those of :data:`models.ride.channels.CHANNELS`, and ``tyre_load_FL`` and so on, the whole tyre
    forces.  Values are arrays (N,) with a unit.

    Raises:
        InputError: there is no channel of that key; says which there are.
    """

    def __init__(self, analysis: Analysis) -> None:
        self._analysis = analysis

    @property
    def t(self) -> pint.Quantity[Any]:
        """(N,) time at equal steps, s."""
        return quantity(self._analysis.time.t, "time")

    def __getitem__(self, key: str) -> pint.Quantity[Any]:
        if key in _LOADS:
            return quantity(self._analysis.tyre_load[_LOADS.index(key)], "force")
        row = _row(key, tuple(self))
        return quantity(self._analysis.time.y[row], CHANNELS[row].kind)

    def __iter__(self) -> Iterator[str]:
        return iter((*_ROWS, *_LOADS))

    def __len__(self) -> int:
        return len(_ROWS) + len(_LOADS)


class Spectra(Mapping[str, pint.Quantity[Any]]):
    """One-sided power spectral densities of all channels on the random road of a run, by key.

    Values are arrays (F,) with a unit, such as (m/s²)²/Hz.

    Raises:
        InputError: there is no channel of that key; says which there are.
    """

    def __init__(self, analysis: Analysis) -> None:
        self._ride = analysis.ride

    @property
    def frequency(self) -> pint.Quantity[Any]:
        """(F,) rising, Hz."""
        return quantity(self._ride.frequency, "frequency")

    @cached_property
    def rms(self) -> Mapping[str, pint.Quantity[Any]]:
        """Root mean square of each channel over the band of :attr:`frequency`, by key."""
        return MappingProxyType(
            {
                channel.key: quantity(float(rms), channel.kind)
                for channel, rms in zip(CHANNELS, self._ride.rms, strict=True)
            }
        )

    def __getitem__(self, key: str) -> pint.Quantity[Any]:
        row = _row(key, tuple(self))
        return quantity(self._ride.psd[row], CHANNELS[row].kind, form="psd")

    def __iter__(self) -> Iterator[str]:
        return iter(_ROWS)

    def __len__(self) -> int:
        return len(_ROWS)


class Result:
    """What one car does in the run and the load case of its project.

    Attributes:
        analysis: the same as plain numbers and arrays in SI.
        time: histories of the run.
        spectrum: spectra on its random road.
    """

    def __init__(self, analysis: Analysis) -> None:
        self.analysis = analysis
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
        return MappingProxyType({figure.key: figure for figure in key_figures(self.analysis)})

    @cached_property
    def figures(self) -> Mapping[str, pint.Quantity[Any]]:
        """Key figures by key, in the order in which they are read."""
        return MappingProxyType(
            {key: quantity(figure.value, figure.kind) for key, figure in self.described.items()}
        )

    @cached_property
    def modes(self) -> Mapping[str, tuple[pint.Quantity[Any], float]]:
        """Undamped frequency (nan where there is none) and damping ratio of each natural mode, by name."""
        found = self.analysis.modes
        rows = zip(found.names, found.frequency, found.damping_ratio, strict=True)
        return MappingProxyType(
            {name: (quantity(float(f), "frequency"), float(ratio)) for name, f, ratio in rows}
        )

    def __repr__(self) -> str:
        run = self.analysis.run
        return f"<Result: {run.model}, {run.event.kind}, {len(self.described)} figures>"


def _row(key: str, known: tuple[str, ...]) -> int:
    if key not in _ROWS:
        raise InputError.of("channel", key, f"there is no channel '{key}' (there are: {', '.join(known)})")
    return _ROWS[key]
