"""What takes the place of a part when the user picks another kind of it."""

from __future__ import annotations

from typing import Any, cast

from models.assembly import mechanics
from models.element_kinds import converted_damper, converted_spring, point_after
from models.fields import Part, described
from models.linkage import Axis, BarLever, Chain, Point, TrailingArmBellCrank, WishboneDropLink
from models.vehicle import (
    Damper,
    DamperPoint,
    DigressiveDamper,
    GasSpring,
    IndependentWheels,
    InertiaFromDynamicIndex,
    InertiaFromGyration,
    MeasuredInertia,
    ProgressiveSpring,
    SolidAxle,
    Spring,
    SpringPoint,
    TabulatedDamper,
    TabulatedSpring,
    Vehicle,
    is_estimated,
)
from models.vehicle.axle import Axle, Stabiliser, converted_wheels
from models.vehicle.inertia import converted
from models.wheel_forces import static_spring_force

__all__ = ["first_chain", "first_part", "next_item", "other_kind", "remark"]

_INERTIAS = (MeasuredInertia, InertiaFromGyration, InertiaFromDynamicIndex)
_WHEELS = (IndependentWheels, SolidAxle)
_SPRINGS = (Spring, ProgressiveSpring, TabulatedSpring, GasSpring)
_DAMPERS = (Damper, DigressiveDamper, TabulatedDamper)
# A bar across the car behind the wheels, with levers that point forward to the drop links.
_STABILISER_LINKAGE = WishboneDropLink(
    lever=BarLever(axis=Axis(x=-0.22, y=-0.2, z=0.11, along=0.0, across=1.0), link=Point(y=-0.2, z=0.11))
)


def other_kind(root: Part, owner: Part, present: Part, wanted: type[Part]) -> Part:
    """Part of type ``wanted`` that says as much of the same as it can.

    Inertias, wheels, springs and dampers are converted; a linkage of another kind starts as usual and keeps
    its travel; of other parts the fields that are described alike are kept.

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
    if isinstance(present, _SPRINGS):
        return converted_spring(present, cast(Any, wanted), _static_force(root, owner))
    if isinstance(present, _DAMPERS):
        return converted_damper(present, cast(Any, wanted))
    if isinstance(present, Chain):
        return cast(type[Chain], wanted)(jounce=present.jounce, rebound=present.rebound)
    described_before = {name: note for name, note, _ in described(type(present)) if note is not None}
    return wanted(
        **{
            name: getattr(present, name)
            for name, note, _ in described(wanted)
            if name in described_before and described_before[name] == note
        }
    )


def first_part(owner: Part, name: str, types: tuple[type[Part], ...]) -> Part:
    """Part for the absent field ``name`` of ``owner``: a copy of a sibling of its types, or the usual one."""
    if name == "rear_linkage" and TrailingArmBellCrank in types:
        return TrailingArmBellCrank()  # turns the bar as a levelling bar needs it, against a lever in front
    if isinstance(owner, Stabiliser):
        return first_chain(owner, WishboneDropLink)
    siblings = (getattr(owner, field) for field in type(owner).model_fields)
    return next((part for part in siblings if isinstance(part, types)), None) or types[0]()


def first_chain(owner: Part, kind: type[Chain]) -> Chain:
    """Chain of a kind for a part that has none, with usual places of its joints."""
    across = isinstance(owner, Stabiliser) and kind is WishboneDropLink
    return _STABILISER_LINKAGE if across else kind()


def next_item(rows: tuple[Part, ...], place: int, part_type: type[Part]) -> Part:
    """Part for a new line behind ``place``: a point on the curve, or a copy of the line above.

    Raises:
        InputError: no such part is allowed.
    """
    if not rows:
        return part_type()
    if isinstance(rows[0], (SpringPoint, DamperPoint)):
        return cast(Part, point_after(cast(Any, rows), place))
    return rows[place]


def remark(part: Part) -> str:
    """Word to put beside a part; empty if there is nothing to say."""
    if isinstance(part, Chain):
        return "see page Linkage"
    return "estimated" if isinstance(part, _INERTIAS) and is_estimated(part) else ""


def _static_force(root: Part, owner: Part) -> float:
    """Force of the springs of an axle at design trim, N; 0 where there is no car around them."""
    if not isinstance(root, Vehicle):
        return 0.0
    return static_spring_force(mechanics(root), "front" if owner is root.front else "rear")


def _kind_of(part_type: type[Part]) -> Any:
    return part_type.model_fields["kind"].default
