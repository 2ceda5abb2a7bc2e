"""Text that a user types: cleaned, limited in length, free of control characters."""

from __future__ import annotations

import unicodedata
from typing import Annotated

from pydantic import AfterValidator
from pydantic_core import PydanticCustomError

__all__ = ["NAME_LENGTH", "NOTE_LENGTH", "Line", "Name", "Note"]

NAME_LENGTH = 80
NOTE_LENGTH = 4000


def _name(text: str) -> str:
    # One spelling for letters with accents: names that look equal are equal.
    text = unicodedata.normalize("NFC", text.strip())
    if not 1 <= len(text) <= NAME_LENGTH:
        raise PydanticCustomError(
            "text",
            "a name of {length} characters is outside the allowed range (1 to {limit} characters)",
            {"length": len(text), "limit": NAME_LENGTH},
        )
    return _without(text, {"Cc", "Cs", "Zl", "Zp"}, "")


def _note(text: str) -> str:
    text = text.replace("\r\n", "\n")
    if len(text) > NOTE_LENGTH:
        raise PydanticCustomError(
            "text",
            "a note of {length} characters is outside the allowed range (0 to {limit} characters)",
            {"length": len(text), "limit": NOTE_LENGTH},
        )
    return _without(text, {"Cc", "Cs"}, "\n\t")


def _without(text: str, categories: set[str], allowed: str) -> str:
    if text.translate(dict.fromkeys(map(ord, allowed))).isprintable():
        return text  # which takes a hundredth of the time, at each edit of anything in the project
    for letter in text:
        if letter not in allowed and unicodedata.category(letter) in categories:
            raise PydanticCustomError(
                "text",
                "the control character {code} is not allowed in a text",
                {"code": f"U+{ord(letter):04X}"},
            )
    return text


#: One line of 1 to 80 characters; blanks at both ends are dropped.
Name = Annotated[str, AfterValidator(_name)]

#: One line of up to 80 characters, or none.
Line = Annotated[str, AfterValidator(lambda text: _name(text) if text.strip() else "")]

#: Up to 4000 characters, with line breaks.
Note = Annotated[str, AfterValidator(_note)]
