"""Text from users in tables that a spreadsheet reads: never a formula.

A spreadsheet takes a cell that begins with =, +, - or @ as a formula, also one that came as text.  So a
number stays as it is, and any other such text gets an apostrophe before it, as a user would type it to say
"this is text".
"""

from __future__ import annotations

import re

__all__ = ["plain_cell", "plain_comment"]

_FORMULA = "=+-@\t\r"
_NUMBER = re.compile(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?( ?%)?")
# What may stand between two cells of a line that is not quoted.
_NEXT_CELL = re.compile(r"([,;\t]\s*)(?=[=+\-@])")


def plain_cell(text: str) -> str:
    """One cell, on one line."""
    line = " ".join(text.split())
    harmless = len(line) < 2 or _NUMBER.fullmatch(line)  # a lone sign computes nothing
    return f"'{line}" if line.startswith(tuple(_FORMULA)) and not harmless else line


def plain_comment(text: str) -> str:
    """One comment line, which a spreadsheet cuts into cells at each comma."""
    return "# " + _NEXT_CELL.sub(r"\1'", " ".join(text.split()))
