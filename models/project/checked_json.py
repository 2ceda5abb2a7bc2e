"""JSON text from a file that anybody may have made: what Python's reader takes and a program should not."""

from __future__ import annotations

import json
from collections import Counter
from typing import Any

from models.errors import HALF_CHARACTER, InputError

__all__ = ["MOST_ENTRIES", "MOST_VALUES", "parse_json"]

#: Entries that one list or group of fields of a project may have: more than any of its parts takes.
MOST_ENTRIES = 1000
#: Values that all of them may have: more than the largest project has.
MOST_VALUES = 500_000

# A text of a project may be full of these signs, so there may be more of them than of values.
_MOST_SIGNS = 2_000_000


def parse_json(text: str, most_entries: int = MOST_ENTRIES, most_values: int = MOST_VALUES) -> Any:
    """Content of a JSON text.

    Refused beside damage are fields that stand twice, numbers that are not finite, halves of characters, and
    more entries than asked for: telling what is wrong with each of millions would take all of the memory.

    Raises:
        InputError: the text is damaged or refused.
    """
    if sum(text.count(sign) for sign in ",[{") > max(_MOST_SIGNS, 2 * most_values):
        raise InputError.of("", "", "the file is damaged: it has millions of values")
    try:
        content = json.loads(text, object_pairs_hook=_fields, parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise InputError.of("", "", f"the file is damaged at {where}: {error.msg}") from error
    except RecursionError as error:
        raise InputError.of("", "", "the file is damaged: its parts are nested too deeply") from error
    except InputError:
        raise
    except ValueError as error:
        raise InputError.of("", "", "the file is damaged: a whole number has thousands of digits") from error
    _check_size(content, most_entries, most_values)
    return content


def _fields(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    content = dict(pairs)
    if len(content) < len(pairs):
        twin = Counter(name for name, _ in pairs).most_common(1)[0][0]
        raise InputError.of(_printable(twin), "", "the field stands twice in the same part of the file")
    for name, value in pairs:
        if not name.isascii() and _is_half(name):
            raise InputError.of(_printable(name), "", HALF_CHARACTER)
        if isinstance(value, str) and not value.isascii() and _is_half(value):
            raise InputError.of(_printable(name), "", HALF_CHARACTER)
    return content


def _is_half(text: str) -> bool:
    return any("\ud800" <= letter <= "\udfff" for letter in text)


def _printable(name: str) -> str:
    return name[:80].encode("utf-8", "replace").decode()


def _no_constant(text: str) -> float:
    raise InputError.of("", text, f"{text} stands for a number, but only finite numbers are allowed")


def _check_size(content: object, most_entries: int, most_values: int) -> None:
    """Refuse long lists before each of their entries is checked; raises :class:`InputError`."""
    left, count = [("", content)], 0
    while left:
        where, part = left.pop()
        if not isinstance(part, (dict, list)):
            continue
        if len(part) > most_entries:
            reason = f"{len(part)} entries are outside the allowed range (at most {most_entries})"
            raise InputError.of(where, "", reason)
        count += len(part)
        if count > most_values:
            raise InputError.of("", "", f"the file has more than {most_values} values")
        entries = part.items() if isinstance(part, dict) else enumerate(part, 1)
        left.extend((f"{where} > {name}" if where else str(name), value) for name, value in entries)
