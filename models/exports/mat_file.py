"""Recordings as MAT files of level 5, which MATLAB, Octave and scipy read."""

from __future__ import annotations

import io

from models.exports.recording import Recording
from models.units import UnitChoice

__all__ = ["mat_bytes"]

# The head of the file is free text, in which scipy notes the time of day: with another text the same
# recording gives the same bytes.
_HEAD, _HEAD_BYTES = b"MATLAB 5.0 MAT-file, written by Corduroy", 116


def mat_bytes(recording: Recording, units: UnitChoice) -> bytes:
    """A column vector for each column, and the structures ``units``, ``labels`` and ``about`` of strings.

    Names are the keys of the columns, which are such as MATLAB takes (a test tells); so are the fields of
    ``units`` and ``labels``.
    """
    from scipy.io import savemat  # takes a while to load: only when such a file is wanted

    columns = recording.columns
    about = {name.replace(" ", "_"): text for name, text in recording.about.lines}
    content: dict[str, object] = {column.key: column.shown(units) for column in columns}
    content["units"] = {column.key: column.unit(units) or "1" for column in columns}
    content["labels"] = {column.key: column.axis.label for column in columns}
    content["about"] = {"title": recording.title, **about}
    buffer = io.BytesIO()
    savemat(buffer, content, format="5", long_field_names=True, oned_as="column")
    return _HEAD.ljust(_HEAD_BYTES) + buffer.getvalue()[_HEAD_BYTES:]
