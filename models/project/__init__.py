"""The project: variants of a car, the run they drive, and the file that holds them."""

from models.project.file import FORMAT_VERSION, SUFFIX, ProjectFileError, dumps, load, loads, save
from models.project.load_cases import (
    add_load_case,
    choose_load_case,
    duplicate_load_case,
    remove_load_case,
    rename_load_case,
)
from models.project.project import (
    Project,
    add_variant,
    duplicate_variant,
    move_variant,
    new_project,
    remove_variant,
    rename_variant,
    set_baseline,
    set_candidate,
)
from models.project.review import SECTIONS, ReviewOptions
from models.project.studies import remove_study, set_study, study_of
from models.project.targets import set_target
from models.project.variant import Variant

__all__ = [
    "FORMAT_VERSION",
    "SECTIONS",
    "SUFFIX",
    "Project",
    "ProjectFileError",
    "ReviewOptions",
    "Variant",
    "add_load_case",
    "add_variant",
    "choose_load_case",
    "dumps",
    "duplicate_load_case",
    "duplicate_variant",
    "load",
    "loads",
    "move_variant",
    "new_project",
    "remove_load_case",
    "remove_study",
    "remove_variant",
    "rename_load_case",
    "rename_variant",
    "save",
    "set_baseline",
    "set_candidate",
    "set_study",
    "set_target",
    "study_of",
]
