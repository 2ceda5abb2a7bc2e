"""Damage to files at random: to their bytes, and to the JSON that they hold."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable
from random import Random
from typing import Any

__all__ = ["mutated_bytes", "mutated_json"]

#: Stands in a text for JSON that Python's own writer would not write.
_RAW = "\ue000{}"
_MARK = re.compile(r'"\\ue000(\d+)"')

#: Tokens in the place of a value, as they stand in the file.
_TOKENS = (
    *(
        "null",
        "true",
        "false",
        "0",
        "-1",
        "-0.0",
        "1e999",
        "-1e999",
        "1e-999",
        "NaN",
        "Infinity",
        "-Infinity",
    ),
    *("1" + "0" * 400, "1" + "0" * 5000, "0x10", "01", "+1", ".5", "5.", "1_000", "1e", "'x'", "undefined"),
    *('""', '"lots"', '"12 parsec"', '"1e400 mm"', '"nan kg"', '"∞ N"', '"-5 mm"', '"5"', '"5 m/m*m"'),
    *('"1 m**9**9**9"', '"1 (((((((((m"', '"1 __import__"', '"{0.__class__}"', '"\\u0000"', '"\\ud800"'),
    *(
        '"\\udc00\\ud800"',
        '"\\x"',
        '"\t"',
        '"\u202e"',
        '"' + "x" * 100_000 + '"',
        '"1' + "0" * 50_000 + ' m"',
    ),
    *("[]", "{}", "[[]]", "[null]", "[" * 2000, "[" * 2000 + "]" * 2000, '{"a":' * 500 + "0" + "}" * 500),
    *("[0" + ",0" * 3000 + "]", '{"kind": null}', '{"kind": []}', '{"kind": "\\ud800"}', '{"a": 1, "a": 1}'),
    *('{"__class__": "os.system"}', '{"$ref": "file:///etc/passwd"}', "", "}", "//", "/* */", "…"),
)
_KEYS = ("", "kind", "name", "__class__", "\ud800", "a" * 5000, "rate ", "Rate", "version", "0", "\0")
_ENCODINGS = ("utf-16", "utf-16-le", "utf-32", "latin-1", "utf-8-sig", "utf-7", "cp1252", "cp037")
_SCRAPS = (
    b"\0",
    b"\xff",
    b"\xef\xbb\xbf",
    b"\xed\xa0\x80",
    b'"',
    b"{",
    b"}",
    b"[",
    b",",
    b":",
    b"\\",
    b"\r",
    b"9" * 99,
)


def mutated_bytes(data: bytes, random: Random) -> bytes:
    """The bytes with one or a few of them flipped, cut, doubled, moved, or in another encoding."""
    acts: tuple[Callable[[bytes, Random], bytes], ...] = (
        _flipped,
        _cut,
        _doubled,
        _inserted,
        _encoded,
        _without,
    )
    for _ in range(random.choice((1, 1, 1, 2, 5))):
        data = random.choice(acts)(data, random)
    return data


def mutated_json(text: str, random: Random) -> str:
    """The JSON text with one or a few parts missing, doubled, exchanged, renamed or of another type."""
    content = json.loads(text)
    for _ in range(random.choice((1, 1, 1, 2, 4))):
        part = _part(content, random)
        if part:
            _change(part, content, random)
    text = json.dumps(content)  # ASCII, hence with its escapes
    text = _MARK.sub(lambda mark: _TOKENS[int(mark[1])], text)
    twin = random.random() < 0.05
    return text.replace('"note":', '"note": "", "note":', 1) if twin else text


def _part(content: Any, random: Random) -> Any:
    """A list or group of fields at random."""
    while True:
        entries = list(content.values()) if isinstance(content, dict) else content
        inside = [entry for entry in entries if isinstance(entry, (dict, list)) and entry]
        if not inside or random.random() < 0.2:
            return content
        content = random.choice(inside)


def _change(part: Any, whole: Any, random: Random) -> None:
    places = list(part) if isinstance(part, dict) else list(range(len(part)))
    place = random.choice(places)
    act = random.choice(("token", "token", "token", "gone", "renamed", "swapped", "many", "nested"))
    if act == "gone":
        del part[place]
    elif act == "renamed" and isinstance(part, dict):
        part[random.choice(_KEYS)] = part.pop(place)
    elif act == "swapped":
        other = random.choice(places)
        part[place], part[other] = part[other], part[place]
    elif act == "many" and isinstance(part, list):
        part *= random.choice((2, 60, 300))
    elif act == "nested":
        part[place] = copy.deepcopy(_part(whole, random))
    else:
        part[place] = _RAW.format(random.randrange(len(_TOKENS)))


def _flipped(data: bytes, random: Random) -> bytes:
    changed = bytearray(data)
    for _ in range(random.choice((1, 1, 3, 20)) if data else 0):
        changed[random.randrange(len(changed))] ^= 1 << random.randrange(8)
    return bytes(changed)


def _cut(data: bytes, random: Random) -> bytes:
    return data[: random.randint(0, len(data))]


def _without(data: bytes, random: Random) -> bytes:
    start, length = random.randint(0, len(data)), random.choice((1, 2, 10, 200))
    return data[:start] + data[start + length :]


def _doubled(data: bytes, random: Random) -> bytes:
    start, length, place = (
        random.randint(0, len(data)),
        random.choice((1, 5, 80, 2000)),
        random.randint(0, len(data)),
    )
    return data[:place] + data[start : start + length] + data[place:]


def _inserted(data: bytes, random: Random) -> bytes:
    place = random.choice((0, random.randint(0, len(data)), len(data)))
    return data[:place] + random.choice(_SCRAPS) + data[place:]


def _encoded(data: bytes, random: Random) -> bytes:
    try:
        return data.decode().encode(random.choice(_ENCODINGS), "replace")
    except UnicodeDecodeError:
        return data
