"""One short text that stands for data: equal data, and only they, have the same."""

from __future__ import annotations

import hashlib
import json

__all__ = ["fingerprint"]


def fingerprint(content: object) -> str:
    """SHA-256, 64 letters, of the JSON of texts, finite numbers, lists and groups with sorted names.

    Raises:
        ValueError: a number is not finite.
    """
    text = json.dumps(content, ensure_ascii=False, allow_nan=False, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()
