"""Where the results of a study are kept: a file beside the project, named and sealed in the project."""

from __future__ import annotations

from typing import Annotated

from pydantic import StringConstraints

from models.fields import Label, Part

__all__ = ["ResultFile"]

_Seal = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
# A plain name: never a path, so that a project cannot point at other files of its reader.
_FileName = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.-]{0,150}\.npz$")]


class ResultFile(Part):
    """A file of results beside the project."""

    file: Annotated[_FileName, Label("File", "Name of the file in the folder of results.")]
    checksum: Annotated[_Seal, Label("Checksum", "SHA-256 of the file.")]
    inputs: Annotated[
        _Seal, Label("Inputs", "SHA-256 of all that the results depend on; another one makes them stale.")
    ]
