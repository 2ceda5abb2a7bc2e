"""The verification manual: what the program has been checked against, as its own checks tell it."""

from __future__ import annotations

from models.verification import manual_markdown, run_all
from workbench.help.reference.markdown import page

__all__ = ["verification_page"]

_LEAD = """Every kind of result is checked against something outside the program: a published worked example
with its source, or an independent engine, or an invariant that mechanics demands. A tolerance always
carries its reason, and none has been widened to make a check pass."""

_WITHOUT = """This handbook was built without running the checks. `corduroy verify` runs them on this
machine, and `corduroy verify --markdown FILE` writes what they gave."""


def verification_page(checked: bool) -> str:
    """The manual of this installation.

    Args:
        checked: run the checks, which takes some ten seconds; else say how to.
    """
    return page("Verification manual", _LEAD, manual_markdown(run_all()) if checked else _WITHOUT)
