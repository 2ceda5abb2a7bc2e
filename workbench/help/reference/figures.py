"""Every figure, gathered from the functions that make them; the numbers of the car are not used."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from models.analysis import analyse
from models.assembly import mechanics
from models.fields import follow
from models.figure import Figure
from models.hardware import CoilSpring, Hardware
from models.judge import GROUPS, key_figures
from models.judge.fatigue import StressedPart, life
from models.judge.levelling import levelling_figures
from models.judge.linkage import bar_load, chain_figures, chain_places
from models.judge.packaging import packaging, packaging_figures
from models.judge.practice import PRACTICE, PRACTICE_MEANING, practice_figures
from models.judge.steel_life import FatiguePart, steel_life_figures
from models.judge.trim_tolerance import stack_figures, trim_stack
from models.part_loads import part_figures
from models.ride.levelling import STEP, LevellingRun
from models.ride.levelling_event import LevellingEvent
from models.run import Run
from models.units import KINDS
from models.vehicle import AS_DESIGNED, Vehicle
from workbench.help.anchors import figure_anchor, figure_family
from workbench.help.reference.markdown import entry, page, words
from workbench.help.reference.samples import sample_car, sample_hardware

__all__ = ["FigureGroup", "figure_groups", "figures_page"]

_LEAD = """Each figure with its meaning and formula, as its tooltip tells them, and the key by which files,
targets and the command line call it. The same figure over the road mix has `mix_` before its key, and over
the whole time run `run_`; they are told by the figure itself and by the [rules of the
mix](theory/time.md#theory-mix)."""


@dataclass(frozen=True, slots=True)
class FigureGroup:
    """Figures that stand together.

    Attributes:
        title, meaning: of the group.
        theory: label of the section of the theory.
        figures: (name of the part or empty, figure) each.
    """

    title: str
    meaning: str
    theory: str
    figures: tuple[tuple[str, Figure], ...]


_THEORY = {
    "Levelness": "theory-judged",
    "Comfort": "theory-comfort",
    "Control": "theory-judged",
    "Modes": "theory-modes",
    "Rates": "theory-rates",
    "Handling": "theory-manoeuvres",
    "Frame": "theory-frame",
    "Trim": "theory-statics",
}

#: Kind or place of a part in steel -> what to call it, where that is something else.
_PARTS = {
    "clocking": "clocking of a bar",
    "motor": "levelling motor",
    "front": "stabiliser bar",
    "gas": "gas spring",
}


def figure_groups() -> tuple[FigureGroup, ...]:
    """All groups in the order of the page."""
    run = Run(laws="linear", duration=0.2)
    car = sample_car()
    analysis = analyse(car, run, compiled=False)
    known = key_figures(analysis)
    by_key = {figure.key: figure for figure in known}
    groups = [
        FigureGroup(name, meaning, _THEORY[name], _plain(one for one in known if one.group == name))
        for name, meaning in GROUPS.items()
    ]
    checked = packaging(analysis, [AS_DESIGNED], sample_hardware()[0])
    return (
        *groups,
        FigureGroup(PRACTICE, PRACTICE_MEANING, "theory-practice", _plain(practice_figures(by_key))),
        FigureGroup(
            "Levelling",
            "A load is put in, the car is driven, the load is taken out, and the motor levels.",
            "theory-levelling",
            _plain(levelling_figures(_levelling_run(car))),
        ),
        FigureGroup(
            "Linkage",
            "A chain of rockers and links over the travel of its wheel.",
            "theory-linkage",
            tuple(_of_chains(car)),
        ),
        FigureGroup(
            "Packaging",
            "Room of wheels, body, levers and links, in load cases and run.",
            "theory-packaging",
            _plain([*packaging_figures(checked), *(check.figure for check in checked.checks)]),
        ),
        FigureGroup(
            "Tolerance stack at trim",
            "What parts that are off as built do to the height at which the car stands.",
            "theory-trim-tolerance",
            _plain(stack_figures(trim_stack(car, Hardware().trim_tolerances, draws=2))),
        ),
        FigureGroup(
            "Parts in steel",
            "What springs and bars give and bear, in each load case and at the stops.",
            "theory-steel",
            tuple(_steel()),
        ),
        FigureGroup(
            "Life of parts in steel",
            "How far a part goes over the road mix.",
            "theory-fatigue",
            _plain(_of_life()),
        ),
    )


def figures_page() -> str:
    """One section per group."""
    parts, told = [_LEAD], set[str]()
    for group in figure_groups():
        parts += [f"## {group.title}", f"{words(group.meaning)} {{ref}}`Theory <{group.theory}>`"]
        parts += list(_entries(group, told))
    return page("Key figures", *parts)


def _entries(group: FigureGroup, told: set[str]) -> Iterator[str]:
    """One entry per family of figures; a family that other groups have too has its anchor in the first."""
    families: dict[str, list[tuple[str, Figure]]] = {}
    for part, figure in group.figures:
        families.setdefault(figure_family(figure.key), []).append((part, figure))
    for family, members in families.items():
        labels = dict.fromkeys(_plain_label(figure, len(members)) for _, figure in members)
        lines = dict.fromkeys(_line(part, figure, len(labels) > 1) for part, figure in members)
        anchor = figure_anchor(family)
        name = next(iter(labels)) if len(labels) == 1 else _family_name(family)
        if anchor in told:
            anchor = f"{anchor}-{figure_anchor(group.title)}"
        told.add(anchor)
        yield entry(anchor, name, [*lines, _facts(family, [figure for _, figure in members])])


def _line(part: str, figure: Figure, named: bool) -> str:
    before = ", ".join(word for word in (part, _plain_label(figure, 2) if named else "") if word)
    return words(f"{before}: {figure.meaning}" if before else figure.meaning)


def _plain_label(figure: Figure, alike: int) -> str:
    """Name of a figure without the state or place that it is told for."""
    return figure.label if alike == 1 else figure.label.partition(", ")[0]


def _family_name(family: str) -> str:
    return family.replace("_", " ").capitalize()


def _facts(family: str, figures: list[Figure]) -> str:
    kinds = [KINDS[kind] for kind in dict.fromkeys(figure.kind for figure in figures)]
    units = ", ".join(unit for unit in dict.fromkeys(kind.usual for kind in kinds) if unit != "1")
    keys = f"`{family}`" if {figure.key for figure in figures} == {family} else f"`{family}_…`"
    better = {figure.better for figure in figures} - {"none"}
    facts = [keys, words(units), f"{better.pop()} is better as a rule" if len(better) == 1 else ""]
    return f"[{' · '.join(fact for fact in facts if fact)}]{{.facts}}"


def _plain(figures: Iterable[Figure]) -> tuple[tuple[str, Figure], ...]:
    return tuple(("", figure) for figure in figures)


def _of_chains(car: Vehicle) -> Iterator[tuple[str, Figure]]:
    """Of one chain of the car, which has as many stages as any."""
    built = mechanics(car)
    for place in chain_places(car):
        chain = follow(car, place.path)
        if chain is not None:
            return iter(_plain(chain_figures(chain, bar_load(built, place))))
    return iter(())


def _steel() -> Iterator[tuple[str, Figure]]:
    """Of each kind of part, in a car whose bars have a rate; figures that are alike in all states once."""
    car = sample_car()
    for hardware in sample_hardware():
        for place, figures in part_figures(car, hardware).items():
            part = getattr(hardware, place, None)
            name = str(getattr(part, "kind", place.replace("_", " ").partition(" ")[0]))
            yield from ((_PARTS.get(name, name).capitalize(), figure) for figure in figures)


def _of_life() -> tuple[Figure, ...]:
    coil = CoilSpring()
    stressed = StressedPart("Front springs, left", "front left spring", 1.0)
    found = life((), stressed, coil.material.fatigue)
    return steel_life_figures(FatiguePart("front_spring", "left", stressed, coil), found)


def _levelling_run(car: Vehicle) -> LevellingRun:
    """A car that stands still, at two samples."""
    none = np.zeros(2)
    return LevellingRun(
        event=LevellingEvent(),
        load=AS_DESIGNED,
        levelling=car.levelling,
        axle="rear",
        t=np.array([0.0, STEP]),
        front=none,
        rear=none,
        seen=none,
        wind_up=none,
        motor=np.zeros(2, dtype=np.int64),
        torque=none,
        current=none,
        energy=none,
    )
