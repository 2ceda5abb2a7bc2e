"""Small pieces of Markdown, as MyST reads it."""

from __future__ import annotations

import re
from collections.abc import Iterable

__all__ = ["entry", "page", "section", "words"]

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>|$~^#])")


def words(text: str) -> str:
    """Plain words whose signs mean nothing else."""
    return _SPECIAL.sub(r"\\\1", " ".join(text.split()))


def page(title: str, *parts: str) -> str:
    """A page under its title."""
    return "\n\n".join((f"# {title}", *parts)) + "\n"


def section(anchor: str, title: str, *parts: str) -> str:
    """A section that can be pointed at."""
    return "\n\n".join((f"({anchor})=\n## {title}", *parts))


def entry(anchor: str, name: str, lines: Iterable[str]) -> str:
    """A name that can be pointed at, and what there is to say of it: Markdown, one line each."""
    said = [line for line in lines if line]
    return "\n".join([f"[{words(name)}]{{#{anchor}}}", *(f": {line}\n" for line in said)])
