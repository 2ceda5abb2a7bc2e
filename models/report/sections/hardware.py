"""The parts in steel: what they give, what they bear, and how long they live."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from models.cautions import HARDWARE_CAUTIONS
from models.charts.fatigue import damage_chart, exceedance_chart
from models.errors import InputError
from models.figure import Figure
from models.figure_text import distance_text, unit_text
from models.hardware.fatigue import NOT_COVERED
from models.judge.fatigue import Life
from models.judge.part_report import PartReport, is_exceeded, part_reports
from models.judge.road_loads import road_loads
from models.judge.steel_life import FatiguePart, fatigue_parts, left_out, steel_life_figures, steel_lives
from models.report.bench import Bench
from models.report.document import Block, Cautions, ChartFigure, Fact, Facts, Note, Paragraph, Row, Tone
from models.report.words import headed, number, row, share, table, value

__all__ = ["hardware"]


def hardware(bench: Bench) -> Iterator[Block]:
    """Each part of the candidate, the lives of all, and what has to be known about both."""
    variant = bench.candidate.variant
    reports = part_reports(variant.vehicle, variant.hardware, bench.project.load_cases)
    described = [report for report in reports.values() if report.part is not None]
    if not described:
        yield Paragraph("No part in steel is described for the candidate.")
        return
    for report in described:
        yield from _part(bench, report)
    yield from _life(bench)
    yield Cautions(HARDWARE_CAUTIONS)


def _part(bench: Bench, report: PartReport) -> Iterator[Block]:
    groups = [(report.name, report.figures)]
    groups += [(f"{report.name}: {title.lower()}", figures) for title, figures in report.groups]
    for title, figures in groups:
        facts = tuple(Fact(figure.label, _with_unit(bench, figure)) for figure in figures)
        yield Facts(title, facts)
    if report.states.rows:
        kinds = [cell.kind for cell in report.states.rows[0].cells]
        pairs = zip(report.states.columns, kinds, strict=True)
        yield table(
            f"{report.name}: loads and stress",
            ("State",),
            [headed(column, kind, bench.units) for column, kind in pairs],
            (row(one.name, *(_cell(bench, cell) for cell in one.cells)) for one in report.states.rows),
        )
    for change in report.mismatch:
        car, steel = (number(one, change.kind, bench.units, 4) for one in (change.car, change.steel))
        unit = unit_text(change.kind, bench.units)
        words = f"{report.name}: {change.label} is {car} in the car and {steel} {unit}".rstrip()
        yield Cautions((f"{words} in steel.",))


def _with_unit(bench: Bench, figure: Figure) -> str:
    text = value(figure, bench.units)
    if isfinite(figure.value):
        text = f"{text} {unit_text(figure.kind, bench.units)}".rstrip()
    return f"{text}, exceeded" if is_exceeded(figure) else text


def _cell(bench: Bench, figure: Figure) -> tuple[str, Tone]:
    text = value(figure, bench.units)
    return (f"! {text}", "bad") if is_exceeded(figure) else (text, "")


def _life(bench: Bench) -> Iterator[Block]:
    project, variant = bench.project, bench.candidate.variant
    parts = fatigue_parts(variant.vehicle, variant.hardware)
    if not parts or not project.road_mix:
        yield Paragraph(
            "Lives are reckoned over the road mix, and the project has none."
            if parts
            else "No part that is described carries load in this car, so none has a life."
        )
        return
    try:
        loads = road_loads(
            variant.vehicle,
            project.run,
            project.load,
            project.road_mix,
            lambda share: bench.watch.tell(share, "Lives over the road mix"),
        )
    except InputError as error:
        yield Paragraph(f"The road mix was not driven: {error.problems[0].reason}.")
        return
    lives = steel_lives(loads, variant.vehicle, variant.hardware)
    yield from _lives(bench, list(zip(parts, lives, strict=True)))
    for sentence in left_out(variant.vehicle, variant.hardware):
        yield Note(sentence)
    yield Note("Not covered: " + " ".join(NOT_COVERED))


def _lives(bench: Bench, lives: list[tuple[FatiguePart, Life]]) -> Iterator[Block]:
    target, unit = bench.candidate.variant.hardware.life_target, bench.units["distance driven"]
    yield table(
        "Life over the road mix",
        ("Part", "Side", "Worst road"),
        (f"Life, {unit}", "", "Margin on stress", headed("Greatest stress", "stress", bench.units), "Used"),
        (_life_row(bench, part, life) for part, life in lives),
    )
    sure, wanted = f"{100 * target.reliability:.4g} %", distance_text(target.distance, unit)
    yield Note(
        f"Life that {sure} of the parts reach, against a target of {wanted} {unit}. Margin: factor on all "
        "stress until the life is the target. Used: greatest stress over the allowed one."
    )
    part, worst = min(lives, key=lambda one: one[1].distance)
    name = part.stressed.name
    yield ChartFigure(exceedance_chart(worst, names=("road mix", "")), f"{name}: ranges of stress")
    yield ChartFigure(damage_chart(worst), f"{name}: damage by road, in the order of the mix")


def _life_row(bench: Bench, part: FatiguePart, life: Life) -> Row:
    figures = {figure.key: figure for figure in steel_life_figures(part, life)}
    shares, used = life.shares, figures["steel_use"].value
    met = life.distance >= life.target.distance
    worst = shares.max(initial=0.0)
    return row(
        part.name,
        part.side or "–",
        f"{life.roads[int(shares.argmax())].name}, {share(worst, 2)}" if worst > 0 else "–",
        distance_text(life.distance, bench.units["distance driven"]),
        ("pass", "good") if met else ("miss", "bad"),
        value(figures["fatigue_margin"], bench.units),
        value(figures["steel_peak"], bench.units),
        share(used) if used <= 1 else (f"! {share(used)}", "bad"),
    )
