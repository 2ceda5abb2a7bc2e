"""The keys of all actions of the window."""

from __future__ import annotations

from workbench.help.reference.markdown import words
from workbench.window.actions import ACTIONS

__all__ = ["keyboard_piece"]


def keyboard_piece() -> str:
    """A table of them."""
    rows = [
        f"| {{kbd}}`{spec.shortcut}` | {words(spec.text.rstrip('…'))} | {words(spec.tip)} |"
        for spec in ACTIONS
        if spec.shortcut
    ]
    return "\n".join(["| Key | Action | What it does |", "| --- | --- | --- |", *rows]) + "\n"
