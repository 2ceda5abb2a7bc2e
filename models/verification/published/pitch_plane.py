"""Bounce and pitch on two springs: examples of textbooks and what holds of every pair of springs."""

from __future__ import annotations

from math import pi, sqrt

from models.assembly import assemble
from models.ride.pitch_plane import PitchPlane, pitch_plane
from models.vehicle import Side, Vehicle
from models.verification.cars import link, two_degree_car
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER"]

CHAPTER = Chapter("pitch-plane", "Bounce and pitch")

LB_FT = 14.593903  # N/m per lbf/ft (exact 4.4482216152605/0.3048, rounded in the last digit)
SLUG = 14.593903  # kg
FOOT = 0.3048
LAST_DIGIT = "half a unit of the last printed digit"
APART = "half a unit of the last of the digits computed"


def plane(vehicle: Vehicle) -> PitchPlane:
    """Body on its wheel rates."""
    return pitch_plane(assemble(vehicle), tyre_in_series=False)


def rad_per_s(found: PitchPlane) -> list[float]:
    """Both natural frequencies, the slower first."""
    return [2 * pi * frequency for frequency in found.frequency]


@CHAPTER.check(
    "Bounce and pitch of a car, metric",
    source="S. S. Rao, Mechanical Vibrations, ch. 5, automobile in pitch and bounce",
    status="from memory",
    reason=LAST_DIGIT,
)
def rao() -> Numbers:
    """m 1000 kg, k 0.9 m, a 1.0 and b 1.5 m, 18 and 22 kN/m (inputs seen, answers from memory).

    Nodes are counted ahead of the CG.
    """
    found = plane(two_degree_car(1000.0, 1.0, 1.5, 0.9, (18e3, 22e3)))
    slow, fast = rad_per_s(found)
    yield beside("bounce, rad/s", slow, 5.8593, within=5e-5)
    yield beside("pitch, rad/s", fast, 9.4341, within=5e-5)
    yield beside("node of bounce, m", found.motion_centre[0], -2.6461, within=5e-5)
    yield beside("node of pitch, m", found.motion_centre[1], 0.3061, within=5e-5)


@CHAPTER.check(
    "Bounce and pitch of a car, in pounds and feet",
    source="W. T. Thomson, Theory of Vibration with Applications, ch. 5, coordinate coupling",
    status="from memory",
    reason="half a unit of the last printed digit; the book's slide rule put pitch 0.1 % above 9.0515, and "
    "its node one unit off 1.0962 ft",
)
def thomson() -> Numbers:
    """W 3220 lb, 4.5 and 5.5 ft, k 4 ft, 2400 and 2600 lb/ft; nodes are counted ahead of the CG."""
    found = plane(two_degree_car(100 * SLUG, 4.5 * FOOT, 5.5 * FOOT, 4 * FOOT, (2400 * LB_FT, 2600 * LB_FT)))
    slow, fast = rad_per_s(found)
    yield beside("bounce, rad/s", slow, 6.90, within=5e-3)
    yield beside("pitch, rad/s", fast, 9.06, within=1e-2)
    yield beside("node of bounce, ft", found.motion_centre[0] / FOOT, -14.6, within=0.05)
    yield beside("node of pitch, ft", found.motion_centre[1] / FOOT, 1.09, within=0.01)


@CHAPTER.check(
    "Car on a washboard road",
    source="Edwards and Penney, Differential Equations, 2nd ed., problem 7.4-24, solution notes "
    "(math.utah.edu/~gustafso, faq-7.4-24)",
    status="seen",
    reason="half a unit of the last printed digit; the source cuts 10.3155 off after two digits",
)
def edwards_penney() -> Numbers:
    """m 100 slug, I 1000 slug·ft², 6 and 4 ft, 2000 lb/ft each; washboard of 40 ft wavelength."""
    found = plane(
        two_degree_car(100 * SLUG, 6 * FOOT, 4 * FOOT, 10**0.5 * FOOT, (2000 * LB_FT, 2000 * LB_FT))
    )
    slow, fast = rad_per_s(found)
    yield beside("slow mode, rad/s", slow, 6.13, within=5e-3)
    yield beside("fast mode, rad/s", fast, 10.31, within=1e-2)
    yield beside("first critical speed, ft/s", 40 * found.frequency[0], 39.03, within=5e-3)
    yield beside("second critical speed, ft/s", 40 * found.frequency[1], 65.67, within=5e-3)


DEN_HARTOG = "J. P. den Hartog, Mechanical Vibrations (property from memory)"


@CHAPTER.check(
    "With a dynamic index of one the nodes are at the axles",
    source=DEN_HARTOG,
    status="computed apart",
    reason=APART,
)
def dynamic_index_of_one() -> Numbers:
    """m 1200 kg, a 1.3, b 1.5 m, k² = a b, 30 and 32 kN/m."""
    found = plane(two_degree_car(1200.0, 1.3, 1.5, sqrt(1.3 * 1.5), (30e3, 32e3)))
    yield beside("frequencies, Hz", found.frequency, [1.087235, 1.206179], within=5e-7)
    yield beside("nodes ahead of the CG, m", found.motion_centre, [-1.5, 1.3], within=5e-10)
    yield beside("dynamic index", found.dynamic_index, 1.0, within=1e-6)


@CHAPTER.check(
    "Equal moments of the axles part bounce from pitch",
    source=DEN_HARTOG,
    status="computed apart",
    reason=APART + "; the nodes are exact",
)
def equal_moments() -> Numbers:
    """m 1200 kg, I 2100 kg·m², a 1.3, b 1.5 m, kf 32 kN/m, kr = kf a/b."""
    found = plane(two_degree_car(1200.0, 1.3, 1.5, sqrt(2100 / 1200), (32e3, 32e3 * 1.3 / 1.5)))
    yield beside("frequencies, Hz", found.frequency, [1.122892, 1.185322], within=5e-7)
    yield beside("node of bounce, m", found.motion_centre[0], float("inf"))
    yield beside("node of pitch, m", found.motion_centre[1], 0.0)


@CHAPTER.check(
    "A symmetric car has pure heave and pure pitch",
    source="https://askfilo.com, automobile exercise (inputs seen)",
    status="closed form",
    reason="rounding",
)
def symmetric_car() -> Numbers:
    """m 1000 kg, k 1.0 m, wheelbase 2.5 m, CG in the middle, 50 kN/m per axle: √(2k/m), √(2k l²/(m k²))."""
    found = plane(two_degree_car(1000.0, 1.25, 1.25, 1.0, (50e3, 50e3)))
    yield beside("bounce and pitch, rad/s", rad_per_s(found), [10.0, 12.5], within=5e-10)


LINKED = "characteristic equation of the linked car, solved apart"


def linked(axle_rates: tuple[float, float], side: Side) -> PitchPlane:
    """m 1200 kg, I 2100 kg·m², a 1.3, b 1.5 m."""
    return plane(two_degree_car(1200.0, 1.3, 1.5, sqrt(2100 / 1200), axle_rates, side=side))


@CHAPTER.check(
    "Half car with a link from front to rear", source=LINKED, status="computed apart", reason=APART
)
def half_car_with_a_link() -> Numbers:
    """m 1200, I 2100, 24 and 26 kN/m, a 1.3, b 1.5; a link of 6 kN/m is one bar of 3 kN/m on each side.

    A levelling link resists the sum of the travels, a pitch-stiffening one their difference.
    """
    for name, side, hz, nodes, digits in (
        ("no link", Side(), [0.991206, 1.125969], [-2.2573, 0.7753], 5e-5),
        ("levelling", link(3e3), [1.065662, 1.274425], [-0.505, 3.466], 5e-4),
        ("pitch stiffening", link(3e3, "pitch stiffening"), [1.016934, 1.335492], [-7.739, 0.226], 5e-4),
    ):
        found = linked((24e3, 26e3), side)
        yield beside(f"{name}: frequencies, Hz", found.frequency, hz, within=5e-7)
        yield beside(f"{name}: nodes ahead of the CG, m", found.motion_centre, nodes, within=digits)


@CHAPTER.check(
    "A levelling link alone leaves pitch free about the middle of the wheelbase",
    source=LINKED,
    status="computed apart",
    reason=APART + "; the free mode is exactly 0 Hz and its node exact but for rounding",
)
def link_alone() -> Numbers:
    """The same body on a levelling link of 15 kN/m and nothing else."""
    found = linked((0.0, 0.0), link(7.5e3))
    yield beside("pitch, Hz", found.frequency[0], 0.0)
    yield beside("bounce, Hz", found.frequency[1], 1.128606, within=5e-7)
    yield beside("node of pitch ahead of the CG, m", found.motion_centre[0], -0.1, within=5e-13)
