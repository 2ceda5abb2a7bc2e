"""Random values, right and wrong, for any field of a project, made from what the field says of itself."""

from __future__ import annotations

import math
import types
from functools import cache
from random import Random
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, TypeAdapter, ValidationError

from models.fields import Path, Quantity
from models.project import Project
from models.units import KINDS

__all__ = ["WRONG", "list_edit", "random_place", "random_value"]

#: What stands in the place of a value now and then.
WRONG: tuple[object, ...] = (
    *(None, True, -1, 0, 10**400, -(10**400), math.nan, math.inf, -math.inf, 1e308, -1e-320),
    *(
        "",
        " ",
        "lots",
        "12 parsec",
        "1e999 m",
        "1e-999 kg",
        "5",
        "5 {kind}",
        "%s %(x)s",
        "\0",
        "\ud800",
        "−3 m",
    ),
    *("x" * 100_000, "é" * 81, "nan N/mm", "1 " + "m*" * 40, "1 m**9**9**9", b"26 N/mm", 1 + 2j),
    *([], {}, [[]], [None], {"kind": "step"}, {"kind": []}, {1: 2}, object(), range(3), {"name"}),
)

#: How much more often the fields of a project are edited that have most fields below them.
_WEIGHTS = {"variants": 8, "vehicle": 4, "hardware": 2, "run": 2}

#: Texts of which each field of text takes those that it accepts.
_TEXTS = (
    *(
        "Variant 1",
        "weich – größer",
        "a",
        "\U0001f697" * 40,
        "line\nline",
        "{0.__class__}",
        "$name",
        "<b>fat</b>",
    ),
    *("front.spring.rate", "rear.spring.rate", "body.mass", "wheelbase", "front.damper.jounce", "run.speed"),
    *("rms_heave_acceleration", "rms_travel_front", "pitch_share", "front_ride_frequency", "no_such_figure"),
    *("as designed", "two up", "results-1.npz", "0" * 64, "../../etc/passwd.npz", "1 2 3", "-5 0 5.25 1e3"),
    *KINDS,
)


def random_place(project: Project, random: Random) -> tuple[Path, Any]:
    """A field, an entry of a list or a list of the project, and its type."""
    path: Path = ()
    value: Any = project
    while True:
        if isinstance(value, BaseModel):
            fields = type(value).model_fields
            step: str | int = random.choices(list(fields), [_WEIGHTS.get(name, 1) for name in fields])[0]
            field = type(value).model_fields[str(step)]
            kind = Annotated[(field.annotation, *field.metadata)] if field.metadata else field.annotation
            value = getattr(value, str(step))
        else:
            step, kind = random.randrange(len(value)), get_args(_bare(kind))[0]
            value = value[step]
        path = (*path, step)
        inside = isinstance(value, BaseModel) or (isinstance(value, tuple) and value)
        if not inside or random.random() < 0.1:
            return path, kind


def random_value(kind: Any, random: Random, wrong: float = 0.02) -> object:
    """Value for a field of that type; ``wrong`` is how often something in it is what it may not be."""
    if random.random() < wrong:
        return random.choice(WRONG)
    notes = get_args(kind)[1:] if get_origin(kind) is Annotated else ()
    bare = _bare(kind)
    quantity = next((note for note in notes if isinstance(note, Quantity)), None)
    if quantity is not None and bare is float:
        return _number(quantity, random, wrong)
    if get_origin(bare) in (Union, types.UnionType):
        return random_value(random.choice(get_args(bare)), random, wrong)
    if get_origin(bare) is Literal:
        return random.choice(get_args(bare))
    if get_origin(bare) is tuple:
        return [random_value(get_args(bare)[0], random, wrong) for _ in range(random.choice((0, 1, 1, 2, 4)))]
    if isinstance(bare, type) and issubclass(bare, BaseModel):
        return _part(bare, random, wrong)
    return _plain(kind, bare, random)


def list_edit(entries: tuple[Any, ...], kind: Any, random: Random) -> tuple[object, ...]:
    """The list with an entry more, fewer, twice or elsewhere."""
    left = list(entries)
    act = random.choice(("more", "fewer", "twice", "elsewhere"))
    if act == "more" or not left:
        left.insert(random.randint(0, len(left)), random_value(get_args(_bare(kind))[0], random))
    elif act == "twice":
        left.insert(random.randint(0, len(left)), random.choice(left))
    else:
        gone = left.pop(random.randrange(len(left)))
        if act == "elsewhere":
            left.insert(random.randint(0, len(left)), gone)
    return tuple(left)


def _bare(kind: Any) -> Any:
    return get_args(kind)[0] if get_origin(kind) is Annotated else kind


def _number(quantity: Quantity, random: Random, wrong: float) -> object:
    low, high = quantity.low, quantity.high
    if random.random() < wrong:
        return random.choice((math.nextafter(low, -math.inf), math.nextafter(high, math.inf), 2 * high + 1))
    number = random.choice((random.uniform(*quantity.typical), random.uniform(low, high), low, high))
    number = min(max(number, low), high)
    return quantity.text(number) if random.random() < 0.3 else number


def _part(part: type[BaseModel], random: Random, wrong: float) -> dict[str, object]:
    """Some of its fields; the kind, where it has one, is always said."""
    return {
        name: random_value(
            Annotated[(field.annotation, *field.metadata)] if field.metadata else field.annotation,
            random,
            wrong,
        )
        for name, field in part.model_fields.items()
        if field.is_required() or name == "kind" or random.random() < 0.25
    }


def _plain(kind: Any, bare: Any, random: Random) -> object:
    if bare is bool:
        return random.random() < 0.5
    if bare is int:
        return random.choice((0, 1, 2, 8, 64, 100, 4096, random.randrange(10**6)))
    if bare is float:
        return random.choice((0.0, random.gauss(0.0, 1.0), 10 ** random.uniform(-6, 6)))
    if bare is str:
        return random.choice(_accepted(kind))
    return None


@cache
def _accepted(kind: Any) -> tuple[str, ...]:
    adapter: TypeAdapter[str] = TypeAdapter(kind)
    return tuple(text for text in _TEXTS if _takes(adapter, text)) or ("text",)


def _takes(adapter: TypeAdapter[str], text: str) -> bool:
    try:
        adapter.validate_python(text)
    except ValidationError:
        return False
    return True
