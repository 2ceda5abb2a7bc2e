"""What holds whatever the numbers are: energy, symmetry, superposition, scale, units."""

from __future__ import annotations

from math import pi

import numpy as np
from numpy.typing import NDArray
from scipy.constants import g
from scipy.linalg import eigh

from models.analysis import Analysis, analyse
from models.assembly import RideModel, assemble, half_car, mechanics
from models.fields import replaced
from models.manoeuvre import BrakeInTurn, Corner
from models.project import Project, Variant, new_project
from models.project.file import dumps, loads
from models.ride.channels import CHANNELS, channel_index
from models.ride.frequency_response import frequency_response
from models.ride.modes import modes
from models.ride.random_road import random_road
from models.ride.steady import quasi_static
from models.ride.transient import road_inputs, time_response
from models.roads import Event, OneMinusCosine, Ramp, RoughSurface, Washboard, wheel_heights
from models.run import Run
from models.statics import statics
from models.units import INCH_POUND, KINDS, factor, from_text, to_text
from models.vehicle import AS_DESIGNED, Side, SolidAxle, Stop, Vehicle
from models.verification.cars import EVERYTHING
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER", "UNITS"]

CHAPTER = Chapter("invariants", "Mechanics", group="invariant")
UNITS = Chapter("units", "Units", group="invariant")

Array = NDArray[np.float64]
SPEED = 20.0
T = np.linspace(0.0, 3.0, 1501)


def heights(model: RideModel, event: Event, t: Array = T) -> Array:
    """(4, N) under the wheels."""
    return wheel_heights(event, RoughSurface(), SPEED, model.wheelbase, sum(model.track) / 2, t)


def over(model: RideModel, event: Event, t: Array = T) -> Array:
    """(channels, N) linear response."""
    return time_response(model, t, road_inputs(model, heights(model, event, t))).y


@CHAPTER.check(
    "The ground carries the weight",
    source="balance of forces",
    status="closed form",
    reason="rounding of loads of 1e4 N",
)
def weight() -> Numbers:
    """Sum of the tyre loads where the car with every part stands, beside g times all its masses."""
    assert isinstance(EVERYTHING.rear.wheels, SolidAxle)
    mass = EVERYTHING.body.mass + 2 * 41.0 + EVERYTHING.rear.wheels.mass + EVERYTHING.seat.occupant.mass
    stand = statics(mechanics(EVERYTHING))
    yield beside("stands (1: yes)", float(stand.stable), 1.0)
    yield beside("sum of the tyre loads, N", stand.tyre_force.sum(), g * mass, relative=1e-9)


def stopped_car() -> Vehicle:
    """Car with every part and stops that a hard bump reaches."""
    car = EVERYTHING
    for axle in ("front", "rear"):
        car = replaced(car, (axle, "bump_stop"), Stop(gap=0.04, rate=60e3, growth=1e6))
        car = replaced(car, (axle, "rebound_stop"), Stop(gap=0.05, rate=60e3))
    return car


@CHAPTER.check(
    "Energy over a hard bump and in a turn",
    source="first law: work of road and manoeuvre = growth of what is stored + what dampers take",
    status="closed form",
    reason="steps of fourth order are not aimed at the places where stops begin and wheels leave the road: "
    "a thousandth of the largest term; the quantity falls with the step",
)
def energy() -> Numbers:
    """Nonlinear runs of the car with every part: a bump of 100 mm on the left, and braking in a turn.

    The greatest |work in - dissipated - growth of the stored energy| relative to the largest of them.
    """
    bump = Run(speed=14.0, event=OneMinusCosine(height=0.1, length=1.6, side="left"), laws="nonlinear")
    turn = replaced(bump, ("manoeuvre",), BrakeInTurn())
    for name, run in (("bump", bump), ("braking in a turn, over the bump", turn)):
        driven = analyse(stopped_car(), run).nonlinear
        if driven is None:
            raise RuntimeError("the nonlinear run was not driven")
        response = driven.response
        yield beside(f"{name}: residual", response.energy_residual, 0.0, within=1e-3)
        yield beside(f"{name}: a stop is touched (1: yes)", float(response.stop_contact.any()), 1.0)


def mirrored(vehicle: Vehicle) -> Vehicle:
    """The same car in a mirror: its sides change places."""
    left, right = vehicle.sides
    seat = vehicle.seat.model_copy(update={"y": -vehicle.seat.y})
    return vehicle.model_copy(update={"left": right, "right": left, "seat": seat})


SIGNS = np.array([-1.0 if channel.key.startswith(("roll", "frame_torsion")) else 1.0 for channel in CHANNELS])
SWAP = {"FL": "FR", "FR": "FL", "RL": "RR", "RR": "RL", "left": "right", "right": "left"}


def in_a_mirror(y: Array) -> Array:
    """(channels, N) as the mirrored car has them: left for right, roll the other way."""
    keys = []
    for channel in CHANNELS:
        name, _, place = channel.key.rpartition("_")
        keys.append(f"{name}_{SWAP[place]}" if place in SWAP else channel.key)
    order = [channel_index(key) for key in keys]
    return np.asarray(SIGNS[:, None] * y[order])


@CHAPTER.check(
    "The mirrored car on a mirrored road",
    source="symmetry of the laws of mechanics",
    status="closed form",
    reason="rounding of sums in another order, relative to the peak of each group of channels",
)
def mirror() -> Numbers:
    """Every channel of the car with every part, its sides unlike, over a bump on the left."""
    left = over(assemble(EVERYTHING), OneMinusCosine(side="left"))
    right = over(assemble(mirrored(EVERYTHING)), OneMinusCosine(side="right"))
    expected = in_a_mirror(right)
    for row, channel in enumerate(CHANNELS):
        peak = max(np.abs(left[row]).max(), 1e-9)
        yield beside(channel.key, left[row], expected[row], within=1e-10 * peak)


@CHAPTER.check(
    "A right turn mirrors a left turn",
    source="symmetry of the laws of mechanics",
    status="closed form",
    reason="rounding of loads of 1e4 N and angles of 0.1 rad",
)
def turns() -> Numbers:
    """Steady braking at 5 m/s² in turns of 4 m/s² of a symmetric car; then the linear and nonlinear run."""
    left, right = (quasi_static(Vehicle(), AS_DESIGNED, -5.0, side) for side in (4.0, -4.0))
    yield beside("steady: roll, rad", left.roll, -right.roll, relative=1e-6)
    yield beside("steady: pitch, rad", left.pitch, right.pitch, relative=1e-6)
    yield beside(
        "steady: load, N", left.load_change, right.load_change[[1, 0, 3, 2]], relative=1e-9, within=1e-6
    )
    for laws in ("linear", "nonlinear"):
        one, other = (corner(laws, lateral) for lateral in (5.0, -5.0))
        yield beside(f"{laws}: roll, rad", one.time.y[1], -other.time.y[1], within=1e-9)
        yield beside(f"{laws}: pitch, rad", one.time.y[2], other.time.y[2], within=1e-9)
        yield beside(f"{laws}: tyre load, N", one.tyre_load, other.tyre_load[[1, 0, 3, 2]], within=1e-4)


def corner(laws: str, lateral: float) -> Analysis:
    """The plain car in a turn on a flat road."""
    run = Run(manoeuvre=Corner(lateral=lateral), event=OneMinusCosine(height=0.0))
    return analyse(Vehicle(), replaced(run, ("laws",), laws))


@CHAPTER.check(
    "A symmetric car is its half car in pitch and its roll plane",
    source="symmetry: 7 squares of frequencies = 4 of the half car + 3 of roll and wheels against each other",
    status="closed form",
    reason="rounding relative to the largest square",
)
def symmetric_modes() -> Numbers:
    """The plain car; frequencies in Hz², squares being what rounding is relative to."""
    full = assemble(Vehicle())
    against = np.zeros((7, 3))
    against[1, 0] = 1.0
    against[[3, 4], 1] = against[[5, 6], 2] = 1.0, -1.0
    roll, _ = eigh(against.T @ full.stiffness @ against, against.T @ full.mass @ against)
    parts = np.sort(np.concatenate([modes(half_car(full)).frequency ** 2, roll / (2 * pi) ** 2]))
    yield beside("squares, Hz²", modes(full).frequency ** 2, parts, within=1e-11 * parts[-1])


@CHAPTER.check(
    "A symmetric car on a symmetric road does not roll",
    source="symmetry of the laws of mechanics",
    status="closed form",
    reason="rounding relative to pitch and to the force itself",
)
def no_roll() -> Numbers:
    """The plain car over a bump on both sides."""
    y = over(assemble(Vehicle()), OneMinusCosine())
    peak = np.abs(y[channel_index("pitch")]).max()
    yield beside("roll, rad", y[channel_index("roll")], 0.0, within=1e-13 * peak)
    left, right = y[channel_index("tyre_force_FL")], y[channel_index("tyre_force_FR")]
    yield beside("front left tyre force, N", left, right, within=1e-12 * np.abs(right).max())


@CHAPTER.check(
    "Left and right add up",
    source="superposition in the linear car",
    status="closed form",
    reason="rounding relative to the largest of all",
)
def superposition() -> Numbers:
    """Every channel of the car with every part over a ramp on the left, on the right, and on both."""
    model = assemble(EVERYTHING)
    left, right, both = (over(model, event) for event in (Ramp(side="left"), Ramp(side="right"), Ramp()))
    yield beside("all channels, SI", left + right, both, within=1e-12 * np.abs(both).max())


@CHAPTER.check(
    "Time response of a washboard settles to the frequency response",
    source="convolution theorem",
    status="closed form",
    reason="1e-3 of the peak: at 500 samples per wave the road is straight between them, (ω Δt)²/12, and "
    "the slowest mode has died away to 1e-5",
)
def time_and_frequency() -> Numbers:
    """Heave, pitch and front travel of the car with every part on a washboard of 10 m at 20 m/s, 2 Hz."""
    model, t = assemble(EVERYTHING), np.arange(8001.0) * 1e-3
    event = Washboard(amplitude=0.01, wavelength=10.0, length=500.0)
    y = over(model, event, t)
    response = frequency_response(model, np.array([2.0]), SPEED)
    for key in ("heave", "pitch", "travel_FL"):
        gain = abs(response.travelling[0, channel_index(key)])
        last = y[channel_index(key), -2001:]
        found = (last.max() - last.min()) / 0.02
        yield beside(f"{key}: peak to peak per that of the road", found, gain, relative=1e-3)


@CHAPTER.check(
    "A slow road lifts the car as it is",
    source="at no frequency the car stands on the road",
    status="closed form",
    reason="(f/f1)² = 1e-6 of a slow mode of 1 Hz",
)
def slow_road() -> Numbers:
    """Heave per height of a road alike under all wheels, at 0.001 Hz, and travel."""
    response = frequency_response(assemble(EVERYTHING), np.array([1e-3]), SPEED)
    whole = response.wheel[0].sum(axis=1)
    yield beside("heave", abs(whole[channel_index("heave")]), 1.0, within=1e-5)
    yield beside("front left travel", abs(whole[channel_index("travel_FL")]), 0.0, within=1e-5)


@CHAPTER.check(
    "RMS is the integral of the spectrum and grows with the root of the roughness",
    source="definition of the spectrum",
    status="closed form",
    reason="two rules on one fine grid, whose errors fall with the square of the step: 1e-6; the root to "
    "rounding",
)
def rms_and_spectrum() -> Numbers:
    """The plain car on class C and on a surface four times as rough, 0.1 to 50 Hz in 20 000 points."""
    model = assemble(Vehicle())
    response = frequency_response(model, np.geomspace(0.1, 50.0, 20_000), SPEED)
    ride = random_road(model, response, RoughSurface(), SPEED)
    integral = np.sqrt(np.trapezoid(ride.psd, ride.frequency, axis=1))
    yield beside("RMS of all channels, SI", ride.rms, integral, relative=1e-6)
    rough = random_road(model, response, RoughSurface(roughness=4 * RoughSurface().roughness), SPEED)
    yield beside("on the rougher surface, SI", rough.rms, 2 * ride.rms, relative=1e-12)


@CHAPTER.check(
    "A project reads back as it was written",
    source="file format of the program",
    status="closed form",
    reason="a file is the same or it is not",
)
def project_file() -> Numbers:
    """The car with every part: text, project, text; 1 where both are the same."""
    project: Project = new_project(Variant(name="every part", vehicle=EVERYTHING))
    text = dumps(project)
    yield beside("projects are equal", float(loads(text) == project), 1.0)
    yield beside("texts are equal", float(dumps(loads(text)) == text), 1.0)


@CHAPTER.check(
    "A levelling bar of equal levers resists the sum of the travels and not their difference",
    source="energy ½ k (β (s_f + s_r))²",
    status="closed form",
    reason="rounding of 1e5 N/m",
)
def difference_is_free() -> Numbers:
    """Stiffness that bars of 910 N·m/rad on levers of 2.6 rad/m add to both motions of the wheels."""
    linked = replaced(Vehicle(), ("left", "coupling"), EVERYTHING.left.coupling)
    linked = replaced(linked, ("left", "coupling", "rear_lever_ratio"), 2.6)
    plain = linked.model_copy(update={"left": Side()})
    added = assemble(linked).stiffness - assemble(plain).stiffness
    against = np.array([0, 0, 0, 1.0, 1.0, -1.0, -1.0])
    yield beside("front against rear, N/m", against @ added @ against, 0.0, within=1e-9 * np.abs(added).max())
    together = np.array([0, 0, 0, 1.0, 1.0, 1.0, 1.0])
    expected = 2 * 910.0 * (2 * 2.6) ** 2
    yield beside("front with rear, N/m", together @ added @ together, expected, relative=1e-9)


@UNITS.check(
    "Factors of inch, pound and degree",
    source="international yard and pound (1959): 1 in = 25.4 mm, 1 lb = 0.45359237 kg; g₀ = 9.80665 m/s²",
    status="closed form",
    reason="rounding of the last of sixteen digits",
)
def inch_and_pound() -> Numbers:
    """SI value of one of each unit of the inch-pound choice, from the definitions alone."""
    inch, pound = 0.0254, 0.45359237
    force, foot, degree = pound * 9.80665, 12 * 0.0254, pi / 180
    for kind, unit, expected in (
        ("mass", "lb", pound),
        ("moment of inertia", "lb·ft²", pound * foot**2),
        ("rate", "lbf/in", force / inch),
        ("torsional rate", "lbf·in/deg", force * inch / degree),
        ("lever ratio", "deg/in", degree / inch),
        ("damping", "lbf·s/in", force / inch),
        ("speed", "mph", 5280 * foot / 3600),
        ("acceleration", "ft/s²", foot),
        ("acceleration", "g₀", 9.80665),
        ("stress", "ksi", 1e3 * force / inch**2),
        ("density", "lb/in³", pound / inch**3),
        ("torque", "lbf·ft", force * foot),
        ("volume", "in³", inch**3),
        ("distance driven", "mi", 5280 * foot),
        ("roughness index", "in/mi", inch / (5280 * foot)),
    ):
        yield beside(
            f"1 {unit} ({kind}), {KINDS[kind].si}", factor(unit, KINDS[kind].si), expected, relative=5e-16
        )


@UNITS.check(
    "Quantity text reads back to the bit",
    source="units of the program",
    status="closed form",
    reason="text of all digits is exact",
)
def text_and_back() -> Numbers:
    """Awkward numbers in every unit of every kind, and in the inch-pound choice."""
    values = np.array([1 / 3, 26e3 / 7, pi, 1.0, 0.1 + 0.2])
    for name, kind in KINDS.items():
        units = {*kind.units, INCH_POUND[name]}
        back = [
            [from_text(to_text(v, unit, kind.si), kind.si) for v in values.tolist()] for unit in sorted(units)
        ]
        yield beside(f"{name}, {kind.si}", back, np.broadcast_to(values, (len(units), len(values))))
