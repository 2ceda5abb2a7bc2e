"""Numbers whose kind of quantity is data too: a limit of a figure, a bound of a parameter."""

from __future__ import annotations

import math
from typing import Annotated

from pydantic import AfterValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from models.errors import brief
from models.units import KINDS, NUMBER_PATTERN, UnitError, from_text

__all__ = ["KindName", "TextOfKind", "number_of_kind"]

#: How such a number stands in a file: a text with its unit; without one it is in SI.
TextOfKind = Annotated[str, WithJsonSchema({"type": ["string", "number"], "pattern": NUMBER_PATTERN})]


def number_of_kind(value: object, kind: str) -> float:
    """SI value of a number (SI) or of a text with a unit of that kind.

    Raises:
        PydanticCustomError: no finite number, no unit, or a unit of something else.
    """
    number = math.nan
    if isinstance(value, str):
        try:
            number = from_text(value, KINDS[kind].si)
        except UnitError as error:
            text = f"{error} ({kind}, for example in {KINDS[kind].usual})"
            raise PydanticCustomError("rule", "{text}", {"text": text}) from error
    elif isinstance(value, (int, float)) and not isinstance(value, bool):
        number = float(value) if abs(value) < 1e300 else math.inf
    if not math.isfinite(number):
        text = f"'{brief(value, 40)}' is not a finite {kind}, for example in {KINDS[kind].usual}"
        raise PydanticCustomError("rule", "{text}", {"text": text})
    return number + 0.0  # -0.0 becomes 0.0, so that equal values have equal text


def _known(kind: str) -> str:
    if kind not in KINDS:
        raise PydanticCustomError(
            "rule",
            "'{kind}' is no kind of quantity (allowed: {known})",
            {"kind": kind[:40], "known": ", ".join(KINDS)},
        )
    return kind


#: Name of a kind of quantity, a key of :data:`models.units.KINDS`.
KindName = Annotated[str, AfterValidator(_known)]
