"""Published and independently derived numbers for ride calculations, in SI or with their unit named.

Each number says where it is from and how well we know it:

* "seen": read in the source;
* "from memory": the source is known but was not at hand when the number was written down;
* "derived": no printed answer is known; computed apart from this program from the stated inputs.

Tolerances are half a unit of the last digit printed, unless a reason is given.  Distances of nodes are
here positive ahead of the CG, as in the program; sources that count rearwards are turned round.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import pytest

__all__ = ["Car", "HalfCar", "Published", "Status"]

Status = Literal["seen", "from memory", "derived"]

LB_FT = 14.593903  # N/m per lbf/ft (exact 4.4482216152605/0.3048, rounded in the last digit)
SLUG = 14.593903  # kg
FOOT = 0.3048


@dataclass(frozen=True, slots=True)
class Published:
    """A number to be met.

    Attributes:
        value: as printed.
        tolerance: absolute, in the unit of the value.
        source: author, work, place in it.
        status: how well the number is known.
        why: reason for a tolerance other than the last printed digit.
    """

    value: float
    tolerance: float
    source: str
    status: Status
    why: str = ""

    def check(self, found: float) -> None:
        """Fail unless ``found`` is within the tolerance."""
        assert found == pytest.approx(self.value, rel=0, abs=self.tolerance), (
            f"{self.source} ({self.status}): {self.value} ± {self.tolerance}, found {found}"
        )


@dataclass(frozen=True, slots=True)
class Car:
    """Two-degree-of-freedom example: inputs, and answers as (slow mode, fast mode)."""

    name: str
    mass: float
    a: float
    b: float
    gyration: float
    axle_rates: tuple[float, float]
    inputs: Status
    rad_per_s: tuple[Published, Published]
    nodes: tuple[Published, Published] | None = None


RAO = "S. S. Rao, Mechanical Vibrations, ch. 5, automobile in pitch and bounce"
THOMSON = "W. T. Thomson, Theory of Vibration with Applications, ch. 5, coordinate coupling"
EDWARDS_PENNEY = "Edwards and Penney, Differential Equations, 2nd ed., problem 7.4-24, solution notes"

TWO_DEGREE_CARS = (
    Car(
        name="Rao",
        mass=1000.0,
        a=1.0,
        b=1.5,
        gyration=0.9,
        axle_rates=(18e3, 22e3),
        inputs="seen",
        rad_per_s=(
            Published(5.8593, 5e-5, RAO, "from memory"),
            Published(9.4341, 5e-5, RAO, "from memory"),
        ),
        nodes=(
            Published(-2.6461, 5e-5, RAO, "from memory"),
            Published(0.3061, 5e-5, RAO, "from memory"),
        ),
    ),
    Car(
        name="Thomson",
        mass=100 * SLUG,  # 3220 lb
        a=4.5 * FOOT,
        b=5.5 * FOOT,
        gyration=4 * FOOT,
        axle_rates=(2400 * LB_FT, 2600 * LB_FT),
        inputs="from memory",
        rad_per_s=(
            Published(6.90, 5e-3, THOMSON, "from memory"),
            Published(9.06, 1e-2, THOMSON, "from memory", why="the book's slide rule: 0.1 % above 9.0515"),
        ),
        nodes=(
            Published(-14.6 * FOOT, 0.05 * FOOT, THOMSON, "from memory"),
            Published(1.09 * FOOT, 0.01 * FOOT, THOMSON, "from memory", why="one unit: exact is 1.0962 ft"),
        ),
    ),
    Car(
        name="Edwards and Penney",
        mass=100 * SLUG,
        a=6 * FOOT,
        b=4 * FOOT,
        gyration=10**0.5 * FOOT,
        axle_rates=(2000 * LB_FT, 2000 * LB_FT),
        inputs="seen",
        rad_per_s=(
            Published(6.13, 5e-3, EDWARDS_PENNEY, "seen"),
            Published(
                10.31, 1e-2, EDWARDS_PENNEY, "seen", why="the source cuts 10.3155 off after two digits"
            ),
        ),
    ),
)

#: Speeds at which a washboard of 40 ft wavelength meets each mode of the Edwards and Penney car, ft/s.
WASHBOARD_WAVELENGTH_FT = 40.0
CRITICAL_SPEEDS_FT_PER_S = (
    Published(39.03, 5e-3, EDWARDS_PENNEY, "seen"),
    Published(65.67, 5e-3, EDWARDS_PENNEY, "seen"),
)


@dataclass(frozen=True, slots=True)
class HalfCar:
    """Four-degree-of-freedom example with rates and masses of whole axles, answers in Hz, rising."""

    name: str
    mass: float
    pitch_inertia: float
    a: float
    b: float
    unsprung: tuple[float, float]
    axle_rates: tuple[float, float]
    tyre_rate: float
    hz: tuple[Published, ...]


def _derived(inputs: str, digits: int, *values: float) -> tuple[Published, ...]:
    return tuple(
        Published(value, 0.5 * 10**-digits, f"computed apart; inputs {inputs}", "derived") for value in values
    )


JAZAR = "R. N. Jazar, Vehicle Dynamics: Theory and Application, ch. 12 (from memory)"

HALF_CARS = (
    HalfCar(
        name="Jazar bicycle car",
        mass=420.0,
        pitch_inertia=1100.0,
        a=1.4,
        b=1.47,
        unsprung=(53.0, 76.0),
        axle_rates=(10e3, 13e3),
        tyre_rate=200e3,
        hz=_derived(JAZAR, 4, 0.9767, 1.1797, 8.4309, 10.0208),
    ),
    HalfCar(
        name="exercise",
        mass=1500.0,
        pitch_inertia=1000.0,
        a=2.0,
        b=2.5,
        unsprung=(20.0, 20.0),
        axle_rates=(200e3, 200e3),
        tyre_rate=350e3,
        hz=_derived("https://acedmypaper.com/1003743/ (seen)", 4, 2.0551, 5.6735, 26.4390, 26.7660),
    ),
)

#: Full car of Jazar without and with a front bar of 25000 N·m/rad.  Its CG is 0.7 m from the left and
#: 0.75 m from the right wheels.
JAZAR_FULL_CAR_HZ = _derived(JAZAR, 4, 0.8392, 1.1138, 1.4634, 8.4272, 8.4334, 10.0190, 10.0219)
JAZAR_FULL_CAR_WITH_BAR_HZ = _derived(JAZAR, 4, 1.1091, 1.1584, 1.4634, 8.4272, 8.4334, 10.0219, 10.5779)

#: M 1200 (sprung), Ip 1800, Ir 750, a 1.0, b 1.1, half track 0.6 m, 30 kg a wheel, 16 and 18 kN/m a
#: wheel, tyres 150 kN/m.
EXERCISE_FULL_CAR_HZ = _derived(
    "https://www.studypool.com/questions/147429/ (seen)",
    4,
    *(0.8614, 0.9592, 1.1493, 11.8405, 11.8436, 11.9121, 11.9163),
)

BARTON_FIELDHOUSE = "Barton and Fieldhouse, Automotive Chassis Engineering, 2018, ch. 3, p. 209"
_ROUNDED = "the source rounds a coefficient up by 0.06 %, and its results with it"

#: Quarter car Ms 317.5, Mu 45.4 kg, Ks 22, Kt 192 kN/m.
QUARTER_CAR_RAD_PER_S = (
    Published(7.87, 1e-2, BARTON_FIELDHOUSE, "seen", why=_ROUNDED),
    Published(68.73, 0.04, BARTON_FIELDHOUSE, "seen", why=_ROUNDED),
)
QUARTER_CAR_AMPLITUDE_RATIO = Published(0.104, 5e-4, BARTON_FIELDHOUSE, "seen")

HEDRICK_BUTSUEN = (
    "Hedrick and Butsuen, Proc. IMechE D 204 (1990) 21-27 (formulas from memory), with the quarter car above"
)
#: |z_s/z_r| at √(kt/mu), |z̈_s/z_r| there in 1/s², and |travel/z_r| at √(kt/(ms + mu)).
INVARIANT_GAIN = Published(0.142992, 5e-7, HEDRICK_BUTSUEN, "derived")
INVARIANT_ACCELERATION = Published(604.724, 5e-4, HEDRICK_BUTSUEN, "derived")
INVARIANT_TRAVEL = Published(1.142992, 5e-7, HEDRICK_BUTSUEN, "derived")

MODAL_ALGEBRA = "vᵀKv of four equal corners, 20 kN/m, half track 0.75 m, half wheelbase 1.4 m"


def _exact(value: float) -> Published:
    return Published(
        value, 1e-9 * max(abs(value), 1e5), MODAL_ALGEBRA, "derived", why="exact but for rounding"
    )


#: heave N/m, roll N·m/rad, pitch N·m/rad, warp N/m
FOUR_CORNERS = tuple(map(_exact, (80e3, 45e3, 156.8e3, 80e3)))
#: What a link adds to each: two stabilisers of 8 kN/m, then links of 5 kN/m on both sides.
STABILISERS_ADD = tuple(map(_exact, (0.0, 36e3, 0.0, 64e3)))
SUM_LINKS_ADD = tuple(map(_exact, (40e3, 22.5e3, 0.0, 0.0)))
DIFFERENCE_LINKS_ADD = tuple(map(_exact, (0.0, 0.0, 78.4e3, 40e3)))

#: Half car m 1200, I 2100, kf 24, kr 26 kN/m, a 1.3, b 1.5: Hz and nodes, with a link of 6 kN/m or alone.
HALF_CAR_LINK = "characteristic equation solved apart"
NO_LINK_HZ = _derived(HALF_CAR_LINK, 6, 0.991206, 1.125969)
NO_LINK_NODES = _derived(HALF_CAR_LINK, 4, -2.2573, 0.7753)
SUM_LINK_HZ = _derived(HALF_CAR_LINK, 6, 1.065662, 1.274425)
SUM_LINK_NODES = _derived(HALF_CAR_LINK, 3, -0.505, 3.466)
DIFFERENCE_LINK_HZ = _derived(HALF_CAR_LINK, 6, 1.016934, 1.335492)
DIFFERENCE_LINK_NODES = _derived(HALF_CAR_LINK, 3, -7.739, 0.226)
LINK_ALONE_HZ = _derived(HALF_CAR_LINK, 6, 0.0, 1.128606)
LINK_ALONE_FREE_NODE = _derived(HALF_CAR_LINK, 12, -0.1)[0]

#: k²/(a b) = 1: m 1200, a 1.3, b 1.5, kf 30, kr 32 kN/m.
DEN_HARTOG = "den Hartog, Mechanical Vibrations (property from memory)"
INDEX_ONE_HZ = _derived(DEN_HARTOG, 6, 1.087235, 1.206179)
INDEX_ONE_NODES = _derived(DEN_HARTOG, 9, -1.5, 1.3)
#: kf a = kr b: m 1200, I 2100, a 1.3, b 1.5, kf 32 kN/m.
DECOUPLED_HZ = _derived(DEN_HARTOG, 6, 1.122892, 1.185322)
#: m 1000, k 1.0 m, wheelbase 2.5 m, CG in the middle, 50 kN/m per axle: exact.
MIDDLE_RAD_PER_S = _derived("https://askfilo.com, automobile exercise (seen)", 9, 10.0, 12.5)

# Manoeuvres

BF_ROLL = (
    "Barton and Fieldhouse, Automotive Chassis Engineering (2018), p. 174, load transfer in a turn of 0.6 g"
)
#: ms 1280 kg, b/L 0.54, roll centres 0.07 and 0.32 m, track 1.46 m, unsprung 140 and 180 kg at 0.28 and
#: 0.30 m, roll arm 0.365 m (CG at 0.55 m), 28 650 N·m/rad; front and rear each, N.
BF_ROLL_CENTRE_PART = (Published(195.0, 0.5, BF_ROLL, "seen"), Published(760.0, 0.5, BF_ROLL, "seen"))
BF_UNSPRUNG_PART = (Published(158.0, 0.5, BF_ROLL, "seen"), Published(218.0, 0.5, BF_ROLL, "seen"))
_BF_ROUNDING = (
    "the two printed parts are together 0.7 % below k φ / t of the printed inputs, and the split of the roll "
    "stiffness, 20 000 to 8 650 N·m/rad, is inferred from their ratio of 0.7 to 0.3"
)
BF_BODY_PART = (
    Published(1556.0, 16.0, BF_ROLL, "seen", why=_BF_ROUNDING),
    Published(671.0, 7.0, BF_ROLL, "seen", why=_BF_ROUNDING),
)
BF_BODY_SUM = Published(2242.2, 0.5, f"{BF_ROLL}: k φ / t of its inputs", "derived")
BF_TOTAL = (
    Published(1919.0, 16.0, BF_ROLL, "seen", why=_BF_ROUNDING),
    Published(1649.0, 7.0, BF_ROLL, "seen", why=_BF_ROUNDING),
)
BF_ROLL_GRADIENT = Published(0.0194, 5e-5, f"{BF_ROLL}: rad/(m/s²)", "seen")
BF_ROLL_GRADIENT_DEGREES = Published(10.9, 0.05, f"{BF_ROLL}: degrees per g", "seen")

BF_LIFT = "Barton and Fieldhouse, p. 201, rear lift in braking: -936 N on 35.2 N/mm"
#: The inputs of the 936 N were not seen; here the deceleration is set so that it comes out.
BF_REAR_LIFT_MM = Published(-26.6, 0.05, BF_LIFT, "seen")
BF_SQUAT = (
    "Barton and Fieldhouse, p. 197, eq. 3.63, 3.64 and 3.69: no pitch in driving at e/d = (h/l)(1 + kr/kf)"
)

SUPPORT = (
    "https://www.super7thheaven.co.uk/anti-dive-geometry (a builder's page): share · tan α · L/h; 25 %, 0.6, "
    "L 2550 mm, h 600 mm; the same form in Milliken and Milliken, Race Car Vehicle Dynamics, ch. 17 (from "
    "memory)"
)
ANTI_DIVE_TANGENT = Published(0.098, 5e-4, SUPPORT, "seen")
ANTI_DIVE_DEGREES = Published(5.6, 0.05, SUPPORT, "seen")
