"""What the program computes beside what it should: each check stated once, with its source and allowance.

The tests assert these checks, ``corduroy verify`` runs them on the machine of the user, and the verification
manual is printed from them, so that it says nothing that the tests do not.
"""

from models.verification.catalogue import CHAPTERS, CHECKS
from models.verification.check import (
    Chapter,
    Check,
    Group,
    Number,
    Numbers,
    Outcome,
    Status,
    Verdict,
    beside,
    run,
)
from models.verification.manual import manual_markdown, shown

__all__ = [
    "CHAPTERS",
    "CHECKS",
    "Chapter",
    "Check",
    "Group",
    "Number",
    "Numbers",
    "Outcome",
    "Status",
    "Verdict",
    "beside",
    "manual_markdown",
    "run",
    "shown",
]
