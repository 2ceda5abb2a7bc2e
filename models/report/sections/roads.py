"""Ride on each road of the mix."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from models.comfort.measures import reactions
from models.figure import Figure
from models.judge.mix import MIX_MEANING, MIX_PREFIX, Mix
from models.report.bench import Bench
from models.report.document import Block, Note, Paragraph, Row
from models.report.sections.rates import small_charts
from models.report.words import (
    amount,
    figure_rows,
    headed,
    number,
    row,
    share,
    surface_words,
    table,
    title_row,
    value,
)
from models.roads import RandomRoad, RoadShare
from models.roads.mix import mix_shares

__all__ = ["roads"]

# Columns of the table of roads: key of the figure, head.
_COLUMNS = (
    ("rms_weighted_seat_acceleration", "Seat, Wk"),
    ("rms_seat_vibration_total", "Seat, total"),
    ("rms_pitch", "Pitch"),
    ("rms_horizon_movement", "Horizon"),
    ("pitch_share", "Pitch share"),
    ("dynamic_tyre_load_front", "Tyre load front"),
    ("dynamic_tyre_load_rear", "Tyre load rear"),
)
_SURFACE = "psd-weighted-seat-acceleration", "psd-pitch-acceleration"


def roads(bench: Bench) -> Iterator[Block]:
    """The mix, each road by itself, all of them together, and the spectra on the surface of the run."""
    project, units = bench.project, bench.units
    if project.road_mix:
        yield table("Road mix", ("Road", "Surface", "Event"), _mix_heads(bench), _mix_rows(bench))
        yield table("RMS values, road by road", ("Road and variant",), _heads(bench), _road_rows(bench))
        yield Note(
            "RMS over the road, of events over one passing. Seat: vertical acceleration at the driver's seat "
            "weighted by Wk, and the vibration total value of all axes (ISO 2631-1). Horizon: movement of "
            "the road ahead in the windscreen. Pitch share: RMS pitch acceleration · half wheelbase / RMS "
            f"heave acceleration. Tyre load: RMS of the tyre force over its static value. {MIX_MEANING}"
        )
        yield Paragraph(_felt(bench, [car.mix for car in bench.cars]))
    else:
        yield Paragraph("The project has no road mix; figures are those on the surface of the run.")
        columns = [
            tuple(figure for figure in car.group("Levelness", "Comfort", "Control") if _random(figure))
            for car in bench.cars
        ]
        yield table("On the surface of the run", ("Figure", "Unit"), bench.heads, figure_rows(columns, units))
    speed = amount(project.run.speed, "speed", units)
    yield Paragraph(f"Spectra on {surface_words(project.run.surface)} at {speed}.")
    yield from small_charts(bench, *_SURFACE)


def _random(figure: Figure) -> bool:
    return figure.meaning.startswith("Random road")


def _mix_heads(bench: Bench) -> tuple[str, ...]:
    units = bench.units
    return (
        "Distance",
        headed("Speed", "speed", units),
        headed("Gd(n₀)", "road roughness", units),
        "Waviness",
    )


def _mix_rows(bench: Bench) -> Iterator[Row]:
    mix = bench.project.road_mix
    for road, part in zip(mix, mix_shares(mix).tolist(), strict=True):
        yield row(
            road.name,
            *_surface(road),
            share(part),
            number(road.speed, "speed", bench.units),
            *(
                (
                    number(road.roughness, "road roughness", bench.units),
                    number(road.waviness, "ratio", bench.units),
                )
                if isinstance(road.event, RandomRoad)
                else ("", "")
            ),
        )


def _surface(road: RoadShare) -> tuple[str, str]:
    if isinstance(road.event, RandomRoad):
        return surface_words(road.surface), ""
    return "", road.event.kind


def _heads(bench: Bench) -> tuple[str, ...]:
    known = {figure.key: figure for figure in bench.candidate.mix.figures}
    return tuple(
        headed(head, known[MIX_PREFIX + key].kind, bench.units)
        for key, head in _COLUMNS
        if MIX_PREFIX + key in known
    )


def _road_rows(bench: Bench) -> Iterator[Row]:
    for place, road in enumerate(bench.candidate.mix.shares):
        yield title_row(road.name)
        for name, car in zip(bench.heads, bench.cars, strict=False):
            yield row(name.lower(), *_values(bench, car.mix.shares[place].figures))
    yield title_row("All roads together")
    for name, car in zip(bench.heads, bench.cars, strict=False):
        yield row(name.lower(), *_values(bench, {figure.key: figure for figure in car.mix.figures}))


def _values(bench: Bench, figures: Mapping[str, Figure]) -> list[str]:
    keys = [MIX_PREFIX + key for key, _ in _COLUMNS]
    return [value(figures[key], bench.units) for key in keys if key in figures]


def _felt(bench: Bench, mixes: list[Mix]) -> str:
    """Words of ISO 2631-1 for the vibration total over the mix."""
    told = []
    for name, mix in zip(bench.names, mixes, strict=True):
        totals = {figure.key: figure.value for figure in mix.figures}
        total = totals.get(MIX_PREFIX + "rms_vibration_total")
        if total is not None:
            words = " to ".join(reactions(total))
            told.append(f"“{name}” {amount(total, 'acceleration', bench.units)}, {words}")
    return (
        f"Overall vibration total value over the mix: {'; '.join(told)}. The words are the indications of "
        "ISO 2631-1, annex C, for public transport; they are information and no limits."
    )
