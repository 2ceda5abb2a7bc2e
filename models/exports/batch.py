"""Data of several variants of a project, a file for each kind of data and variant."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from models.analysis import analyse
from models.errors import InputError
from models.exports.data import about_of, recording
from models.exports.formats import FORMATS, encoded, why_missing
from models.exports.names import unique_stems
from models.project import Project
from models.project.write_file import make_folder, write_file
from models.units import UnitChoice

__all__ = ["DataWish", "data_files", "write_data"]


@dataclass(frozen=True, slots=True)
class DataWish:
    """What is wanted.

    Attributes:
        variants: names.
        kinds: keys of :data:`models.exports.data.DATA`.
        form: key of :data:`models.exports.formats.FORMATS`.
        units: of the numbers.
    """

    variants: tuple[str, ...]
    kinds: tuple[str, ...]
    form: str
    units: UnitChoice


def data_files(project: Project, wish: DataWish) -> Iterator[tuple[str, bytes]]:
    """Name and content of each file: "time-softer-rear.csv".

    The same project has the same names each time, whichever of its variants are wanted.

    Raises:
        InputError: there is no such variant, it cannot be computed, or the format needs a library that is
            not installed.
    """
    if why_missing(wish.form):
        raise InputError.of("format", wish.form, why_missing(wish.form))
    stems = dict(zip(project.names, unique_stems(project.names), strict=True))
    for variant in map(project.variant, wish.variants):
        analysis = analyse(variant.vehicle, project.run, project.load)
        about = about_of(project.name, variant.name, analysis)
        for kind in wish.kinds:
            name = f"{kind}-{stems[variant.name]}{FORMATS[wish.form].suffix}"
            yield name, encoded(recording(kind, analysis, about), wish.form, wish.units)


def write_data(
    project: Project, wish: DataWish, folder: Path, report: Callable[[float], object] = lambda _share: None
) -> list[Path]:
    """Write the files into a folder, which is made where it is missing; gives their paths.

    Args:
        project, wish: what is written.
        folder: where to; a file that is there already is replaced as soon as its successor is whole.
        report: told the share that is done, 0 to 1; what it raises ends the work.

    Raises:
        InputError: as of :func:`data_files`, or a file cannot be written.
    """
    make_folder(folder)
    written: list[Path] = []
    for name, content in data_files(project, wish):
        report(len(written) / (len(wish.variants) * len(wish.kinds)))
        write_file(folder / name, content)
        written.append(folder / name)
    return written
