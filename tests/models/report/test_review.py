"""What a review says, against the results that it is about."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest

from models.analysis import analyse
from models.cautions import CAUTIONS, HARDWARE_CAUTIONS
from models.fields import replaced
from models.figure_text import unit_text
from models.judge import Figure, key_figures
from models.project import SECTIONS, Project, ReviewOptions, set_baseline
from models.report import SECTION_TITLES, Document, ShownStudy, Stopped, Watch, review
from models.report.bench import Bench
from models.report.document import Cautions, ChartFigure, Facts, Paragraph, Table
from models.report.inputs import inputs_hash
from models.units import INCH_POUND, KINDS, METRIC, UnitChoice, factor

# Three significant digits: half of the last of "1.00".
_ROUNDED = 5.1e-3


def tables(document: Document) -> Iterator[Table]:
    for section in document.sections:
        yield from (block for block in section.blocks if isinstance(block, Table))


def figure_lines(document: Document) -> Iterator[tuple[str, str, str, str]]:
    """Label, unit, candidate and baseline of each row of a table of figures."""
    for table in tables(document):
        heads = [column.head for column in table.columns]
        if heads[:2] == ["Figure", "Unit"] and "Baseline" in heads:
            own, other = heads.index("Candidate"), heads.index("Baseline")
            for row in table.rows:
                if not row.is_title:
                    texts = [cell.text for cell in row.cells]
                    yield texts[0], texts[1], texts[own], texts[other]


def figures(project: Project, name: str) -> dict[str, Figure]:
    analysis = analyse(project.variant(name).vehicle, project.run, project.load)
    return {figure.label: figure for figure in key_figures(analysis)}


def agrees(text: str, figure: Figure, units: UnitChoice) -> bool:
    shown = figure.value / factor(units[figure.kind], KINDS[figure.kind].si)
    if text == "–":
        return not math.isfinite(shown)
    return float(text.replace("−", "-")) == pytest.approx(shown, rel=_ROUNDED)


@pytest.mark.parametrize("units", ["metric", "inch-pound"])
def test_every_figure_is_the_key_figure_in_its_unit(
    saloon: Project, whole: Document, quick: ReviewOptions, units: str
) -> None:
    choice = METRIC if units == "metric" else INCH_POUND
    sections = ("job", "rates", "run", "handling", "scorecard")
    options = replaced(replaced(quick, ("units",), units), ("sections",), sections)
    document = whole if units == "metric" else review(saloon, options=options)
    own, other = (figures(saloon, name) for name in (saloon.candidate, saloon.baseline))
    checked = set()
    for label, unit, candidate, baseline in figure_lines(document):
        if label in own:
            assert unit == unit_text(own[label].kind, choice), label
            assert agrees(candidate, own[label], choice), (label, candidate, own[label].value)
            assert agrees(baseline, other[label], choice), (label, baseline, other[label].value)
            checked.add(label)
    assert checked == set(own)


def test_sections_stand_in_the_order_that_is_asked_for(saloon: Project, quick: ReviewOptions) -> None:
    chosen = ("method", "rates", "cautions")
    document = review(saloon, options=replaced(quick, ("sections",), chosen))
    assert tuple(section.key for section in document.sections) == chosen
    assert [section.title for section in document.sections] == [SECTION_TITLES[key] for key in chosen]


def test_a_whole_review_has_every_section_and_leaves_none_empty(whole: Document) -> None:
    assert tuple(section.key for section in whole.sections) == SECTIONS
    assert all(section.blocks for section in whole.sections)
    assert not [text for text in sentences(whole) if "could not be computed" in text]


def sentences(document: Document) -> list[str]:
    blocks = [block for section in document.sections for block in section.blocks]
    texts = [block.text for block in blocks if isinstance(block, Paragraph)]
    return texts + [one for block in blocks if isinstance(block, Cautions) for one in block.sentences]


def test_all_cautions_are_told(whole: Document) -> None:
    assert {*CAUTIONS, *HARDWARE_CAUTIONS} <= set(sentences(whole))


def test_a_missed_target_is_named_on_the_cover_and_marked_in_the_table(whole: Document) -> None:
    assert whole.summary[0] == "The candidate meets 6 of 7 targets and misses: Dynamic tyre load front."
    targets = next(table for table in tables(whole) if table.title == "Targets")
    missed = [row.cells[0].text for row in targets.rows if any(cell.tone == "bad" for cell in row.cells)]
    assert missed == ["Dynamic tyre load front"]


def test_the_cover_has_what_the_options_say(whole: Document) -> None:
    cover = {fact.name: fact.text for fact in whole.cover}
    assert cover["Author"] == "R. Example"
    assert cover["Date"] == whole.running[1] == "2026-11-25"
    assert cover["Revision note"] == "First issue."
    assert cover["Candidate"] == whole.subtitle == "joined torsion bars"


def test_each_road_of_the_mix_has_a_row_for_each_car(saloon: Project, whole: Document) -> None:
    table = next(table for table in tables(whole) if table.title == "RMS values, road by road")
    titles = [row.cells[0].text for row in table.rows if row.is_title]
    assert titles == [*(road.name for road in saloon.road_mix), "All roads together"]
    assert len(table.rows) == 3 * len(titles)


def test_charts_have_names_of_their_own(whole: Document) -> None:
    names = [name for name, _ in whole.charts()]
    assert len(names) == len(set(names)) > 10
    assert "run-time-pitch" in names


def test_a_project_of_one_variant_is_reviewed_alone(saloon: Project, quick: ReviewOptions) -> None:
    alone = set_baseline(saloon, saloon.candidate)
    document = review(alone, options=replaced(quick, ("sections",), ("job", "differences", "rates", "roads")))
    heads = [column.head for table in tables(document) for column in table.columns]
    assert "Candidate" in heads
    assert not {"Baseline", "Change"} & set(heads)


def test_a_project_with_nothing_in_it_is_reviewed(quick: ReviewOptions) -> None:
    from models.project import new_project

    document = review(new_project(), options=replaced(quick, ("sections",), SECTIONS))
    assert not [text for text in sentences(document) if "could not be computed" in text]
    assert document.summary[0] == "The project sets no targets."


def test_a_section_that_cannot_be_computed_says_why(saloon: Project, quick: ReviewOptions) -> None:
    from models.vehicle import Load, LoadCase

    empty = LoadCase(name="empty", loads=(Load(name="nothing left", mass=-1900.0),))
    hopeless = replaced(replaced(saloon, ("load_cases",), (empty,)), ("load_case",), "empty")
    hopeless = replaced(hopeless, ("targets",), ())
    document = review(hopeless, options=replaced(quick, ("sections",), ("rates", "method")))
    reason = next(block for block in document.sections[0].blocks if isinstance(block, Cautions))
    assert "could not be computed" in reason.sentences[0]
    assert document.sections[1].blocks


def test_a_study_without_a_result_says_why(saloon: Project, quick: ReviewOptions) -> None:
    shown = (ShownStudy("map", None, "run the study first"),)
    document = review(saloon, shown, replaced(quick, ("sections",), ("studies",)))
    assert "No result is shown: run the study first." in sentences(document)


def test_the_hash_tells_other_inputs(saloon: Project, options: ReviewOptions) -> None:
    first = inputs_hash(saloon, options, ())
    assert first == inputs_hash(saloon, options, ())
    assert first == inputs_hash(replaced(saloon, ("review", "author"), "Someone"), options, ())
    others = {
        inputs_hash(saloon, replaced(options, ("paper",), "letter"), ()),
        inputs_hash(saloon, replaced(options, ("date",), "2026-11-26"), ()),
        inputs_hash(replaced(saloon, ("run", "speed"), 30.0), options, ()),
        inputs_hash(saloon, options, (ShownStudy("map", None, "none"),)),
    }
    assert len(others | {first}) == 5


def test_progress_goes_up_to_the_end(saloon: Project, quick: ReviewOptions) -> None:
    told: list[float] = []
    review(saloon, options=quick, watch=Watch(lambda share, _words: told.append(share)))
    assert told == sorted(told)
    assert told[0] == 0.0
    assert told[-1] == 1.0


def test_a_review_that_nobody_wants_stops(saloon: Project, quick: ReviewOptions) -> None:
    with pytest.raises(Stopped):
        review(saloon, options=quick, watch=Watch(stopped=lambda: True))


def test_units_change_nothing_but_the_numbers(saloon: Project, quick: ReviewOptions) -> None:
    sections = replaced(quick, ("sections",), ("car", "trim"))
    one, other = (review(saloon, options=replaced(sections, ("units",), u)) for u in ("metric", "inch-pound"))
    for own, theirs in zip(blocks(one), blocks(other), strict=True):
        assert type(own) is type(theirs)
        if isinstance(own, Facts) and isinstance(theirs, Facts):
            assert [fact.name for fact in own.facts] == [fact.name for fact in theirs.facts]
    assert {chart.key for _, chart in one.charts()} == {chart.key for _, chart in other.charts()}
    assert " in" in str(blocks(other))
    assert " mm" not in str([block for block in blocks(other) if not isinstance(block, ChartFigure)])


def blocks(document: Document) -> list[object]:
    return [block for section in document.sections for block in section.blocks]


def test_the_bench_reads_the_units_of_the_options(saloon: Project) -> None:
    bench = Bench(saloon, ReviewOptions(units="inch-pound"), (), Watch())
    assert bench.units["rate"] == "lbf/in"
