"""Names of files made from names that users give."""

from __future__ import annotations

import re
from collections.abc import Iterable

__all__ = ["stem", "unique_stems"]

_LONGEST = 60


def stem(text: str) -> str:
    """Lower case, and hyphens in place of what a file system may refuse: "Soft: rear/2" → "soft-rear-2"."""
    return re.sub(r"[\W_]+", "-", text.lower())[:_LONGEST].strip("-") or "unnamed"


def unique_stems(texts: Iterable[str]) -> list[str]:
    """Stems in the order of the texts, all different: a later one that is taken already gets a number."""
    found: list[str] = []
    for text in texts:
        plain, number = stem(text), 1
        name = plain
        while name in found:
            number += 1
            name = f"{plain}-{number}"
        found.append(name)
    return found
