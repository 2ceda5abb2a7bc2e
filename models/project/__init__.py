"""The project: variants of a car, the run they drive, and the file that holds them."""

from models.project.file import FORMAT_VERSION, SUFFIX, ProjectFileError, dumps, load, loads, save
from models.project.project import (
    Project,
    add_variant,
    duplicate_variant,
    new_project,
    remove_variant,
    rename_variant,
    set_baseline,
    set_candidate,
)
from models.project.variant import Variant

__all__ = [
    "FORMAT_VERSION",
    "SUFFIX",
    "Project",
    "ProjectFileError",
    "Variant",
    "add_variant",
    "dumps",
    "duplicate_variant",
    "load",
    "loads",
    "new_project",
    "remove_variant",
    "rename_variant",
    "save",
    "set_baseline",
    "set_candidate",
]
