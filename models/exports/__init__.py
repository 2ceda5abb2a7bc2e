"""Results as files for other tools: CSV, MAT and MDF; all figures of a project at once."""

from models.exports.data import DATA, about_of, columns_of, recording
from models.exports.formats import FORMATS, encoded, why_missing
from models.exports.names import unique_stems
from models.exports.recording import About, Column, Recording

__all__ = [
    "DATA",
    "FORMATS",
    "About",
    "Column",
    "Recording",
    "about_of",
    "columns_of",
    "encoded",
    "recording",
    "unique_stems",
    "why_missing",
]
