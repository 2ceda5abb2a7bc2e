"""Situations: the run and the load case in which a target holds or a study judges."""

from __future__ import annotations

from models.fields import replaced
from models.project import Project
from models.roads import ROAD_CLASSES
from models.run import Run
from models.study import Situation
from models.target import Target
from models.units import UnitChoice, format_value
from models.vehicle import AS_DESIGNED, LoadCase

__all__ = ["scope_words", "situated"]


def situated(project: Project, scope: Target | Situation) -> tuple[Run, LoadCase] | None:
    """Run and load case of a scope; None where the project has no such load case."""
    run, load = project.run, project.load
    if scope.load_case:
        cases = {AS_DESIGNED.name: AS_DESIGNED, **{case.name: case for case in project.load_cases}}
        if scope.load_case not in cases:
            return None
        load = cases[scope.load_case]
    if scope.road_class:
        run = replaced(run, ("surface", "roughness"), ROAD_CLASSES[scope.road_class])
    if scope.speed is not None:
        run = replaced(run, ("speed",), scope.speed)
    return run, load


def scope_words(scope: Target | Situation, units: UnitChoice) -> str:
    """Where a target holds: "boot full, class D, 120 km/h"; empty in the run of the project."""
    words = [scope.load_case, f"class {scope.road_class}" if scope.road_class else ""]
    if scope.speed is not None:
        words.append(f"{format_value(scope.speed, units['speed'], 'm/s')} {units['speed']}")
    return ", ".join(word for word in words if word)
