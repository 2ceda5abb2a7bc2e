"""Variants against the baseline: what differs in the cars, and what that does to their figures."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from models.judge.difference import Difference, differences
from models.judge.scorecard import Scorecard, outcome, scorecard, wanted_cases
from models.project import Project
from models.project.project import changed

__all__ = ["Comparison", "compare"]


@dataclass(frozen=True, slots=True)
class Comparison:
    """What came of a comparison.

    Attributes:
        baseline: name of the variant that the others are held against.
        differences: parameters in which each of the others differs from it, by its name.
        scorecard: figures of all of them with changes and verdicts.
    """

    baseline: str
    differences: Mapping[str, tuple[Difference, ...]]
    scorecard: Scorecard


def compare(project: Project, names: Iterable[str] = ()) -> Comparison:
    """Hold variants against the baseline of a project, in its run, its road mix and where its targets hold.

    Args:
        project: with a baseline.
        names: variants; all where there are none.  The baseline takes part in any case.

    Raises:
        InputError: a name is that of no variant.
    """
    chosen = {project.variant(name).name for name in names} or set(project.names)
    variants = tuple(one for one in project.variants if one.name in chosen | {project.baseline})
    some = changed(project, variants=variants, candidate=variants[0].name)
    reference = some.variant(project.baseline).vehicle
    return Comparison(
        baseline=some.baseline,
        differences={
            one.name: differences(one.vehicle, reference) for one in variants if one.name != some.baseline
        },
        scorecard=scorecard(some, {case: outcome(case) for case in wanted_cases(some)}),
    )
