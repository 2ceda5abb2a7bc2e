"""IRI beside published tables and closed forms."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from models.roads import ROAD_CLASSES, RoughSurface
from models.roads.iri import golden_car, iri, rectified_slope
from models.roads.synthesis import SAMPLE_DISTANCE, random_heights
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER"]

CHAPTER = Chapter("iri", "International roughness index")

ST250 = [
    [0.9966071, 0.01091514, -0.002083274, 0.0003190145],
    [-0.5563044, 0.9438768, -0.8324718, 0.05064701],
    [0.02153176, 0.002126763, 0.7508714, 0.008221888],
    [3.335013, 0.3376467, -39.12762, 0.4347564],
]
PR250 = [0.005476107, 1.388776, 0.2275968, 35.79262]
ST100 = [
    [0.9994014, 0.004442351, 0.0002188854, 5.72179e-5],
    [-0.2570548, 0.975036, 0.007966216, 0.02458427],
    [0.003960378, 0.0003814527, 0.9548048, 0.004055587],
    [1.687312, 0.1638951, -19.34264, 0.7948701],
]
PR100 = [0.0003793992, 0.2490886, 0.04123478, 17.65532]

TABLES = (
    "World Bank Technical Paper 46 and ASTM E1926, as several public roughness routines quote them alike "
    "(the primary tables were not opened)"
)


@CHAPTER.check(
    "State transition of the golden car",
    source=TABLES,
    status="seen",
    reason="the tables have seven digits, of arithmetic in single precision; the first number of PR at 100 "
    "mm is the difference of nearly equal ones, which leaves it three digits",
)
def transition() -> Numbers:
    """ST and PR of steps of 250 and 100 mm at 80 km/h."""
    st250, pr250 = golden_car(0.25)
    st100, pr100 = golden_car(0.1)
    yield beside("ST at 250 mm", st250, ST250, relative=1e-6)
    yield beside("PR at 250 mm", pr250, PR250, relative=2e-5)
    yield beside("ST at 100 mm", st100, ST100, relative=2e-6)
    yield beside("PR at 100 mm, first", pr100[0], PR100[0], relative=1e-3)
    yield beside("PR at 100 mm, others", pr100[1:], PR100[1:], relative=2e-5)


@CHAPTER.check(
    "Recursion of the standard, step by step",
    source="ASTM E1926: x' = ST x + PR slope, written out",
    status="from memory",
    reason="rounding of 600 steps",
)
def recursion() -> Numbers:
    """60 m of a random road sampled at 100 mm, slope over 200 mm, started at the slope of the first 11 m."""
    step, heights = 0.1, random_heights(RoughSurface(), 3, np.arange(600.0) * 0.1, 1.5)[0]
    matrix, forced = golden_car(step)
    slope = (heights[2:] - heights[:-2]) / 0.2  # base 250 mm: the two steps nearest to it
    start = (heights[110] - heights[0]) / 11.0
    state, expected = np.array([start, 0, start, 0]), []
    for value in slope:
        state = matrix @ state + forced * value
        expected.append(abs(state[0] - state[2]))
    yield beside("rectified slope", rectified_slope(heights, step), expected, relative=1e-9, within=1e-12)


def gain(wavelength: float, averaged: bool) -> float:
    """Slope out per slope in: |z_s - z_u| / |z| of the golden car at 80 km/h, by its own equations."""
    s = 2j * np.pi * (80 / 3.6) / wavelength
    k2, k1, c, mu = 63.3, 653.0, 6.0, 0.15
    sprung, coupling = s**2 + c * s + k2, c * s + k2
    unsprung = mu * s**2 + c * s + k2 + k1
    z_u = k1 * sprung / (unsprung * sprung - coupling**2)
    smooth = np.sinc(0.25 / wavelength) if averaged else 1.0
    return float(abs((coupling / sprung - 1) * z_u * smooth))


def sine(amplitude: float, wavelength: float, length: float, step: float = 0.01) -> NDArray[np.float64]:
    """Heights of a sine; the slope of a step holds for the step: at λ/240 that costs less than 1e-4."""
    x = np.arange(int(length / step) + 1) * step
    return np.asarray(amplitude * np.sin(2 * np.pi * x / wavelength))


@CHAPTER.check(
    "IRI of sines",
    source="1000 · (4 A/λ) · gain from the equations of motion, computed apart",
    status="computed apart",
    reason="1e-4 for the digits of the closed form; 5e-4 for what of the first waves has not died away and "
    "for steps of 10 mm",
    cases=[(0.010, 15.0, 4.0728, 4.0710), (0.001, 2.4, 2.7733, 2.7241), (0.005, 5.0, 4.6787, 4.6594)],
)
def sines(case: tuple[float, float, float, float]) -> Numbers:
    """Without and with the moving average of 250 mm, m/km."""
    amplitude, wavelength, plain, averaged = case
    name = f"{1e3 * amplitude:g} mm, {wavelength:g} m"
    heights = sine(amplitude, wavelength, 60 * wavelength)
    settled = -round(30 * wavelength / 0.01)  # whole waves, once the slowest vibration has died away
    for smooth, expected in ((False, plain), (True, averaged)):
        form = 4e3 * amplitude / wavelength * gain(wavelength, smooth)
        found = 1e3 * rectified_slope(heights, 0.01, averaged=smooth)[settled:].mean()
        kind = "averaged" if smooth else "plain"
        yield beside(f"{name}: closed form, {kind}", form, expected, relative=1e-4)
        yield beside(f"{name}: program, {kind}", found, expected, relative=5e-4)


GAINS = (
    (100.0, 0.0316), (50.0, 0.1366), (30.0, 0.4548), (20.0, 1.2337), (15.0, 1.5266), (10.0, 1.2584),
    (5.0, 1.1649), (3.0, 1.4367), (2.4, 1.6345), (2.0, 1.4944), (1.5, 0.7479), (1.25, 0.4477),
    (1.0, 0.2459), (0.5, 0.0373),
)  # fmt: skip


@CHAPTER.check(
    "Gain over the wavelength",
    source="slope out per slope in from the equations of motion, computed apart",
    status="computed apart",
    reason="2e-3 for steps of 10 mm and what of the first waves is left, or the last of four digits",
)
def gains() -> Numbers:
    """With the moving average; sines of 1 mm."""
    for wavelength, expected in GAINS:
        longest = max(wavelength, 15.0)
        waves = int(10 * longest / wavelength)  # whole ones, once the car has settled
        slope = rectified_slope(sine(1e-3, wavelength, 20 * longest), 0.01)
        found = slope[-round(waves * wavelength / 0.01) :].mean() * wavelength / 4e-3
        yield beside(f"{wavelength:g} m", found, expected, relative=2e-3, within=1e-4)


SCATTER = (
    "mean of |x| over 16 km: the suspension remembers some 20 m, so about 800 pieces of 76 % scatter, 3 % "
    "of the whole; 5 % is allowed"
)


def rough_road() -> NDArray[np.float64]:
    """Both tracks of 8 km of class B."""
    distance = SAMPLE_DISTANCE * np.arange(8000 / SAMPLE_DISTANCE)
    return random_heights(RoughSurface(roughness=ROAD_CLASSES["B"]), 5, distance, 1.6)


@CHAPTER.check(
    "IRI of rough roads of waviness 2",
    source="O. Kropáč and P. Múčka; P. Johannesson and I. Rychlik, Chalmers 2012:11: IRI = 2.21 √C",
    status="from memory",
    reason=SCATTER,
)
def rough_roads() -> Numbers:
    """Without the moving average; C = Gd(Ω0 = 1 rad/m) in 1e-6 m³/rad, class B."""
    angular = ROAD_CLASSES["B"] * (2 * np.pi * 0.1) ** 2 / (2 * np.pi) * 1e6
    plain = 1e3 * rectified_slope(rough_road(), SAMPLE_DISTANCE, averaged=False).mean()
    yield beside("IRI, m/km", plain, 2.21 * np.sqrt(angular), relative=0.05)


@CHAPTER.check(
    "IRI of rough roads, with the moving average",
    source="0.54315 √(Gd(n0)·1e6), computed apart",
    status="computed apart",
    reason=SCATTER,
)
def rough_roads_averaged() -> Numbers:
    """The same road."""
    found = iri(rough_road(), SAMPLE_DISTANCE).mean()
    yield beside("IRI, m/km", found, 0.54315 * np.sqrt(ROAD_CLASSES["B"] * 1e6), relative=0.05)
