from __future__ import annotations

import numpy as np
import pytest
from scipy.constants import g

from models.analysis import analyse
from models.judge import Figure, key_figures
from models.ride.channels import channel_index
from models.roads import RoughSurface
from models.run import Run
from models.units import KINDS
from models.vehicle import Axle, Damper, Side, Spring, Stabiliser, TorsionCoupling, TrimSpring, Vehicle
from tests.cars import EVERYTHING


def _by_key(vehicle: Vehicle, run: Run | None = None) -> dict[str, Figure]:
    return {figure.key: figure for figure in key_figures(analyse(vehicle, run or Run()))}


def test_figures_line_up_whatever_the_vehicle() -> None:
    bare = Axle(spring=Spring(rate=0.0), damper=Damper(jounce=0.0, rebound=0.0))
    joined = Side(coupling=TorsionCoupling(bar_rate=900.0))
    cars = (
        Vehicle(),
        EVERYTHING,
        Vehicle(front=bare, rear=bare, left=joined),
        Vehicle(front=bare, rear=bare),
    )
    described = [
        [(figure.key, figure.label, figure.kind, figure.meaning) for figure in _by_key(car).values()]
        for car in cars
    ]
    assert all(one == described[0] for one in described)
    assert len(set(described[0])) == len(described[0])


def test_pitch_and_heave_come_first() -> None:
    first = list(_by_key(Vehicle()))[:5]
    assert all("pitch" in key or "heave" in key or "seat" in key for key in first)


@pytest.mark.parametrize(
    "model", ["full car", "half car", "half car in roll", "quarter car front", "quarter car rear"]
)
def test_every_figure_has_a_kind_a_meaning_and_no_nan(model: str) -> None:
    for figure in _by_key(EVERYTHING, Run(model=model)).values():
        assert figure.kind in KINDS, figure.key
        assert figure.meaning.endswith("."), figure.key
        assert not np.isnan(figure.value), figure.key
        assert figure.better in ("lower", "higher", "none")


def test_half_car_has_no_roll_figures_and_the_same_pitch_plane() -> None:
    full, half = _by_key(Vehicle()), _by_key(Vehicle(), Run(model="half car"))
    assert set(full) - set(half) == {
        "rms_roll",
        "rms_roll_acceleration",
        "roll_frequency",
        "roll_damping",
        "roll_rate",
        "warp_rate",
        "rms_frame_torsion",
        "peak_frame_torsion",
        "roll_gradient",
        "front_load_transfer",
        "peak_roll",
        "held_roll",
    }
    # Both take the mean of the two tracks as the road in heave and pitch.
    for key in ("rms_pitch", "rms_heave_acceleration", "pitch_share", "peak_pitch", "bounce_frequency"):
        assert half[key].value == pytest.approx(full[key].value, rel=1e-6), key


@pytest.mark.invariant
def test_a_symmetric_car_on_a_symmetric_road_neither_rolls_nor_twists() -> None:
    """Exactly 0 and not what rounding leaves, which a reader would take for a result."""
    found = {figure.key: figure.value for figure in key_figures(analyse(Vehicle(), Run(duration=1.0)))}
    assert found["peak_pitch"] > 1e-3
    assert found["peak_roll"] == 0.0
    assert found["peak_frame_torsion"] == 0.0


def test_random_road_figures() -> None:
    analysis = analyse(EVERYTHING, Run())
    figures = {figure.key: figure.value for figure in key_figures(analysis)}

    def rms(key: str) -> float:
        """By the trapezoidal rule on the spectrum: the grid is fine against the ripple of the delay."""
        psd = analysis.ride.psd[channel_index(key)]
        return float(np.sqrt(np.trapezoid(psd, analysis.ride.frequency)))

    share = rms("pitch_acceleration") * 2.75 / 2 / rms("heave_acceleration")
    static_front = g * (1480 * (2.75 - 1.31) / 2.75 / 2 + 41)
    static_rear = g * (1480 * 1.31 / 2.75 / 2 + 118 / 2)
    load = {
        axle: max(rms(f"tyre_force_{axle}L"), rms(f"tyre_force_{axle}R")) / static
        for axle, static in (("F", static_front), ("R", static_rear))
    }
    for key, expected in {
        "rms_pitch": rms("pitch"),
        "rms_seat_acceleration": rms("seat_acceleration"),
        "pitch_share": share,
        "dynamic_tyre_load_front": load["F"],
        "dynamic_tyre_load_rear": load["R"],
        "rms_travel_rear": max(rms("travel_RL"), rms("travel_RR")),
        "rms_roll_acceleration": rms("roll_acceleration"),
    }.items():
        assert figures[key] == pytest.approx(expected, rel=5e-3), key


def test_a_road_four_times_as_rough_doubles_what_is_felt_and_leaves_the_rest() -> None:
    smooth = _by_key(EVERYTHING)
    rough = _by_key(EVERYTHING, Run(surface=RoughSurface(roughness=4 * RoughSurface().roughness)))
    assert 1 - rough["road_holding"].value == pytest.approx(2 * (1 - smooth.pop("road_holding").value))
    for key in smooth:
        figure = rough[key]
        felt = key.startswith(("rms_", "dynamic_tyre_load", "motion_sickness"))
        assert figure.value == pytest.approx(smooth[key].value * (2 if felt else 1)), key


def test_peaks_are_those_of_the_time_response() -> None:
    analysis = analyse(EVERYTHING, Run())
    figures = {figure.key: figure.value for figure in key_figures(analysis)}
    y = analysis.time.y
    assert figures["peak_pitch"] == np.abs(y[channel_index("pitch")]).max()
    assert figures["peak_heave_acceleration"] == np.abs(y[channel_index("heave_acceleration")]).max()
    rear = y[[channel_index("travel_RL"), channel_index("travel_RR")]]
    assert figures["peak_travel_rear"] == np.abs(rear).max()


def test_static_figures_of_a_joined_car() -> None:
    """Per side: bar 9 kN/m and trim 2 kN/m at the rear wheel, springs 4 and 5 kN/m."""
    side = Side(
        coupling=TorsionCoupling(bar_rate=9e3, front_lever_ratio=1.0, rear_lever_ratio=1.0),
        trim=TrimSpring(bar_rate=2e3, lever_ratio=1.0),
    )
    vehicle = Vehicle(
        front=Axle(spring=Spring(rate=4e3), stabiliser=Stabiliser(bar_rate=600.0, lever_ratio=3.0)),
        rear=Axle(spring=Spring(rate=5e3)),
        left=side,
    )
    figures = {key: figure.value for key, figure in _by_key(vehicle).items()}
    assert figures["front_wheel_rate"] == pytest.approx(13e3)
    assert figures["rear_wheel_rate"] == pytest.approx(16e3)
    assert figures["front_ride_rate"] == pytest.approx(13e3 * 200e3 / 213e3)
    assert figures["coupling_fraction_left"] == pytest.approx(9 / (13 * 16) ** 0.5)
    assert figures["heave_rate"] == pytest.approx(2 * (13e3 + 16e3 + 2 * 9e3))
    assert figures["pitch_rate"] == pytest.approx(2 * (13e3 + 16e3 - 2 * 9e3) * 1.45**2)
    assert figures["dynamic_index"] == pytest.approx(2900 / 1700 / 1.45**2)
    stabiliser = 600.0 * 9.0 * 1.5**2  # k (ratio · track)² per roll of the body
    assert figures["roll_rate"] == pytest.approx(2 * (29e3 + 18e3) * 0.75**2 + stabiliser)


def test_joining_front_and_rear_cuts_the_pitch() -> None:
    """What the program is for: at like heave rate, the joined car pitches less."""
    soft = Axle(spring=Spring(rate=19e3))
    separate = Vehicle(front=soft, rear=soft)
    bare = Axle(spring=Spring(rate=2e3))
    joined = Side(coupling=TorsionCoupling(bar_rate=8.5e3, front_lever_ratio=1.0, rear_lever_ratio=1.0))
    levelled = Vehicle(front=bare, rear=bare, left=joined)
    before, after = _by_key(separate), _by_key(levelled)
    assert after["heave_rate"].value == pytest.approx(before["heave_rate"].value)
    assert after["rms_pitch"].value < before["rms_pitch"].value
    assert after["pitch_frequency"].value < before["pitch_frequency"].value
