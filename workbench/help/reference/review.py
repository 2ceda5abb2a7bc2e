"""The last step of the tutorial, as far as this version of the program goes."""

from __future__ import annotations

from workbench import cli

__all__ = ["review_piece"]

_WITH = """## 14. The review

The command below makes the design review of a project: one document with the car, what differs from the
baseline, modes, ride on each road of the mix, travel, steel with stress and life, studies, scorecard and
cautions, and a hash of the inputs, so that it can be made again to the letter. See [its
options](commands.md#command-review).

    corduroy review FILE
"""
_WITHOUT = """## 14. What goes to the review

**File › Export figures…** writes all charts on show as PDF, SVG, PNG and CSV into a folder. *Save CSV…* on
the scorecard writes the figures with their targets. The same figures without a screen, for the record
beside the project file:

    corduroy figures FILE
    corduroy parts FILE
    corduroy life FILE
    corduroy packaging FILE

Whoever reads them needs the [cautions](job.md#job-cautions) too."""


def review_piece() -> str:
    """By the command where there is one, else by exports."""
    return _WITH if "review" in cli.COMMANDS else _WITHOUT
