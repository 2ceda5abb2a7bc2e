"""Targets in the project: set, exchanged, taken out, filed, following a load case; order of variants."""

from __future__ import annotations

import pytest

from models.errors import InputError
from models.fields import replaced
from models.project import (
    Project,
    Variant,
    add_load_case,
    add_variant,
    dumps,
    loads,
    move_variant,
    new_project,
    rename_load_case,
    set_target,
)
from models.target import Target
from models.vehicle import LoadCase

PITCH = Target(metric="rms_pitch", kind="angle", high="0.3 deg")
DAMPING = Target(metric="pitch_damping", kind="ratio", low=0.2, high=0.4)


def test_a_target_takes_the_place_of_that_of_the_same_figure_and_scope() -> None:
    project = set_target(set_target(new_project(), PITCH), DAMPING)
    tighter = replaced(PITCH, ("high",), "0.2 deg")
    assert set_target(project, tighter).targets == (tighter, DAMPING)
    fast = replaced(PITCH, ("speed",), "130 km/h")
    assert set_target(project, fast).targets == (PITCH, DAMPING, fast)
    assert set_target(set_target(project, fast), None, fast) == project
    assert set_target(project, fast, PITCH).targets == (fast, DAMPING)


def test_two_targets_of_one_figure_in_one_scope_are_refused() -> None:
    with pytest.raises(InputError, match="more than one target"):
        replaced(new_project(), ("targets",), (PITCH, replaced(PITCH, ("high",), 1.0)))


def test_targets_are_in_the_file() -> None:
    project = set_target(set_target(new_project(), PITCH), replaced(DAMPING, ("road_class",), "E"))
    assert loads(dumps(project)) == project
    assert '"0.3 deg"' in dumps(project)


def test_a_target_follows_the_name_of_its_load_case() -> None:
    project = add_load_case(new_project(), LoadCase(name="boot"))
    project = set_target(project, replaced(PITCH, ("load_case",), "boot"))
    assert rename_load_case(project, "boot", "full boot").targets[0].load_case == "full boot"


@pytest.mark.parametrize(
    ("name", "steps", "order"),
    [
        ("a", 1, "bac"),
        ("c", -1, "acb"),
        ("b", 5, "acb"),
        ("b", -5, "bac"),
        ("a", -1, "abc"),
        ("c", 1, "abc"),
    ],
)
def test_variants_move_up_and_down(name: str, steps: int, order: str) -> None:
    project: Project = new_project(Variant(name="a"))
    for other in "bc":
        project = add_variant(project, Variant(name=other))
    moved = move_variant(project, name, steps)
    assert "".join(moved.names) == order
    assert (moved.candidate, moved.baseline) == (project.candidate, project.baseline)
