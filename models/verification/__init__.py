"""What the program computes beside what it should: each check stated once, with its source and allowance.

The tests assert these checks, ``corduroy verify`` runs them on the machine of the user, and the verification
manual is printed from them, so that it says nothing that the tests do not.

The checks themselves are in :mod:`models.verification.catalogue`, which loads all that they are about.
"""

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
from models.verification.manual import manual_markdown, manual_page, shown
from models.verification.runner import run_all

__all__ = [
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
    "manual_page",
    "run",
    "run_all",
    "shown",
]
