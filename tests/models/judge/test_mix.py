"""The road mix in numbers: how roads are put together, by hand and against one long drive."""

from __future__ import annotations

from math import isnan

import numpy as np
import pytest

from models.analysis import FREQUENCIES, analyse
from models.comfort.assessment import comfort
from models.comfort.filters import weighted
from models.comfort.measures import measures
from models.fields import replaced
from models.judge import key_figures
from models.judge.mix import MIX_GROUP, SETTLING, Mix, road_mix, share_run
from models.judge.scorecard import outcome, scorecard, wanted_cases
from models.project import Project, Variant, add_variant, new_project, set_target
from models.ride.random_road import random_road
from models.ride.transient import road_inputs, time_response
from models.roads import (
    MeasuredRoad,
    OneMinusCosine,
    RandomRoad,
    RoadShare,
    RoughSurface,
    SineSweep,
    wheel_heights,
)
from models.run import Run
from models.target import Target
from models.vehicle import AS_DESIGNED, Vehicle

MOTORWAY = RoadShare(name="motorway", share=0.6, speed=30.0, roughness=16e-6)
COUNTRY = RoadShare(name="country", share=0.4, speed=20.0, roughness=128e-6)
HUMP = RoadShare(name="hump", share=0.1, speed=8.0, event=OneMinusCosine(height=0.06))
PIT = RoadShare(name="pit", share=0.1, speed=12.0, event=OneMinusCosine(height=-0.09))


def over(*mix: RoadShare, run: Run | None = None) -> Mix:
    return road_mix(Vehicle(), run or Run(), AS_DESIGNED, mix)


def values(mix: Mix) -> dict[str, float]:
    return {figure.key.removeprefix("mix_"): figure.value for figure in mix.figures}


def by_itself(road: RoadShare) -> dict[str, float]:
    run = replaced(replaced(Run(duration=0.5), ("speed",), road.speed), ("surface",), road.surface)
    return {figure.key: figure.value for figure in key_figures(analyse(Vehicle(), run))}


def test_a_mix_of_one_random_road_is_that_road() -> None:
    """To rounding: sums over the same spectra."""
    found, plain = values(over(COUNTRY)), by_itself(COUNTRY)
    for key in found.keys() - {"event_vibration_dose"}:
        assert found[key] == pytest.approx(plain[key], rel=1e-9), key
    sigma = plain["rms_weighted_seat_acceleration"]
    assert found["event_vibration_dose"] == pytest.approx((3 * sigma**4 * 3600) ** 0.25, rel=1e-9)


def test_mean_squares_are_weighted_by_the_time_of_each_road() -> None:
    """Sums by hand: 0.6 at 30 m/s and 0.4 at 20 m/s take equal times."""
    mix = over(MOTORWAY, COUNTRY)
    assert [share.time for share in mix.shares] == pytest.approx([0.5, 0.5])
    assert [share.distance for share in mix.shares] == pytest.approx([0.6, 0.4])
    found, one, two = values(mix), by_itself(MOTORWAY), by_itself(COUNTRY)
    for key in ("rms_pitch", "rms_heave_acceleration", "rms_vibration_total", "motion_sickness_dose"):
        assert found[key] == pytest.approx(np.sqrt((one[key] ** 2 + two[key] ** 2) / 2), rel=1e-9)
    pitch, heave = (
        np.hypot(one[f"rms_{key}_acceleration"], two[f"rms_{key}_acceleration"]) for key in ("pitch", "heave")
    )
    assert found["pitch_share"] == pytest.approx(pitch / heave * Vehicle().wheelbase / 2, rel=1e-9)
    assert found["road_holding"] == min(one["road_holding"], two["road_holding"])
    dose = 3 * (one["rms_weighted_seat_acceleration"] ** 4 + two["rms_weighted_seat_acceleration"] ** 4) / 2
    assert found["event_vibration_dose"] == pytest.approx((3600 * dose) ** 0.25, rel=1e-9)


def test_events_are_driven_in_time_and_the_worst_one_counts() -> None:
    mix = over(HUMP, PIT, COUNTRY)
    found = values(mix)
    runs = [analyse(Vehicle(), share_run(road, Run(), Vehicle().wheelbase)) for road in (HUMP, PIT)]
    each = [{figure.key: figure.value for figure in key_figures(run)} for run in runs]
    for key in ("peak_pitch", "peak_travel_front", "event_transient_value", "peak_heave_acceleration"):
        assert found[key] == max(one[key] for one in each)
    for key in ("jounce_margin_front", "rebound_margin_rear", "minimum_tyre_load"):
        assert found[key] == min(one[key] for one in each)
    hump, pit, country = mix.shares
    assert (hump.event, pit.event, country.event) == ("1-cos bump", "1-cos bump", "")
    assert "mix_peak_pitch" in hump.figures
    assert "mix_peak_pitch" not in country.figures
    assert "mix_peak_pitch" not in {figure.key for figure in over(COUNTRY).figures}
    # Mean square of the pitch angle and dose, by hand from the runs.
    total = sum(
        share.time * np.trapezoid(run.time.channel("pitch") ** 2, run.time.t) / run.time.t[-1]
        for share, run in zip((hump, pit), runs, strict=True)
    )
    total += country.time * by_itself(COUNTRY)["rms_pitch"] ** 2
    assert found["rms_pitch"] == pytest.approx(np.sqrt(total), rel=1e-9)
    fourth = sum(
        share.time * comfort(run).event.dose ** 4 / run.time.t[-1]
        for share, run in zip((hump, pit), runs, strict=True)
    )
    fourth += country.time * 3 * by_itself(COUNTRY)["rms_weighted_seat_acceleration"] ** 4
    assert found["event_vibration_dose"] == pytest.approx((3600 * fourth) ** 0.25, rel=1e-9)


def test_one_passing_is_from_the_event_to_two_seconds_behind_it() -> None:
    run = share_run(HUMP, Run(laws="linear", duration=50.0), 3.0)
    assert (run.laws, run.event.start) == ("linear", 0.0)
    assert run.duration == pytest.approx((HUMP.event.length + 3.0) / 8.0 + SETTLING)
    sweep = replaced(HUMP, ("event",), SineSweep(duration=9.0))
    assert share_run(sweep, Run(), 3.0).duration == 9.0 + SETTLING
    endless = MeasuredRoad(step=5.0, passes=1000, left="0 1 0", right="0 1 0")
    assert share_run(replaced(HUMP, ("event",), endless), Run(), 3.0).duration == 120.0


def test_spectra_of_two_roads_agree_with_one_long_drive_over_both() -> None:
    """The RMS of the concatenated records of two linear drives in time over synthesised roads.

    Scatter of the RMS of a Gaussian record of length T in the band B is 1/√(4 B T) (Bendat and Piersol): of
    pitch acceleration, with some 1 Hz of width, about 1.6 % over 8 roads of 120 s; 5 % is three of that.
    """
    found = values(over(MOTORWAY, COUNTRY))  # equal times
    car = analyse(Vehicle(), Run(duration=0.5)).model
    records = []
    t = np.linspace(0.0, 120.0, 60001)
    for road in (MOTORWAY, COUNTRY):
        for seed in range(4):
            w = wheel_heights(
                RandomRoad(seed=seed), road.surface, road.speed, car.wheelbase, sum(car.track) / 2, t
            )
            records.append(time_response(car, t, road_inputs(car, w)))
    for key, channel in (
        ("rms_pitch_acceleration", "pitch_acceleration"),
        ("rms_seat_acceleration", "seat_acceleration"),
    ):
        whole = np.concatenate([record.channel(channel) for record in records])
        assert found[key] == pytest.approx(whole.std(), rel=0.05)
    seat = np.concatenate([weighted("Wk", record.channel("seat_acceleration"), 2e-3) for record in records])
    dose = measures(seat, 2e-3).dose * (3600 / (2e-3 * len(seat))) ** 0.25
    assert found["rms_weighted_seat_acceleration"] == pytest.approx(seat.std(), rel=0.05)
    # A mean fourth power scatters more than a mean square; its fourth root about as much as the RMS.
    assert found["event_vibration_dose"] == pytest.approx(dose, rel=0.06)


def test_an_event_driven_again_and_again_has_the_rms_of_a_long_run_over_a_row_of_them() -> None:
    """Linear run over five humps in a row, 60 m apart, which is one passing of the mix.

    Each passing of the mix begins at rest; the row carries over what two seconds leave of the motion, which
    at the damping of this car is below 1 % of the peak.
    """
    hump = replaced(replaced(HUMP, ("speed",), 20.0), ("event", "start"), 0.0)
    linear = Run(laws="linear")
    passing = share_run(hump, linear, Vehicle().wheelbase)
    distance = passing.speed * passing.duration
    step = 0.05
    x = step * np.arange(round(5 * distance / step))
    place = np.mod(x, distance)
    height = np.where(place < 5.0, 0.03 * (1 - np.cos(2 * np.pi * place / 5.0)), 0.0)
    text = " ".join(f"{1000 * value:.4f}" for value in height)
    row = MeasuredRoad(step=step, blend=0.0, start=0.0, left=text, right=text)
    run = passing.model_copy(update={"event": row, "duration": 5 * passing.duration})
    record = analyse(Vehicle(), run).time
    found = values(over(hump, run=linear))
    for key, channel in (("rms_pitch", "pitch"), ("rms_heave_acceleration", "heave_acceleration")):
        direct = np.sqrt(np.trapezoid(record.channel(channel) ** 2, record.t) / record.t[-1])
        assert found[key] == pytest.approx(direct, rel=0.01)


def test_a_road_that_is_not_driven_does_not_count() -> None:
    idle = replaced(PIT, ("share",), 0.0)
    assert over(COUNTRY, idle).figures == over(COUNTRY).figures
    assert [share.name for share in over(COUNTRY, idle).shares] == ["country"]


# -- in the scorecard ----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def project() -> Project:
    stiff = Variant(name="stiff", vehicle=replaced(Vehicle(), ("rear", "spring", "rate"), 45e3))
    both = add_variant(new_project(Variant(name="soft")), stiff)
    linear = replaced(both, ("run",), Run(duration=0.5, laws="linear"))
    return replaced(linear, ("road_mix",), (MOTORWAY, COUNTRY))


def test_the_scorecard_has_a_group_where_there_is_a_mix(project: Project) -> None:
    cases = wanted_cases(project)
    assert [bool(case.mix) for case in cases] == [False, False, True, True]
    card = scorecard(project, {case: outcome(case) for case in cases})
    rows = [row for row in card.rows if row.figure.group == MIX_GROUP]
    expected = values(over(MOTORWAY, COUNTRY, run=project.run))
    assert {row.figure.key.removeprefix("mix_"): row.cells[0].value for row in rows} == expected
    assert all(row.of_project for row in rows)
    assert all(row.figure.meaning.startswith("Road mix") for row in rows)
    plain = replaced(project, ("road_mix",), ())
    assert len(wanted_cases(plain)) == 2
    # Speed and event of the run are nothing to the mix.
    faster = replaced(project, ("run", "speed"), 33.0)
    assert wanted_cases(faster)[2:] == cases[2:]


def test_targets_on_the_mix(project: Project) -> None:
    wanted = Target(metric="mix_rms_pitch", kind="angle", high="0.5 deg")
    elsewhere = replaced(wanted, ("speed",), 20.0)
    targeted = set_target(set_target(project, wanted), elsewhere)
    cases = {case: outcome(case) for case in wanted_cases(targeted)}
    rows = {row.target: row for row in scorecard(targeted, cases).rows}
    verdict = rows[wanted].cells[0].verdict
    assert verdict is not None
    assert verdict.margin == pytest.approx(wanted.high - rows[wanted].cells[0].value)
    assert rows[elsewhere].problem == "the road mix has roads and speeds of its own"
    assert isnan(rows[elsewhere].cells[0].value)
    gone = replaced(targeted, ("road_mix",), ())
    found = {row.target: row for row in scorecard(gone, cases).rows}
    assert found[wanted].problem == "the project has no road mix"


def test_the_random_road_of_a_share_is_that_of_the_spectra() -> None:
    """Against the response and the road themselves, not through an analysis of a run."""
    analysis = analyse(Vehicle(), Run(duration=0.5))
    surface = RoughSurface(roughness=128e-6)
    ride = random_road(analysis.model, analysis.response, surface, 20.0)
    assert len(ride.frequency) == len(FREQUENCIES)
    assert values(over(COUNTRY))["rms_pitch"] == pytest.approx(ride.channel_rms("pitch"), rel=1e-9)
