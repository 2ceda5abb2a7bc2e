"""Charts of a project by groups: each group gives those that this car has."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from models.analysis import Analysis, analyse
from models.charts import CHART_CHOICES, Chart, build
from models.charts.bar_laws import diagonal_chart, stabiliser_chart, trim_chart
from models.charts.cushion_laws import cushion_damping_chart, cushion_force_chart
from models.charts.fatigue import damage_chart, exceedance_chart, sn_chart
from models.charts.law_source import AxleName, LawSource, SideName
from models.charts.laws import damping_chart, interconnection_chart, restriction_chart, wheel_force_chart
from models.charts.levelling import levelling_charts
from models.charts.linkage import LINKAGE_CHARTS, Linked, linkage_chart, travel_marks
from models.charts.packaging import clearance_chart, envelope_chart
from models.charts.roads import profile_chart, spectrum_chart
from models.charts.speed_sweep import sweep_chart
from models.charts.stabiliser import bar_stress_chart
from models.charts.studies import study_charts
from models.charts.trim_tolerance import (
    stack_effects_chart,
    stack_heights_chart,
    stack_pitch_chart,
    stack_shares_chart,
)
from models.charts.tyre_laws import tyre_damping_chart, tyre_force_chart
from models.fields import follow
from models.hardware import StabiliserBar, stabiliser_beam
from models.judge.figures import key_figures
from models.judge.linkage import bar_load, chain_places
from models.judge.packaging import packaging
from models.judge.road_loads import road_loads
from models.judge.speed_sweep import speed_sweep
from models.judge.steel_life import fatigue_parts, steel_lives
from models.judge.trim_tolerance import bar_diameters, trim_stack
from models.part_loads import roll_travel
from models.project import Project, Variant
from models.ride.levelling import level
from models.ride.levelling_car import why_not_fitted
from models.ride.levelling_event import LevellingEvent
from models.roads.report import road_report
from models.studies.asked import ask
from models.studies.storage import kept_result
from models.units import UnitChoice
from models.vehicle import AS_DESIGNED

__all__ = ["GROUPS", "Named", "Subject"]

#: A name without suffix, in the group, and its chart.
Named = tuple[str, Chart]

_AXLES: tuple[AxleName, ...] = ("front", "rear")
_SIDES: tuple[SideName, ...] = ("left", "right")


@dataclass(frozen=True)
class Subject:
    """What the figures are of.

    Attributes:
        project: its candidate is shown, and its baseline where that is another car.
        path: of the project file, beside which the results of studies lie; None where there is none.
        units: of the maps, whose levels are round numbers in them.
        go_on: called now and then in long work; what it raises ends it.
    """

    project: Project
    path: Path | None
    units: UnitChoice
    go_on: Callable[[], object] = lambda: None

    @cached_property
    def candidate(self) -> Analysis:
        """Results of the candidate."""
        return self._analysed(self.variant)

    @cached_property
    def baseline(self) -> Analysis | None:
        """Results of the baseline; None where it is the same car."""
        other = self.project.variant(self.project.baseline)
        return None if other.vehicle == self.variant.vehicle else self._analysed(other)

    @property
    def variant(self) -> Variant:
        """The candidate."""
        return self.project.variant(self.project.candidate)

    @property
    def names(self) -> tuple[str, str]:
        """Of candidate and baseline."""
        return self.project.candidate, self.project.baseline

    def _analysed(self, variant: Variant) -> Analysis:
        return analyse(variant.vehicle, self.project.run, self.project.load)


def _ride(subject: Subject) -> Iterator[Named]:
    candidate, baseline = subject.candidate, subject.baseline
    for key, choice in CHART_CHOICES.items():
        if baseline is not None or not choice.of:  # a car differs from itself by nothing
            yield key, build(key, candidate, baseline, subject.names)


def _speeds(subject: Subject) -> Iterator[Named]:
    candidate, baseline = subject.candidate, subject.baseline
    own, other = speed_sweep(candidate), None if baseline is None else speed_sweep(baseline)
    for figure in key_figures(candidate):
        if figure.key in own.values:
            yield (
                figure.key,
                sweep_chart(figure, own, other, subject.project.run.speed, subject.names),
            )


def _laws(subject: Subject) -> Iterator[Named]:
    load, names = subject.project.load, subject.names
    new, old = LawSource(subject.candidate.vehicle), None
    if subject.baseline is not None:
        old = LawSource(subject.baseline.vehicle)
    charts: list[Chart] = []
    for axle in _AXLES:
        charts += [
            wheel_force_chart(axle, new, old, load, names=names),
            damping_chart(axle, new, old, names=names),
            stabiliser_chart(axle, new, old, load, names),
            tyre_force_chart(axle, new, old, load, names),
            tyre_damping_chart(axle, new, old, names),
        ]
    for side in _SIDES if new.vehicle.right else _SIDES[:1]:
        charts += [
            interconnection_chart(side, new, old, names),
            restriction_chart(side, new, old, names),
            trim_chart(side, new, old, load, names),
        ]
    charts += [
        diagonal_chart(new, old, load, names),
        cushion_force_chart(new, old, names),
        cushion_damping_chart(new, old, names),
    ]
    for chart in charts:
        yield chart.key.removeprefix("law-"), chart


def _linkage(subject: Subject) -> Iterator[Named]:
    candidate, baseline = subject.candidate, subject.baseline
    for place in chain_places(candidate.vehicle):
        chain = follow(candidate.vehicle, place.path)
        if chain is None:
            continue
        own, other = Linked(subject.names[0], chain, bar_load(candidate.car, place)), None
        if baseline is not None and place in chain_places(baseline.vehicle):
            behind = follow(baseline.vehicle, place.path)
            other = behind and Linked(subject.names[1], behind, bar_load(baseline.car, place))
        marks = travel_marks(candidate, place.wheel, (-chain.rebound, chain.jounce))
        for key in LINKAGE_CHARTS:
            shown = marks if key in ("angle", "ratio") else ()
            yield f"{place.name}-{key}", linkage_chart(key, own, other, shown)


def _steel(subject: Subject) -> Iterator[Named]:
    for place in ("front_stabiliser", "rear_stabiliser"):
        bar = getattr(subject.variant.hardware, place)
        if isinstance(bar, StabiliserBar):
            travel = roll_travel(subject.variant.vehicle, place)
            yield f"{place}-stress", bar_stress_chart(stabiliser_beam(bar), travel, names=("whole", ""))


def _life(subject: Subject) -> Iterator[Named]:
    project, variant = subject.project, subject.variant
    parts = fatigue_parts(variant.vehicle, variant.hardware)
    if not parts or not any(road.share > 0 for road in project.road_mix):
        return
    loads = road_loads(
        variant.vehicle, project.run, project.load, project.road_mix, report=lambda _share: subject.go_on()
    )
    for part, life in zip(parts, steel_lives(loads, variant.vehicle, variant.hardware), strict=True):
        name = " ".join(filter(None, (part.name, part.side)))
        yield f"{name}-exceedance", exceedance_chart(life, names=subject.names)
        yield f"{name}-roads", damage_chart(life)
        yield f"{name}-sn", sn_chart(life)


def _packaging(subject: Subject) -> Iterator[Named]:
    project, own_name = subject.project, subject.names[0]
    cases = (AS_DESIGNED, *project.load_cases)
    own, other = packaging(subject.candidate, cases, subject.variant.hardware), None
    if subject.baseline is not None:
        other = packaging(subject.baseline, cases, project.variant(project.baseline).hardware)
    behind = None if other is None else (other.envelope, project.baseline)
    yield "travel", envelope_chart(own.envelope, own_name, behind)
    if own.vehicle.packaging.points:
        yield (
            "clearance",
            clearance_chart(own, own_name, None if other is None else (other, project.baseline)),
        )
    steel = subject.variant.hardware
    stack = trim_stack(own.vehicle, steel.trim_tolerances, project.load, diameters=bar_diameters(steel))
    if not stack.reason:
        for draw in (stack_effects_chart, stack_shares_chart, stack_heights_chart, stack_pitch_chart):
            chart = draw(stack, own_name)
            yield chart.key, chart


def _levelling(subject: Subject) -> Iterator[Named]:
    project, vehicle = subject.project, subject.variant.vehicle
    load = project.load if project.load != AS_DESIGNED else next(reversed(project.load_cases), None)
    if why_not_fitted(vehicle) or load is None:
        return
    for chart in levelling_charts(level(vehicle, load, LevellingEvent()), subject.names[0]):
        yield chart.key.removeprefix("levelling-"), chart


def _roads(subject: Subject) -> Iterator[Named]:
    run, vehicle = subject.project.run, subject.variant.vehicle
    report = road_report(run.event, run.surface, (vehicle.front.track + vehicle.rear.track) / 2)
    yield "profile", profile_chart(report)
    if report.octaves:
        yield "spectrum", spectrum_chart(report)


def _studies(subject: Subject) -> Iterator[Named]:
    if subject.path is None:
        return
    for study in subject.project.studies:
        if study.result is None:
            continue
        result = kept_result(subject.path, ask(subject.project, study))
        if result is not None and result.columns.computed.any():
            every = range(len(result.asked.situations))
            for name, chart in study_charts(result, subject.units, result.asked.metrics, every):
                yield f"{study.name}-{name}", chart


#: Groups by the first word of their names, in the order of a review.
GROUPS: dict[str, Callable[[Subject], Iterator[Named]]] = {
    "ride": _ride,
    "speeds": _speeds,
    "roads": _roads,
    "laws": _laws,
    "linkage": _linkage,
    "levelling": _levelling,
    "packaging": _packaging,
    "steel": _steel,
    "life": _life,
    "studies": _studies,
}
