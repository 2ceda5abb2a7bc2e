"""What a command is: how it is described, what it takes and what it gives back."""

from __future__ import annotations

import argparse
import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from models.cautions import CAUTIONS

__all__ = ["FINDINGS", "FINE", "REFUSED", "Answer", "Command", "as_json"]

#: Exit codes: all is well; something was found (by ``check``, say); file, arguments or values are refused.
FINE, FINDINGS, REFUSED = 0, 1, 2

# A list of nothing but numbers, broken into lines; no text holds a bare line break, so none is touched.
_NUMBERS = re.compile(r'\[\n[^\[\]{}"]*\]')


@dataclass(frozen=True, slots=True)
class Answer:
    """What a command prints, and its exit code.

    Attributes:
        content: text as it stands, or data that are printed as JSON under a head of format and version.
        code: exit code.
    """

    content: str | Mapping[str, Any]
    code: int = FINE


@dataclass(frozen=True, slots=True)
class Command:
    """One command; its name is that of its module.

    Attributes:
        help: one line for the list of commands.
        description: what it does, for its own help.
        example: arguments of an example, without the name of the command.
        add_options: adds its arguments to the parser.
        run: does the work; raises InputError for what is refused.
        version: of the JSON that it prints; goes up when a field changes or goes, not when one is added.
        cautions: what has to be known by who uses the results.
    """

    help: str
    description: str
    example: str
    add_options: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], Answer]
    version: int = 1
    cautions: tuple[str, ...] = CAUTIONS


def as_json(name: str, version: int, content: Mapping[str, Any]) -> str:
    """JSON text of a command's data, numbers of one list on one line."""
    head = {"format": f"corduroy {name}", "version": version}
    text = json.dumps(head | dict(content), indent=2, ensure_ascii=False, allow_nan=False)
    return _NUMBERS.sub(lambda numbers: " ".join(numbers[0].split()), text)
