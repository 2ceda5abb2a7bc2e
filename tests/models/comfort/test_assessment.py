from __future__ import annotations

from dataclasses import asdict

import numpy as np
import pytest

from models.analysis import FREQUENCIES, Analysis, analyse
from models.comfort.assessment import comfort, event_measures
from models.comfort.axes import AXES, seat_axes
from models.comfort.filters import weighted
from models.comfort.measures import rms_of_psd
from models.fields import replaced
from models.ride.frequency_response import frequency_response
from models.ride.random_road import random_road
from models.roads import RandomRoad, RoughSurface, Step
from models.run import Run
from models.vehicle import Vehicle
from tests.cars import EVERYTHING

TALL = replaced(EVERYTHING, ("seat", "height"), 0.9)
RUN = Run(laws="linear")


@pytest.fixture(scope="module")
def analysis() -> Analysis:
    return analyse(TALL, RUN)


def test_rms_of_each_axis_is_that_of_its_spectrum(analysis: Analysis) -> None:
    """Trapezoidal rule on the weighted spectrum: the grid is fine against the ripple of the delay here."""
    found = comfort(analysis)
    for key, motion in seat_axes(analysis).items():
        expected = rms_of_psd(FREQUENCIES, motion.psd, motion.axis.weighting)
        assert found.rms[key] == pytest.approx(expected, rel=5e-3), key


def test_slow_ripple_of_the_delay_is_integrated_on_the_grid_of_the_analysis() -> None:
    """At walking pace the spectrum waves each 0.5 Hz, too fine for 400 points; 40000 resolve it."""
    slow = analyse(TALL, replaced(RUN, ("speed",), 1.4))
    fine = np.geomspace(FREQUENCIES[0], FREQUENCIES[-1], 40_000)
    ride = random_road(slow.model, frequency_response(slow.model, fine, 1.4), slow.run.surface, 1.4)
    expected = rms_of_psd(fine, ride.channel("seat_acceleration"), "Wk")
    assert comfort(slow).rms["seat z"] == pytest.approx(expected, rel=2e-3)


def test_totals(analysis: Analysis) -> None:
    """Factors of 8.2 of the standard (from memory), written out."""
    found = comfort(analysis)
    r = found.rms
    seat = r["seat x"] ** 2 + r["seat y"] ** 2 + r["seat z"] ** 2
    seat += (0.63 * r["seat rx"]) ** 2 + (0.4 * r["seat ry"]) ** 2
    back = (0.8 * r["back x"]) ** 2 + (0.5 * r["back y"]) ** 2 + (0.4 * r["back z"]) ** 2
    feet = (0.25 * r["feet x"]) ** 2 + (0.25 * r["feet y"]) ** 2 + (0.4 * r["feet z"]) ** 2
    assert found.seat_total == pytest.approx(seat**0.5)
    assert found.back_total == pytest.approx(back**0.5)
    assert found.feet_total == pytest.approx(feet**0.5)
    assert found.overall_total == pytest.approx((seat + back + feet) ** 0.5)


def test_sickness_is_an_hour_of_wf(analysis: Analysis) -> None:
    rms = rms_of_psd(FREQUENCIES, analysis.ride.channel("seat_acceleration"), "Wf")
    assert comfort(analysis).sickness_dose == pytest.approx(60 * rms, rel=1e-3)


def test_all_doubles_on_a_road_four_times_as_rough(analysis: Analysis) -> None:
    rough = analyse(TALL, replaced(RUN, ("surface",), RoughSurface(roughness=4 * 256e-6)))
    for one, two in zip(comfort(analysis).rms.values(), comfort(rough).rms.values(), strict=True):
        assert two == pytest.approx(2 * one)


def test_event_is_the_weighted_seat(analysis: Analysis) -> None:
    t, seat = analysis.time.t, analysis.time.channel("seat_acceleration")
    history = weighted("Wk", seat, t[1] - t[0])
    found = comfort(analysis).event
    assert found.peak == pytest.approx(np.abs(history).max())
    assert found.dose == pytest.approx(np.trapezoid(history**4, t) ** 0.25)
    assert found.rms == pytest.approx(np.sqrt(np.trapezoid(history**2, t) / 4.0))
    assert asdict(event_measures(seat_axes(analysis)["seat z"])) == asdict(found)


def test_event_far_ahead_is_not_felt() -> None:
    still = comfort(analyse(Vehicle(), replaced(RUN, ("event",), Step(start=900.0)))).event
    assert (still.rms, still.dose, still.crest_factor) == (0.0, 0.0, 0.0)


def test_time_and_spectrum_tell_the_same_of_the_random_road() -> None:
    """Two minutes of random road against its spectrum.

    A band of 2 Hz about the bounce, where most is felt, gives 2·2·120 = 480 free values: the RMS scatters by
    3 %; three times that is allowed.
    """
    run = Run(event=RandomRoad(), duration=120.0, laws="linear")
    found = comfort(analyse(Vehicle(), run))
    assert found.event.rms == pytest.approx(found.rms["seat z"], rel=0.1)
    assert found.event.dose_ratio == pytest.approx(3**0.25, rel=0.1)  # normally distributed
    assert found.event.crest_factor < 9


@pytest.mark.parametrize("model", ["half car", "half car in roll", "quarter car front", "quarter car rear"])
def test_smaller_models_have_comfort_without_what_they_cannot_do(model: str) -> None:
    found = comfort(analyse(TALL, Run(model=model, laws="linear")))
    rolls, pitches = "roll" in model, model == "half car"
    for axis in AXES:
        moves = axis.direction == "z" or (rolls if axis.channel == "roll_acceleration" else pitches)
        assert (found.rms[axis.key] > 1e-9) == moves, axis.key
