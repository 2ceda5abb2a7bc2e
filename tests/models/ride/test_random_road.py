"""Random ride: spectra and RMS values from the frequency response and the surface."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import spherical_jn

from models.assembly import RideModel, assemble, half_car
from models.fields import replaced
from models.ride.channels import CHANNELS, channel_index
from models.ride.frequency_response import frequency_response
from models.ride.random_road import RandomRide, _spherical_bessel, lag_weights, random_road
from models.ride.transient import road_inputs, time_response
from models.roads import RandomRoad, RoughSurface, coherence, displacement_psd, wheel_heights
from models.vehicle import Side, TorsionCoupling, Vehicle
from tests.manual import near

SURFACE = RoughSurface()
GRID = np.geomspace(0.1, 50.0, 400)


@pytest.fixture(scope="module")
def car() -> RideModel:
    return assemble(Vehicle())


@pytest.fixture(scope="module")
def lopsided() -> RideModel:
    """Car whose sides differ, so that heave, roll and pitch all mix."""
    vehicle = replaced(Vehicle(), ("right",), Side(coupling=TorsionCoupling(bar_rate=900.0)))
    return assemble(replaced(vehicle, ("body", "cg_to_front_axle"), 1.3))


def ride(
    model: RideModel, speed: float = 20.0, surface: RoughSurface = SURFACE, grid: np.ndarray = GRID
) -> RandomRide:
    return random_road(model, frequency_response(model, grid, speed), surface, speed)


def test_spectra_are_those_of_four_correlated_wheels(lopsided: RideModel) -> None:
    """S_y = H S_w Hᴴ with the 4 by 4 spectral matrix of the road written out wheel by wheel."""
    speed, frequency = 17.0, GRID[::40]
    response = frequency_response(lopsided, frequency, speed)
    psd = random_road(lopsided, response, SURFACE, speed).psd
    track = sum(lopsided.track) / 2
    delays = np.array([0, 0, 1, 1]) * lopsided.wheelbase / speed
    for k, f in enumerate(frequency):
        auto = displacement_psd(SURFACE, f / speed) / speed
        shared = coherence(SURFACE, f / speed, track)
        sides = np.array([[1, shared], [shared, 1]])
        lag = np.exp(-2j * np.pi * f * delays)
        road = auto * np.tile(sides, (2, 2)) * np.outer(lag, lag.conj())
        expected = np.einsum("ci,ij,cj->c", response.wheel[k], road, response.wheel[k].conj()).real
        # differences of wheel terms up to 1e3 times the result
        np.testing.assert_allclose(psd[:, k], expected, rtol=1e-9)


def test_weights_without_delay_are_the_trapezoidal_rule() -> None:
    values = np.random.default_rng(1).standard_normal(len(GRID))
    assert (lag_weights(GRID, 0.0) @ values).real == pytest.approx(np.trapezoid(values, GRID), rel=1e-13)


def test_bessel_functions_of_the_weights() -> None:
    """Against scipy; 1e-14 is some fifty roundings of numbers of size 1, above z = 1 of size 1/z."""
    z = np.concatenate([[0.0], np.geomspace(1e-9, 2e3, 4000), 0.5 + np.linspace(-1e-3, 1e-3, 201)])
    for order, ours in enumerate(_spherical_bessel(z)):
        assert (np.abs(ours - spherical_jn(order, z)) * np.maximum(z, 1.0)).max() < 1e-14
    small = z[(z > 0) & (z < 1)]
    assert _spherical_bessel(small)[1] == pytest.approx(spherical_jn(1, small), rel=1e-14)


@pytest.mark.parametrize("delay", [1e-9, 0.03, 5.0])
def test_weights_integrate_a_straight_line_times_the_delay_factor(delay: float) -> None:
    """Against adaptive quadrature (1e-10) of (2 - f/5) e^{-i2πf·delay} from 1 to 8 Hz."""
    grid = np.array([1.0, 1.5, 4.0, 8.0])
    expected = complex(
        quad(lambda f: (2 - f / 5) * np.cos(2 * np.pi * f * delay), 1, 8, limit=400)[0],
        -quad(lambda f: (2 - f / 5) * np.sin(2 * np.pi * f * delay), 1, 8, limit=400)[0],
    )
    assert lag_weights(grid, delay) @ (2 - grid / 5) == pytest.approx(expected, rel=1e-7, abs=1e-9)


@pytest.mark.parametrize("speed", [0.5, 5.0, 22.0, 120.0])
def test_grid_of_400_points_is_fine_enough_at_any_speed(car: RideModel, speed: float) -> None:
    """Fifty times the points change no RMS by more than 0.03 % (found: 0.014 %, at the resonances)."""
    coarse, fine = ride(car, speed).rms, ride(car, speed, grid=np.geomspace(0.1, 50, 20_000)).rms
    np.testing.assert_allclose(coarse, fine, rtol=3e-4)


def test_rms_is_the_integral_of_the_spectrum_where_the_grid_resolves_the_wheelbase(car: RideModel) -> None:
    result = ride(car, grid=np.geomspace(0.1, 50, 20_000))
    # two rules on one fine grid; 2e-8 found, their errors fall with the square of the step
    np.testing.assert_allclose(
        result.rms, np.sqrt(np.trapezoid(result.psd, result.frequency, axis=1)), rtol=1e-6
    )


@pytest.mark.invariant
def test_rms_of_a_long_drive_equals_the_integral(lopsided: RideModel) -> None:
    """Time response over 240 s of seeded road against the spectra of the frequency response.

    The band of the spectra is that of the synthesised road, up to 10 cycles/m or 222 Hz: above 50 Hz
    the wheel stands still and the tyre still feels the road, 3 % of its force.

    The mean square over a time T of a Gaussian process scatters by 1/√(degrees of freedom), which are
    T (∫S df)²/∫S² df, and the RMS by half of that: 560 and 2.1 % for heave acceleration, 2400 and 1.0 %
    for pitch acceleration.  Allowed: three times the scatter of each channel, and 0.5 % for the straight
    lines between the samples of the road.
    """
    speed, t = 80 / 3.6, np.arange(120_000) * 2e-3
    heights = wheel_heights(
        RandomRoad(seed=11), SURFACE, speed, lopsided.wheelbase, sum(lopsided.track) / 2, t
    )
    y = time_response(lopsided, t, road_inputs(lopsided, heights)).y
    grid = np.geomspace(0.1, 10 * speed, 500)
    expected = ride(lopsided, speed, grid=grid)
    keys = ("heave_acceleration", "roll_acceleration", "pitch_acceleration", "seat_acceleration")
    for key in (*keys, "travel_FL", "travel_RR", "tyre_force_FR", "tyre_force_RL"):
        psd, rms = expected.channel(key), expected.channel_rms(key)
        scatter = np.sqrt(np.trapezoid(psd**2, grid) / t[-1]) / rms**2 / 2
        assert scatter < 0.04
        measured = y[channel_index(key)].std()
        near(f"{key}, SI", measured, rms, relative=3 * scatter + 0.005)


@pytest.mark.invariant
def test_half_car_has_the_heave_and_pitch_of_the_symmetric_full_car(car: RideModel) -> None:
    whole, half = ride(car), ride(half_car(car))
    for key in ("heave_acceleration", "pitch_acceleration", "pitch"):
        assert half.channel_rms(key) == pytest.approx(whole.channel_rms(key), rel=1e-10)
    assert half.channel_rms("roll_acceleration") == 0.0


@pytest.mark.invariant
def test_symmetric_car_is_alike_on_both_sides(car: RideModel) -> None:
    result = ride(car)
    for key in ("travel", "tyre_force", "wheel", "road"):
        left, right = result.channel_rms(f"{key}_RL"), result.channel_rms(f"{key}_RR")
        assert left == pytest.approx(right, rel=1e-10)


def test_road_channels_are_the_road_itself(car: RideModel) -> None:
    """∫ G(n0) n0² V f^-2 df between the ends of the band, 0.01 % for the trapezoids along f^-2."""
    result = ride(car, speed=20.0)
    expected = np.sqrt(SURFACE.roughness * 0.1**2 * 20.0 * (1 / 0.1 - 1 / 50))
    for corner in ("FL", "FR", "RL", "RR"):
        assert result.channel_rms(f"road_{corner}") == pytest.approx(expected, rel=1e-4)


def test_rms_grows_with_the_root_of_the_roughness(car: RideModel) -> None:
    rough = RoughSurface(roughness=4 * SURFACE.roughness)
    np.testing.assert_allclose(ride(car, surface=rough).rms, 2 * ride(car).rms, rtol=1e-12)


def test_every_channel_is_finite_and_not_negative(lopsided: RideModel) -> None:
    for model in (lopsided, half_car(lopsided)):
        result = ride(model, 0.5)
        assert result.psd.shape == (len(CHANNELS), len(GRID))
        assert np.isfinite(result.psd).all()
        assert (result.psd >= 0).all()
        assert np.isfinite(result.rms).all()
