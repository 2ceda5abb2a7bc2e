"""Limits as an engineer types them: "≤ 0.3", "at least 20 %", "0.2 – 0.4"."""

from __future__ import annotations

import re

from models.errors import InputError
from models.judge.figure import Better
from models.units import KINDS, UnitChoice, UnitError, from_text

__all__ = ["limits_of"]

_AT_MOST = re.compile(r"(?:<=|=<|≤|<|at most|up to)\s*(.+)", re.IGNORECASE)
_AT_LEAST = re.compile(r"(?:>=|=>|≥|>|at least|from)\s*(.+)", re.IGNORECASE)
_BETWEEN = re.compile(
    r"(?:between\s+)?(.+?)\s*(?:–|\.\.+|…|\bto\b|\band\b|(?<=[\w%°²³])\s+-\s+)\s*(.+)", re.IGNORECASE
)

_HOW = "write for example ≤ 2, ≥ 2 or 1 – 2"


def limits_of(text: str, kind: str, units: UnitChoice, better: Better) -> tuple[float | None, float | None]:
    """Least and greatest value, SI; both None for an empty text.

    Args:
        text: what was typed.
        kind: of the figure.
        units: unit of display per kind, taken for numbers without a unit.
        better: which way is better; a bare number is the limit on the other side.

    Raises:
        InputError: no limit can be read from it.
    """
    words = text.strip()
    if not words:
        return None, None
    for pattern, place in ((_AT_MOST, 1), (_AT_LEAST, 0)):
        found = pattern.fullmatch(words)
        if found:
            value = _number(found[1], kind, units)
            return (value, None) if place == 0 else (None, value)
    found = _BETWEEN.fullmatch(words)
    if found:
        return _number(found[1], kind, units), _number(found[2], kind, units)
    value = _number(words, kind, units)
    if better == "none":
        raise InputError.of(
            "target", words, f"'{words[:40]}' does not say whether at most or at least; {_HOW}"
        )
    return (None, value) if better == "lower" else (value, None)


def _number(text: str, kind: str, units: UnitChoice) -> float:
    try:
        return from_text(text, KINDS[kind].si, units[kind])
    except UnitError as error:
        raise InputError.of("target", text, f"{error}; {_HOW} in {units[kind]}") from error
