from __future__ import annotations

import pickle

import numpy as np
import pytest

from models.analysis import FREQUENCIES, TooLong, analyse
from models.assembly import assemble, half_car
from models.fields import replaced
from models.ride.channels import CHANNELS, channel_index
from models.ride.frequency_response import frequency_response
from models.ride.modes import modes
from models.roads import OneMinusCosine, RandomRoad
from models.run import Run
from models.vehicle import Friction, Load, LoadCase, Vehicle
from tests.cars import EVERYTHING


@pytest.mark.parametrize("model", ["full car", "half car"])
def test_results_belong_to_the_vehicle_and_the_run(model: str) -> None:
    run = Run(model=model, speed=15.0)
    analysis = analyse(EVERYTHING, run)
    expected = assemble(EVERYTHING)
    if model == "half car":
        expected = half_car(expected)
    assert analysis.vehicle is EVERYTHING
    assert analysis.run is run
    np.testing.assert_array_equal(analysis.model.stiffness, expected.stiffness)
    np.testing.assert_array_equal(analysis.modes.frequency, modes(expected).frequency)
    response = frequency_response(expected, FREQUENCIES, 15.0)
    np.testing.assert_array_equal(analysis.response.wheel, response.wheel)
    assert analysis.response.speed == 15.0
    assert analysis.ride.rms.shape == (len(CHANNELS),)
    assert analysis.time.y.shape == (len(CHANNELS), len(analysis.time.t))


def test_rigid_tyres_are_stiffer_than_tyres_in_series() -> None:
    analysis = analyse(EVERYTHING, Run(model="half car"))
    assert analysis.pitch_plane.frequency[0] > analysis.pitch_plane_on_tyres.frequency[0]
    # The unsprung mass moves by a tenth of the body: body alone and whole half car are within 1 %.
    for name in ("bounce", "pitch"):
        whole = analysis.modes.frequency[analysis.modes.index(name)]
        assert analysis.pitch_plane_on_tyres.frequency_of(name) == pytest.approx(whole, rel=0.01)


def test_the_rear_wheels_meet_the_bump_later() -> None:
    run = Run(speed=10.0, event=OneMinusCosine(height=0.05, length=2.0, start=5.0))
    time = analyse(EVERYTHING, run).time
    road = {corner: time.y[channel_index(f"road_{corner}")] for corner in ("FL", "RL")}
    crest = {corner: time.t[np.argmax(height)] for corner, height in road.items()}
    assert crest["FL"] == pytest.approx(0.6, abs=2e-3)
    assert crest["RL"] - crest["FL"] == pytest.approx(EVERYTHING.wheelbase / 10.0, abs=2e-3)
    assert road["FL"].max() == pytest.approx(0.05, rel=1e-4)


@pytest.mark.invariant
def test_half_car_and_symmetric_full_car_agree_over_a_bump() -> None:
    full, half = (analyse(Vehicle(), Run(model=model)).time.y for model in ("full car", "half car"))
    for key in ("heave", "pitch", "travel_RL", "tyre_force_FR"):
        row = channel_index(key)
        np.testing.assert_allclose(full[row], half[row], rtol=0, atol=1e-9 * np.abs(half[row]).max())


def test_half_car_takes_the_mean_of_both_tracks_of_a_random_road() -> None:
    run = Run(event=RandomRoad(seed=3))
    full, half = (
        analyse(Vehicle(), replaced(run, ("model",), model)).time.y for model in ("full car", "half car")
    )
    left, right, mean = (
        full[channel_index("road_FL")],
        full[channel_index("road_FR")],
        half[channel_index("road_FL")],
    )
    np.testing.assert_allclose(mean, (left + right) / 2, atol=1e-12)
    assert np.abs(left - right).max() > 1e-3


@pytest.mark.parametrize(("laws", "rest"), [("linear", 0.0), ("nonlinear", 1e-8)])
def test_at_rest_before_the_event(laws: str, rest: float) -> None:
    """Exactly in the linear run; in the nonlinear one as far as static forces of some 1e4 N round off."""
    time = analyse(EVERYTHING, Run(laws=laws)).time
    # Between its points the road is straight: the last one ahead of the event is where it begins to rise.
    before = time.t < 5.0 / Run().speed - time.t[1]
    assert np.abs(time.y[:, before]).max() <= rest
    assert np.abs(time.y[channel_index("heave")]).max() > 0.01


def test_an_analysis_can_be_sent_to_another_process() -> None:
    analysis = analyse(EVERYTHING, Run())
    copy = pickle.loads(pickle.dumps(analysis))
    np.testing.assert_array_equal(copy.ride.rms, analysis.ride.rms)
    assert copy.vehicle == EVERYTHING


@pytest.mark.parametrize("x", [-8.0, 8.0])
@pytest.mark.parametrize("model", ["full car", "half car", "half car in roll"])
def test_a_car_that_tips_over_has_linear_results_and_a_reason(model: str, x: float) -> None:
    load = LoadCase(name="far out", loads=(Load(mass=3000.0, x=x),))
    analysis = analyse(EVERYTHING, Run(model=model), load)
    assert "tips over" in analysis.stand.reason
    assert analysis.nonlinear is None
    assert np.isfinite(analysis.time.y).all()
    assert np.isfinite(analysis.ride.rms).all()


def test_a_run_of_many_steps_is_refused_where_few_are_allowed() -> None:
    """4 s take 4000 samples of one step; friction of 100 N within 0.1 mm/s needs many within each."""
    sticky = replaced(EVERYTHING, ("front", "friction"), Friction(force=100.0, width=1e-4))
    assert analyse(EVERYTHING, Run(), most_steps=4000).nonlinear is not None
    with pytest.raises(TooLong):
        analyse(EVERYTHING, Run(), most_steps=3999)
    with pytest.raises(TooLong):
        analyse(sticky, Run(), most_steps=40_000)
    assert analyse(sticky, Run(laws="linear"), most_steps=1).nonlinear is None
