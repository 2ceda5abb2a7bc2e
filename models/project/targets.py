"""Targets of a project."""

from __future__ import annotations

from models.project.project import Project, changed
from models.target import Target

__all__ = ["set_target"]


def set_target(project: Project, target: Target | None, instead_of: Target | None = None) -> Project:
    """Project with a new target in place of another one, or of that of the same figure in the same scope.

    Args:
        project: where it stands.
        target: what is wanted from now on; None takes ``instead_of`` out.
        instead_of: target that goes.
    """
    gone = {None if one is None else (one.metric, one.scope) for one in (target, instead_of)}
    left = list(project.targets)
    places = [place for place, one in enumerate(left) if (one.metric, one.scope) in gone]
    kept = [one for one in left if (one.metric, one.scope) not in gone]
    if target is not None:
        kept.insert(places[0] if places else len(kept), target)
    return changed(project, targets=tuple(kept))
