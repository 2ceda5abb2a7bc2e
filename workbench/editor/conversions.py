"""What takes the place of a part when the user picks another kind of it."""

from __future__ import annotations

from typing import Any

from models.fields import Part, described
from models.vehicle import (
    IndependentWheels,
    InertiaFromDynamicIndex,
    InertiaFromGyration,
    MeasuredInertia,
    SolidAxle,
    Vehicle,
    is_estimated,
)
from models.vehicle.axle import Axle, converted_wheels
from models.vehicle.inertia import converted

__all__ = ["other_kind", "remark"]

_INERTIAS = (MeasuredInertia, InertiaFromGyration, InertiaFromDynamicIndex)
_WHEELS = (IndependentWheels, SolidAxle)


def other_kind(root: Part, owner: Part, present: Part, wanted: type[Part]) -> Part:
    """Part of type ``wanted`` that says as much of the same as it can.

    Inertias and wheels are converted; of other parts the fields that are described alike are kept.

    Args:
        root: the whole that is edited.
        owner: the part that holds ``present``.
        present: the part to be replaced.
        wanted: type of the new part.

    Raises:
        InputError: the new part would have a value that is not allowed.
    """
    if isinstance(present, _INERTIAS) and isinstance(root, Vehicle):
        body = root.body
        a = body.cg_to_front_axle
        return converted(present, _kind_of(wanted), body.mass, a, root.wheelbase - a)
    if isinstance(present, _WHEELS) and isinstance(owner, Axle):
        return converted_wheels(present, _kind_of(wanted), owner.track)
    described_before = {name: note for name, note, _ in described(type(present)) if note is not None}
    return wanted(
        **{
            name: getattr(present, name)
            for name, note, _ in described(wanted)
            if name in described_before and described_before[name] == note
        }
    )


def remark(part: Part) -> str:
    """Word to put beside a part; empty if there is nothing to say."""
    return "estimated" if isinstance(part, _INERTIAS) and is_estimated(part) else ""


def _kind_of(part_type: type[Part]) -> Any:
    return part_type.model_fields["kind"].default
