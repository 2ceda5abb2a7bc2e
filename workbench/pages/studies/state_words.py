"""Words for what is known of a study: its cost, what came of it, how long it takes."""

from __future__ import annotations

from models.studies import Asked, Cost, StudyResult, study_size
from models.study import Study

__all__ = ["cost_words", "duration", "refusal_words", "ticking_words"]

# Kinds of reason that are listed.
_KINDS = 3


def cost_words(asked: Asked, cost: Cost | None) -> str:
    """What a study will take, and how many targets judge it; the time may not be known yet."""
    cars, targets, situations = study_size(asked), len(asked.wanted), len(asked.situations)
    of_targets = "no target" if targets == 0 else "1 target" if targets == 1 else f"{targets} targets"
    judged = "" if situations == 1 else f" ({cars * situations:,} judgements)"
    time = "estimating the time…" if cost is None else f"about {duration(cost.seconds)}"
    return f"{cars:,} cars{judged}, {time}; {of_targets} in reach."


def refusal_words(result: StudyResult) -> tuple[str, ...]:
    """Lines on the cars that were refused, counted by kind of reason; for thousands it takes a while."""
    if not result.columns.refused:
        return ()
    kinds = result.refusals()
    cars = "1 car was" if result.columns.refused == 1 else f"{result.columns.refused:,} cars were"
    lines = [f"{cars} refused:", *(kind.words for kind in kinds[:_KINDS])]
    if len(kinds) > _KINDS:
        lines.append(f"and {len(kinds) - _KINDS} other kinds of reason")
    return tuple(lines)


def ticking_words(study: Study | None) -> str:
    """What a tick beside a number of the car does."""
    if study is None:
        return "The first tick begins a study of sensitivity."
    takes = {"sweep": ", which varies one", "map": ", which varies two"}.get(study.kind, "")
    return f"Ticked: numbers of the study “{study.name}”{takes}."


def duration(seconds: float) -> str:
    """A time for a reader."""
    if seconds < 1:
        return "1 s"
    if seconds < 100:
        return f"{seconds:.0f} s"
    return f"{seconds / 60:.0f} min" if seconds < 6000 else f"{seconds / 3600:.1f} h"
