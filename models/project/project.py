"""A project: variants of a car, two of them compared, and the run that all of them drive.

A project is never changed.  A field is exchanged with :func:`models.fields.replaced`; what touches
more than one field has a function here.  Both give a new, validated project.
"""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, ValidationError, ValidationInfo, field_validator
from pydantic_core import PydanticCustomError

from models.errors import InputError, input_error
from models.fields import Label, Part, replaced
from models.project.review import ReviewOptions
from models.project.text import NAME_LENGTH, Name, Note
from models.project.variant import Variant
from models.roads import RoadShare
from models.roads.mix import MOST_SHARES
from models.run import Run
from models.study import Study
from models.study.kinds import MOST_STUDIES
from models.target import MOST_TARGETS, Target
from models.vehicle import AS_DESIGNED, LoadCase

__all__ = [
    "MOST_VARIANTS",
    "Project",
    "add_variant",
    "changed",
    "duplicate_variant",
    "fresh_name",
    "move_variant",
    "new_project",
    "remove_variant",
    "rename_variant",
    "set_baseline",
    "set_candidate",
]

MOST_VARIANTS = 200


class Project(Part):
    """Variants of one car and how they are driven."""

    name: Annotated[Name, Label("Project name", "Name of the project.")] = "Untitled"
    note: Annotated[Note, Label("Project note", "What the project is about.")] = ""
    variants: Annotated[
        tuple[Variant, ...],
        Label("Variants", "Versions of the car, at least one."),
    ]
    baseline: Annotated[Name, Label("Baseline", "Variant that the candidate is compared with.")]
    candidate: Annotated[Name, Label("Candidate", "Variant that is being tuned.")]
    load_cases: Annotated[
        tuple[LoadCase, ...],
        Field(max_length=50),
        Label("Load cases", "What the car may carry, beside the car as designed."),
    ] = ()
    load_case: Annotated[Name, Label("Load case", "What the car carries now.")] = AS_DESIGNED.name
    run: Annotated[Run, Label("Run", "What every variant drives.")] = Run()
    road_mix: Annotated[
        tuple[RoadShare, ...],
        Field(max_length=MOST_SHARES),
        Label("Road mix", "Roads of the car's life and their shares of the distance."),
    ] = ()

    targets: Annotated[
        tuple[Target, ...],
        Field(max_length=MOST_TARGETS),
        Label("Targets", "What the key figures should be."),
    ] = ()

    studies: Annotated[
        tuple[Study, ...],
        # Left out of files without any, which so are the same as those from before there were studies.
        Field(max_length=MOST_STUDIES, exclude_if=lambda studies: not studies),
        Label("Studies", "Questions that are answered by computing many cars."),
    ] = ()

    review: Annotated[
        ReviewOptions,
        # Left out of files until it is used, as for studies.
        Field(exclude_if=lambda review: review == ReviewOptions()),
        Label("Review", "What the review document holds."),
    ] = ReviewOptions()

    @field_validator("variants")
    @classmethod
    def _some_with_own_names(cls, variants: tuple[Variant, ...]) -> tuple[Variant, ...]:
        if not 1 <= len(variants) <= MOST_VARIANTS:
            raise PydanticCustomError(
                "rule",
                "{count} variants are outside the allowed range (1 to {limit})",
                {"count": len(variants), "limit": MOST_VARIANTS},
            )
        names = [variant.name for variant in variants]
        for name in names:
            if names.count(name) > 1:
                raise PydanticCustomError(
                    "rule",
                    "'{name}' is the name of more than one variant; each needs its own",
                    {"name": name},
                )
        return variants

    @field_validator("baseline", "candidate")
    @classmethod
    def _names_a_variant(cls, name: str, info: ValidationInfo) -> str:
        variants: tuple[Variant, ...] | None = info.data.get("variants")
        if variants is not None and name not in (variant.name for variant in variants):
            raise PydanticCustomError(
                "rule",
                "'{name}' is no variant of the project (allowed: {names})",
                {"name": name, "names": ", ".join(f"'{variant.name}'" for variant in variants[:10])},
            )
        return name

    @field_validator("load_cases")
    @classmethod
    def _load_names_occur_once(cls, cases: tuple[LoadCase, ...]) -> tuple[LoadCase, ...]:
        names = [AS_DESIGNED.name, *(case.name for case in cases)]
        for name in names:
            if names.count(name) > 1:
                raise PydanticCustomError(
                    "rule",
                    "'{name}' is the name of more than one load case; each needs its own",
                    {"name": name},
                )
        return cases

    @field_validator("load_case")
    @classmethod
    def _names_a_load_case(cls, name: str, info: ValidationInfo) -> str:
        cases: tuple[LoadCase, ...] | None = info.data.get("load_cases")
        if cases is not None and name != AS_DESIGNED.name and name not in (case.name for case in cases):
            known = ", ".join(
                f"'{known}'" for known in [AS_DESIGNED.name, *(case.name for case in cases)][:10]
            )
            raise PydanticCustomError(
                "rule",
                "'{name}' is no load case of the project (allowed: {names})",
                {"name": name, "names": known},
            )
        return name

    @field_validator("road_mix")
    @classmethod
    def _some_road_has_a_share(cls, mix: tuple[RoadShare, ...]) -> tuple[RoadShare, ...]:
        if mix and not sum(road.share for road in mix) > 0:
            raise PydanticCustomError("rule", "the shares of the roads add up to 0 %; one must be above 0 %")
        return mix

    @field_validator("targets")
    @classmethod
    def _one_target_each(cls, targets: tuple[Target, ...]) -> tuple[Target, ...]:
        seen = set()
        for target in targets:
            if (target.metric, target.scope) in seen:
                raise PydanticCustomError(
                    "rule",
                    "'{metric}' has more than one target in the same load case, road class and speed",
                    {"metric": target.metric},
                )
            seen.add((target.metric, target.scope))
        return targets

    @field_validator("studies")
    @classmethod
    def _study_names_occur_once(cls, studies: tuple[Study, ...]) -> tuple[Study, ...]:
        names = [study.name for study in studies]
        for name in names:
            if names.count(name) > 1:
                raise PydanticCustomError(
                    "rule", "'{name}' is the name of more than one study; each needs its own", {"name": name}
                )
        return studies

    @property
    def load(self) -> LoadCase:
        """The load case that the car carries now."""
        return next((case for case in self.load_cases if case.name == self.load_case), AS_DESIGNED)

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the variants in their order."""
        return tuple(variant.name for variant in self.variants)

    def index(self, name: str) -> int:
        """Place of the variant of that name.

        Raises:
            InputError: no variant has that name.
        """
        if name not in self.names:
            known = ", ".join(f"'{known}'" for known in self.names[:10])
            raise InputError.of("variant", name, f"'{name}' is no variant of the project (allowed: {known})")
        return self.names.index(name)

    def variant(self, name: str) -> Variant:
        """Variant of that name; raises :class:`InputError` where there is none."""
        return self.variants[self.index(name)]


def new_project(variant: Variant | None = None) -> Project:
    """Project of a single variant, which is baseline and candidate."""
    variant = variant or Variant(name="Variant 1")
    return Project(variants=(variant,), baseline=variant.name, candidate=variant.name)


def add_variant(project: Project, variant: Variant) -> Project:
    """Project with one more variant at the end; its name must be new."""
    return changed(project, variants=(*project.variants, variant))


def duplicate_variant(project: Project, name: str, new_name: str | None = None) -> Project:
    """Project with a copy of a variant right after it, named "... copy" unless told otherwise."""
    place = project.index(name) + 1
    copy = fresh_name(name, project.names) if new_name is None else new_name
    variants = (*project.variants[:place], _renamed(project.variant(name), copy), *project.variants[place:])
    return changed(project, variants=variants)


def remove_variant(project: Project, name: str) -> Project:
    """Project without that variant; the last one cannot go.

    Where the baseline goes, the first variant left takes its place; where the candidate goes, the
    first left that is not the baseline does.
    """
    gone = project.index(name)
    left = tuple(variant for place, variant in enumerate(project.variants) if place != gone)
    if not left:
        raise InputError.of("variants", name, f"'{name}' is the only variant; a project needs at least one")
    names = [variant.name for variant in left]
    baseline = project.baseline if project.baseline in names else names[0]
    candidate = project.candidate
    if candidate not in names:
        candidate = next((other for other in names if other != baseline), baseline)
    return changed(project, variants=left, baseline=baseline, candidate=candidate)


def move_variant(project: Project, name: str, steps: int) -> Project:
    """Project in which a variant stands so many places further down (below 0: up), at most at an end."""
    place = project.index(name)
    variants = list(project.variants)
    variants.insert(min(max(place + steps, 0), len(variants) - 1), variants.pop(place))
    return changed(project, variants=tuple(variants))


def rename_variant(project: Project, name: str, new_name: str) -> Project:
    """Project in which a variant has another name, also where it is baseline, candidate or studied."""
    place = project.index(name)
    variant = _renamed(project.variants[place], new_name)
    return changed(
        project,
        variants=(*project.variants[:place], variant, *project.variants[place + 1 :]),
        baseline=variant.name if project.baseline == name else project.baseline,
        candidate=variant.name if project.candidate == name else project.candidate,
        studies=tuple(
            replaced(study, ("variant",), variant.name) if study.variant == name else study
            for study in project.studies
        ),
    )


def set_baseline(project: Project, name: str) -> Project:
    """Project with another baseline."""
    return changed(project, baseline=name)


def set_candidate(project: Project, name: str) -> Project:
    """Project with another candidate."""
    return changed(project, candidate=name)


def changed(project: Project, **fields: Any) -> Project:
    """Project with other values of several fields; raises :class:`InputError` where one is refused."""
    old = {name: getattr(project, name) for name in Project.model_fields}
    try:
        return Project.model_validate({**old, **fields})
    except ValidationError as error:
        raise input_error(error) from error


def _renamed(variant: Variant, name: str) -> Variant:
    try:
        return Variant(name=name, note=variant.note, vehicle=variant.vehicle, hardware=variant.hardware)
    except ValidationError as error:
        raise input_error(error) from error


def fresh_name(name: str, taken: tuple[str, ...]) -> str:
    """Name of a copy that is not taken yet."""
    number = 1
    while True:
        ending = " copy" if number == 1 else f" copy {number}"
        fresh = name[: NAME_LENGTH - len(ending)] + ending
        if fresh not in taken:
            return fresh
        number += 1
