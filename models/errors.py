"""The one exception of the domain: input that the program refuses, and why."""

from __future__ import annotations

import reprlib
from collections.abc import Iterator
from dataclasses import dataclass

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

__all__ = ["HALF_CHARACTER", "InputError", "Problem", "brief", "input_error", "system_reason"]


@dataclass(frozen=True, slots=True)
class Problem:
    """One refused value.

    Attributes:
        field: where the value stands, as a readable path ("front > spring > rate").
        value: the refused value as text.
        reason: what is wrong, with the allowed range and unit where there is one.
    """

    field: str
    value: str
    reason: str

    def __str__(self) -> str:
        where = f"{self.field}: " if self.field else ""
        return f"{where}{self.reason}"


class InputError(ValueError):
    """Input refused; ``problems`` says field, value, allowed range and unit of each."""

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))

    @classmethod
    def of(cls, field: str, value: object, reason: str) -> InputError:
        """Build the error for a single refused value."""
        return cls(Problem(field, brief(value), reason))


def brief(value: object, most: int = 80) -> str:
    """Beginning of the text of any value: of a huge one too, and of one that has no text.

    A list or group of fields is abridged, since one that was refused may be as long as a file.
    """
    if isinstance(value, str):
        return value[:most]
    try:
        text = reprlib.repr(value) if isinstance(value, (dict, list, tuple, set)) else str(value)
    except (ValueError, RecursionError):  # Python writes no whole number of more than 4300 digits
        return f"a huge {type(value).__name__}"
    return text[:most]


def system_reason(error: Exception) -> str:
    """What the system says against a file, as the rest of a sentence: "no space left on device"."""
    text = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return text[:1].lower() + text[1:]


#: What is wrong with a text that no file can hold.
HALF_CHARACTER = "a text has half a character in it (a lone surrogate)"

_LONGEST = 600

# Kinds of refusal whose own wording speaks of the validator instead of the file or the field.
_REASONS = {
    "extra_forbidden": "no field of this name is known here",
    "missing": "the field is missing",
    "model_type": "a group of fields is expected here",
    "model_attributes_type": "a group of fields is expected here",
    "string_unicode": HALF_CHARACTER,
    "string_type": "a text is expected here",
    "tuple_type": "a list is expected here",
}


def input_error(error: ValidationError, prefix: tuple[str | int, ...] = ()) -> InputError:
    """Translate a pydantic error, naming each field from ``prefix`` on."""
    try:
        items = error.errors(include_url=False)
    except UnicodeEncodeError:  # the kind of a part, with half a character in it, has no text
        where = " > ".join(_words(part) for part in prefix) or "kind"
        return InputError.of(where, "", HALF_CHARACTER)
    known = {name for part in _subclasses(BaseModel) for name in part.model_fields}
    return InputError(
        *(
            Problem(
                field=" > ".join(_words(part) for part in (*prefix, *_fields(item["loc"], known))),
                value=brief(item["input"]),
                reason=_shortened(_reason(item)),
            )
            for item in items
        )
    )


def _reason(item: ErrorDetails) -> str:
    ctx = item.get("ctx", {})
    if item["type"] in ("too_short", "too_long"):
        limit = f"at least {ctx['min_length']}" if "min_length" in ctx else f"at most {ctx['max_length']}"
        count = len(item["input"])
        return f"{count} {'entry is' if count == 1 else 'entries are'} outside the allowed range ({limit})"
    if item["type"] in ("string_too_short", "string_too_long"):
        limit = f"at least {ctx['min_length']}" if "min_length" in ctx else f"at most {ctx['max_length']}"
        return f"a text of {len(item['input'])} characters is outside the allowed range ({limit})"
    if item["type"] in ("greater_than_equal", "less_than_equal"):
        limit = f"at least {ctx['ge']}" if "ge" in ctx else f"at most {ctx['le']}"
        return f"{brief(item['input'])} is outside the allowed range ({limit})"
    return _REASONS.get(item["type"], item["msg"])


def _shortened(reason: str) -> str:
    """The reason without the middle of what it quotes: a refused text may be as long as a file."""
    return reason if len(reason) <= _LONGEST else f"{reason[: _LONGEST // 2]} … {reason[-_LONGEST // 2 :]}"


def _fields(loc: tuple[str | int, ...], known: set[str]) -> tuple[str | int, ...]:
    """Place of an error without the kinds that pydantic puts between the fields of parts of several kinds."""
    return tuple(step for step in loc[:-1] if isinstance(step, int) or step in known) + loc[-1:]


def _subclasses(part: type[BaseModel]) -> Iterator[type[BaseModel]]:
    for subclass in part.__subclasses__():
        yield subclass
        yield from _subclasses(subclass)


def _words(part: str | int) -> str:
    return str(part + 1) if isinstance(part, int) else part[:80].replace("_", " ")
