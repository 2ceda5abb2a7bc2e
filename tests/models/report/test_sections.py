"""What each section holds, and that numbers stand in the columns whose heads they belong under."""

from __future__ import annotations

import math

import pytest

from models.analysis import analyse
from models.judge.difference import differences
from models.judge.packaging import packaging
from models.judge.statics import load_case_table
from models.project import Project
from models.report import Document
from models.report.bench import Bench
from models.report.document import ChartFigure, Facts, Subheading, Table
from models.report.watch import Watch
from models.units import KINDS, METRIC, factor

#: Section -> titles of its tables, and of its lists and parts, and the charts in it.
HELD = {
    "job": {"Targets"},
    "car": {"Body", "Front axle", "Rear axle", "Diagonal coupling", "Levelling", "Frame", "Load cases"},
    "rates": {
        "Mode rates and axle rates",
        "Body modes",
        "All modes",
        "gain-pitch",
        "gain-heave-acceleration",
    },
    "run": {"time-pitch", "time-heave-acceleration", "time-travel", "time-tyre-load", "Peaks of the run"},
    "roads": {"Road mix", "RMS values, road by road", "psd-weighted-seat-acceleration"},
    "speed": {"speed-rms_weighted_seat_acceleration", "speed-rms_pitch", "speed-pitch_share"},
    "trim": {
        "Load cases at rest",
        "packaging-envelope",
        "Checks of the candidate, each in the case that leaves least room",
        "packaging-clearance",
        "Tolerances at trim",
    },
    "hardware": {
        "Front springs: loads and stress",
        "Interconnection bars: clocking",
        "Trim bars: motor",
        "Rear stabiliser bar",
        "Life over the road mix",
        "fatigue-exceedance",
        "fatigue-roads",
    },
    "method": {"Sources", "To make this document again"},
}


def section_of(document: Document, key: str) -> dict[str, object]:
    """Blocks of a section by their titles and charts."""
    blocks = next(section.blocks for section in document.sections if section.key == key)
    return {
        **{block.title: block for block in blocks if isinstance(block, Table | Facts)},
        **{block.text: block for block in blocks if isinstance(block, Subheading)},
        **{block.chart.key: block for block in blocks if isinstance(block, ChartFigure)},
    }


def table_of(document: Document, key: str, title: str) -> list[dict[str, str]]:
    """Rows of a table by the heads of its columns, titles of groups left out."""
    table = section_of(document, key)[title]
    assert isinstance(table, Table)
    heads = [column.head for column in table.columns]
    rows = [[cell.text for cell in row.cells] for row in table.rows if not row.is_title]
    return [dict(zip(heads, row, strict=True)) for row in rows]


def bench(project: Project) -> Bench:
    return Bench(project, project.review, (), Watch(), METRIC)


def number(text: str) -> float:
    return float(text.split()[0].replace("−", "-").replace(" ", ""))


@pytest.mark.parametrize("key", HELD)
def test_nothing_is_missing_and_no_table_is_empty(whole: Document, key: str) -> None:
    found = section_of(whole, key)
    assert found.keys() >= HELD[key]
    assert all(block.rows for block in found.values() if isinstance(block, Table))
    assert all(block.facts for block in found.values() if isinstance(block, Facts))
    assert all(block.chart.curves for block in found.values() if isinstance(block, ChartFigure))


def test_each_parameter_that_differs_has_a_row(saloon: Project, whole: Document) -> None:
    own, other = (saloon.variant(name).vehicle for name in (saloon.candidate, saloon.baseline))
    rows = table_of(whole, "differences", "")
    for row, one in zip(rows, differences(own, other), strict=True):
        assert (row["Parameter"], row["Candidate"], row["Baseline"]) == (one.words, *one.texts(METRIC))


def test_each_check_is_shown_where_it_leaves_least_room(saloon: Project, whole: Document) -> None:
    car = saloon.variant(saloon.candidate)
    analysis = analyse(car.vehicle, saloon.run, saloon.load)
    checks = packaging(analysis, bench(saloon).load_cases, car.hardware).checks
    least: dict[str, tuple[str, float]] = {}
    for one in checks:
        if one.met is not None:
            margin = one.margin / factor(METRIC[one.figure.kind], KINDS[one.figure.kind].si)
            before = least.get(one.figure.key, (one.figure.label, math.inf))[1]
            least[one.figure.key] = one.figure.label, min(before, margin)
    rows = table_of(whole, "trim", "Checks of the candidate, each in the case that leaves least room")
    for row, (label, margin) in zip(rows, least.values(), strict=True):
        assert row["Check"] == label
        assert number(row["Margin"]) == pytest.approx(margin, rel=6e-3)  # three digits are shown
        assert row["Margin"].endswith("miss") == (margin < 0)


def test_travel_that_is_left_stands_under_its_own_head(saloon: Project, whole: Document) -> None:
    load_cases = bench(saloon).load_cases
    cases = [
        one
        for name in (saloon.candidate, saloon.baseline)
        for one in load_case_table(saloon.variant(name).vehicle, load_cases)
    ]
    rows = table_of(whole, "trim", "Load cases at rest")
    assert [row["Load case"] for row in rows] == [one.name for one in cases]
    for row, one in zip(rows, cases, strict=True):
        for head, ends in (("Jounce left, mm", one.jounce_left), ("Rebound left, mm", one.rebound_left)):
            shown = [number(text) for text in row[head].split(" / ")]
            assert shown == pytest.approx([1000 * end for end in ends], rel=6e-3)
        assert number(row["FL, N"]) == pytest.approx(one.tyre_force[0], rel=6e-3)
