"""Studies that the user has chosen, from their kept results."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from models.charts.studies import study_charts
from models.report.bench import Bench, ShownStudy
from models.report.document import Block, Cautions, ChartFigure, Note, Paragraph, Row, Subheading, Tone
from models.report.words import amount, headed, number, row, share, table
from models.studies import StudyResult, Wanted, ask, built_cars, front, tuned
from models.study import ParetoSearch, ToleranceDraw, TunedStart
from models.units import UnitChoice

__all__ = ["studies"]

# Figures that are drawn of one study, and rows of one table.
_MOST_FIGURES, _MOST_ROWS = 4, 15
# Charts whose legends are short enough for half the width.
_SMALL = ("study-sweep", "study-spread")


def studies(bench: Bench) -> Iterator[Block]:
    """A chapter for each study."""
    if not bench.studies:
        yield Paragraph("No study was chosen.")
    for shown in bench.studies:
        yield Subheading(shown.name)
        if shown.result is None:
            yield Cautions((f"No result is shown: {shown.problem}.",))
        else:
            yield from _result(bench, shown, shown.result)


def _result(bench: Bench, shown: ShownStudy, result: StudyResult) -> Iterator[Block]:
    asked = result.asked
    places = "; ".join(place.label for place in asked.places)
    where = "; ".join(one.name for one in asked.situations)
    yield Paragraph(
        f"{asked.study.kind.capitalize()} of “{asked.variant}”, {result.columns.done:,} cars. "
        f"Varied: {places}. Judged in: {where}."
    )
    if not result.finished:
        yield Cautions((f"The study was not finished: {result.columns.done} of {result.total} cars.",))
    if _is_stale(bench, shown, result):
        yield Cautions(("The project has changed since: the result holds for the inputs it was asked with.",))
    for refusal in result.refusals()[:3]:
        yield Note(f"Refused: {' '.join(refusal.words.split())}")
    if not result.columns.computed.any():
        yield Paragraph("No car could be computed.")
        return
    for name, chart in islice(study_charts(result, bench.units, _shown(result)), _MOST_FIGURES):
        small = chart.key.startswith(_SMALL)
        yield ChartFigure(chart, chart.title, small, f"{shown.name} {name}")
    yield from _tables(result, bench.units)


def _is_stale(bench: Bench, shown: ShownStudy, result: StudyResult) -> bool:
    study = next((one for one in bench.project.studies if one.name == shown.name), None)
    return study is None or ask(bench.project, study).inputs != result.asked.inputs


def _shown(result: StudyResult) -> list[str]:
    """Keys of the figures to show: those asked for, else those with a target, else the first."""
    asked = result.asked
    wished = [asked.metrics[one.metric] for one in asked.wanted]
    keys = dict.fromkeys([*asked.study.metrics, *wished] or asked.metrics)
    most = _MOST_FIGURES
    if asked.wanted and isinstance(asked.study, ToleranceDraw):
        most = _MOST_FIGURES - 2  # as yield and costs come after them
    return [key for key in keys if key in asked.metrics][:most]


def _tables(result: StudyResult, units: UnitChoice) -> Iterator[Block]:
    match result.asked.study:
        case ToleranceDraw() if result.asked.wanted:
            built = built_cars(result)
            heads = ("Yield", "95 % sure from", "to", "Cars")
            rows = (
                row(
                    one.words,
                    share(one.share),
                    share(one.low),
                    share(one.high),
                    f"{one.passed} of {one.cars}",
                )
                for one in (built.whole, *built.targets)
            )
            yield table("Yield of cars as built", ("Target",), heads, rows)
        case ParetoSearch():
            yield from _front(result, units)
        case TunedStart():
            yield from _tuned(result, units)
        case _:
            return


def _front(result: StudyResult, units: UnitChoice) -> Iterator[Block]:
    study, found = result.asked.study, front(result)
    assert isinstance(study, ParetoSearch)
    if not len(found.rows):
        yield Paragraph("No car meets all targets.")
        return
    figures = [result.asked.figures[result.metric(one.metric)] for one in study.objectives]
    heads = [headed(figure.label, figure.kind, units) for figure in figures]
    heads += [headed(place.label, place.quantity.kind_name, units) for place in result.asked.places]
    rows: list[Row] = []
    for car, values in zip(found.rows.tolist(), found.objectives.tolist(), strict=True):
        cells = [number(value, one.kind, units) for value, one in zip(values, figures, strict=True)]
        rows.append(row(str(len(rows) + 1), *cells, *_car(result, car, units)))
    yield table("Cars of the front", ("No.",), heads[:8], (_first(one, 9) for one in rows[:_MOST_ROWS]))
    if len(rows) > _MOST_ROWS:
        yield Note(f"The first {_MOST_ROWS} of {len(rows)} cars; the file of results has all.")


def _first(one: Row, count: int) -> Row:
    return Row(one.cells[:count])


def _car(result: StudyResult, car: int, units: UnitChoice) -> list[str]:
    pairs = zip(result.asked.places, result.columns.rows[car].tolist(), strict=True)
    return [number(value, place.quantity.kind_name, units, 4) for place, value in pairs]


def _tuned(result: StudyResult, units: UnitChoice) -> Iterator[Block]:
    found = tuned(result)
    if found.row < 0:
        yield Paragraph("No car could be computed.")
        return
    numbers = result.columns.rows[found.row].tolist()
    rows = (
        row(place.label, *(amount(one, place.quantity.kind_name, units, 4) for one in (value, place.value)))
        for place, value in zip(result.asked.places, numbers, strict=True)
    )
    yield table("Numbers that come nearest to the wishes", ("Parameter",), ("Tuned", "As it is"), rows)
    pairs = zip(result.asked.wanted, found.values.tolist(), found.missed.tolist(), strict=True)
    wishes = (_wish(one, value, missed, units) for one, value, missed in pairs)
    yield table("Wishes", ("Wish",), ("Reached", ""), wishes)


def _wish(one: Wanted, reached: float, missed: float, units: UnitChoice) -> Row:
    verdict: tuple[str, Tone] = ("met", "good") if missed <= 0 else (f"missed by {share(missed)}", "bad")
    return row(one.words, amount(reached, one.target.kind, units), verdict)
