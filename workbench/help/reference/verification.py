"""The verification manual: what the program has been checked against, as its own checks tell it."""

from __future__ import annotations

from importlib import import_module
from importlib.util import find_spec

from workbench.help.reference.markdown import page

__all__ = ["verification_page"]

_LEAD = """Every kind of result is checked against something outside the program: a published worked example
with its source, or an independent engine, or an invariant that mechanics demands. A tolerance always
carries its reason, and none has been widened to make a check pass."""

_WITHOUT = """The checks stand in the source of the program: `tests/reference` holds the published numbers
with their sources and how well each is known, `tests/oracle` the comparisons with independent engines
(MuJoCo, SymPy, python-control, SciPy). `bash .ci/test tests/reference tests/oracle` runs them."""


def verification_page(checked: bool) -> str:
    """The manual, where this version of the program can make one; else where the checks are.

    Args:
        checked: run the checks, which takes some ten seconds.
    """
    if not checked or find_spec("models.verification") is None:
        return page("Verification manual", _LEAD, _WITHOUT)
    manual = import_module("models.verification")
    return page("Verification manual", _LEAD, manual.manual_markdown(manual.run_all()))
