"""Where the built handbook is, and the address of a place in it."""

from __future__ import annotations

from pathlib import Path

__all__ = ["HOW_TO_BUILD", "SITE", "is_built"]

#: Folder of the built pages.
SITE = Path(__file__).resolve().parent / "site"

#: What to do where there are none.
HOW_TO_BUILD = (
    "The handbook is not built in this copy of the program. To build it, run "
    "“pip install 'corduroy[docs]'” and then “python -m workbench.help.build”."
)


def is_built(site: Path = SITE) -> bool:
    """Whether there are pages to show."""
    return (site / "index.html").is_file()
