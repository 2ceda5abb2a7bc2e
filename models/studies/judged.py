"""Figures that studies give, and what of a run they depend on."""

from __future__ import annotations

from functools import lru_cache

from models.judge.figure import Figure
from models.run import Run
from models.studies.batch_alone import figures_alone
from models.vehicle import AS_DESIGNED, Vehicle

__all__ = ["study_figures", "study_run"]


def study_run(run: Run) -> Run:
    """All of a run that figures of a study depend on: surface, speed, model and the held manoeuvre."""
    return Run(
        speed=run.speed,
        surface=run.surface,
        manoeuvre=run.manoeuvre,
        model=run.model,
        laws="linear",
        duration=0.2,
    )


@lru_cache(maxsize=16)
def study_figures(model: str) -> dict[str, Figure]:
    """Figures of a study by key: all key figures but those of the event.  Their values mean nothing."""
    run = study_run(Run.model_validate({"model": model}))
    return {figure.key: figure for figure in figures_alone(Vehicle(), run, AS_DESIGNED, compiled=False)}
