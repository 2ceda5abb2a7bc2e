"""The scorecard: values, targets, margins and changes of all variants; common practice; curves."""

from __future__ import annotations

from math import inf, isnan, nan

import pytest

from models.analysis import analyse
from models.charts import CHART_CHOICES
from models.fields import replaced
from models.judge import GROUPS, key_figures
from models.judge.curves import CURVES, curve_of
from models.judge.practice import PRACTICE, PRACTICE_TARGETS, practice_figures
from models.judge.scorecard import (
    Case,
    Outcome,
    Scorecard,
    outcome,
    scope_words,
    scorecard,
    wanted_cases,
)
from models.judge.targets import judged
from models.project import Project, Variant, add_load_case, add_variant, new_project, set_target
from models.roads import ROAD_CLASSES
from models.target import Target
from models.units import METRIC
from models.vehicle import Load, LoadCase, Vehicle

PITCH = Target(metric="rms_pitch", kind="angle", high="0.5 deg")
HEAVY = LoadCase(name="boot", loads=(Load(name="luggage", mass=150.0, x=-3.2),))


@pytest.fixture(scope="module")
def project() -> Project:
    stiff = Variant(name="stiff", vehicle=replaced(Vehicle(), ("rear", "spring", "rate"), 45e3))
    both = add_variant(new_project(Variant(name="soft")), stiff)
    return add_load_case(replaced(both, ("run", "laws"), "linear"), HEAVY)


def card(project: Project) -> Scorecard:
    return scorecard(project, {case: outcome(case) for case in wanted_cases(project)})


@pytest.mark.parametrize(
    ("low", "high", "value", "passed", "margin", "share"),
    [
        (None, 2.0, 1.5, True, 0.5, 0.25),
        (None, 2.0, 2.0, True, 0.0, 0.0),
        (None, 2.0, 3.0, False, -1.0, -0.5),
        (2.0, None, 3.0, True, 1.0, 0.5),
        (2.0, None, 1.0, False, -1.0, -0.5),
        (2.0, 4.0, 3.5, True, 0.5, 0.125),
        (2.0, 4.0, 2.5, True, 0.5, 0.25),
        (2.0, 4.0, 1.0, False, -1.0, -0.5),
        (-4.0, -2.0, -1.0, False, -1.0, -0.5),
        (0.5, None, inf, True, inf, inf),
        (None, 0.5, inf, False, -inf, -inf),
    ],
)
def test_margin_is_the_distance_to_the_nearest_limit(
    low: float | None, high: float | None, value: float, passed: bool, margin: float, share: float
) -> None:
    verdict = judged(Target(metric="m", kind="ratio", low=low, high=high), value)
    assert verdict is not None
    assert (verdict.passed, verdict.margin) == (passed, margin)
    assert verdict.share == pytest.approx(share)


def test_no_value_has_no_verdict_and_a_limit_of_zero_no_share() -> None:
    assert judged(PITCH, nan) is None
    verdict = judged(Target(metric="m", kind="ratio", high=0.0), 1.0)
    assert verdict is not None
    assert isnan(verdict.share)


def test_every_figure_of_every_variant_is_there_with_its_change(project: Project) -> None:
    found = card(project)
    assert found.variants == ("soft", "stiff")
    figures = [
        {one.key: one for one in key_figures(analyse(variant.vehicle, project.run))}
        for variant in project.variants
    ]
    keys = [row.figure.key for row in found.rows if row.figure.group != PRACTICE]
    assert keys == list(figures[0])
    for row in found.rows:
        if row.figure.group == PRACTICE:
            continue
        base, other = row.cells
        assert base.value == figures[0][row.figure.key].value
        assert other.value == figures[1][row.figure.key].value
        assert (base.change, base.change_share) == (0.0, 0.0)
    pitch = found.rows[0]
    before, after = (one["rms_pitch"].value for one in figures)
    assert pitch.cells[1].change == after - before
    assert pitch.cells[1].change_share == pytest.approx(after / before - 1)


def test_a_target_is_judged_for_every_variant(project: Project) -> None:
    row = card(set_target(project, PITCH)).rows[0]
    assert row.target == PITCH
    assert row.of_project
    for cell in row.cells:
        assert cell.verdict is not None
        assert cell.verdict.margin == pytest.approx(PITCH.high - cell.value)


def test_a_target_in_its_own_situation_is_a_row_of_its_own(project: Project) -> None:
    own = replaced(replaced(replaced(PITCH, ("load_case",), "boot"), ("road_class",), "D"), ("speed",), 30.0)
    targeted = set_target(set_target(project, PITCH), own)
    assert len(wanted_cases(targeted)) == 4
    first, second = card(targeted).rows[:2]
    assert (first.target, second.target) == (PITCH, own)
    run = replaced(replaced(project.run, ("speed",), 30.0), ("surface", "roughness"), ROAD_CLASSES["D"])
    expected = analyse(Vehicle(), run, HEAVY)
    assert second.cells[0].value == expected.ride.channel_rms("pitch")
    assert scope_words(own, METRIC) == "boot, class D, 108 km/h"
    assert scope_words(PITCH, METRIC) == ""


def test_targets_that_cannot_be_judged_say_why(project: Project) -> None:
    gone = replaced(PITCH, ("load_case",), "roof rack")
    unknown = Target(metric="loudness", kind="ratio", high=1.0)
    wrong = Target(metric="pitch_share", kind="angle", high=1.0)
    made = project
    for target in (gone, unknown, wrong):
        made = set_target(made, target)
    rows = {row.target: row for row in card(made).rows if row.target is not None}
    assert rows[gone].problem == "there is no load case 'roof rack'"
    assert rows[unknown].problem == "the run of the project has no such figure"
    assert rows[wrong].problem == "the target is of kind angle, the figure of kind ratio"
    for target in (gone, unknown, wrong):
        assert all(cell.verdict is None for cell in rows[target].cells)


def test_what_is_not_computed_yet_has_no_value(project: Project) -> None:
    cases = wanted_cases(project)
    half = scorecard(project, {cases[0]: outcome(cases[0])})
    assert all(isnan(row.cells[1].value) for row in half.rows)
    assert not scorecard(project, {}).rows


def test_a_car_that_cannot_be_computed_says_why(project: Project) -> None:
    nothing = LoadCase(name="none", loads=(Load(mass=-2000.0),))
    found = outcome(Case(Vehicle(), project.run, nothing))
    assert not found.figures
    assert "0 kg" in found.problem


def test_common_practice_is_listed_apart_last_and_says_what_it_is(project: Project) -> None:
    rows = card(project).rows
    groups = [row.figure.group for row in rows]
    assert set(groups) == {*GROUPS, PRACTICE}
    first = groups.index(PRACTICE)
    assert all(group == PRACTICE for group in groups[first:])
    assert {row.figure.key for row in rows[first:]} == PRACTICE_TARGETS.keys()
    for row in rows[first:]:
        assert not row.of_project
        assert row.figure.meaning.endswith("Common practice, no source.")


def test_criteria_of_common_practice_by_hand() -> None:
    """Frequencies and damping given as figures: what the rules of thumb make of them."""
    figures = {one.key: one for one in key_figures(analyse(Vehicle(), new_project().run))}
    found = {one.key: one.value for one in practice_figures(figures)}
    value = {key: figure.value for key, figure in figures.items()}
    assert found["practice_front_to_rear"] == value["front_ride_frequency"] / value["rear_ride_frequency"]
    high, low = (pick(value["bounce_frequency"], value["pitch_frequency"]) for pick in (max, min))
    assert found["practice_bounce_and_pitch"] == high / low
    assert found["practice_highest_body_frequency"] == high
    assert found["practice_dynamic_index"] == value["dynamic_index"]
    assert found["practice_roll_damping"] == value["roll_damping"]
    partly = {key: figures[key] for key in ("dynamic_index", "bounce_damping")}
    assert [one.key for one in practice_figures(partly)] == [
        "practice_dynamic_index",
        "practice_bounce_damping",
    ]


def test_curves_are_charts_and_belong_to_figures() -> None:
    keys = {one.key for one in key_figures(analyse(Vehicle(), new_project().run))}
    assert set(CURVES) <= keys
    assert set(CURVES.values()) <= set(CHART_CHOICES)
    assert curve_of("heave_rate") is None


def test_outcomes_without_figures_leave_the_others_in_place(project: Project) -> None:
    first, second = wanted_cases(project)
    rows = scorecard(project, {first: Outcome({}, "no"), second: outcome(second)}).rows
    assert rows[0].cells[0].problem == "no"
    assert isnan(rows[0].cells[1].change)
