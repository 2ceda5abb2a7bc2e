"""A stabiliser bar against energy methods, and what must hold for any bar."""

from __future__ import annotations

from math import hypot, pi

import numpy as np
import pytest
from scipy.integrate import quad

from models.errors import InputError
from models.fields import replaced
from models.force_elements import force_elements
from models.hardware.beam_chain import Support, solve_chain
from models.hardware.centre_line import centre_line
from models.hardware.materials import Material
from models.hardware.round_section import round_section
from models.hardware.stabiliser_bar import BarBush, BendPoint, EndLink, StabiliserBar, bar_line
from models.hardware.stabiliser_beam import stabiliser_beam
from models.vehicle import Axle, Stabiliser, Vehicle

E, G = 206e9, 79e9
# Half distance of the bushes, bush to bend, lever along and across the bar, m.
C, B, A, L2 = 0.33, 0.12, 0.09, 0.24
STIFF = 1e12


def angular_bar(diameter: float = 0.022, bore: float = 0.0) -> StabiliserBar:
    """Sharp corners, rigid bushes and links: what energy methods by hand can do."""
    corners = ((-L2, 0.0), (-L2, C + B), (0.0, C + B + A))
    return StabiliserBar(
        points=tuple(BendPoint(x=x, y=y, radius=0.0) for x, y in corners),
        diameter=diameter,
        bore=bore,
        material=Material(youngs_modulus=E, shear_modulus=G, density=7850.0),
        bush=BarBush(position=C, radial_rate=STIFF, axial_rate=STIFF),
        link=EndLink(x=0.0, y=C + B + A, z=0.25, rate=STIFF),
    )


@pytest.mark.parametrize("bore", [0.0, 0.016])
def test_energy_of_an_angular_bar_gives_its_rate(bore: float) -> None:
    """Castigliano by hand: bending, torsion and shear of lever, overhang and middle part under a force P.

    To 1e-6: bushes and links of 1e12 N/m still give by some 3e-8 of the compliance, and rounding of their
    rates against the bar's is of that size.
    """
    section = round_section(0.022, bore, E / (2 * G) - 1)
    out, lever = A + B, hypot(A, L2)
    bending = quad(lambda x: x**2, 0, lever)[0] + quad(lambda x: x**2, A, out)[0]
    bending += quad(lambda y: (out * y / C) ** 2, 0, C)[0]
    torsion = L2**2 * (B + C)
    shear = lever + B + (out / C) ** 2 * C
    compliance = bending / (E * section.bending) + torsion / (G * section.torsion)
    compliance += shear / (G * section.shear_area)
    found = stabiliser_beam(angular_bar(bore=bore))
    assert found.wheel_rate == pytest.approx(1 / compliance, rel=1e-6)
    assert found.roll_rate(1.5) == pytest.approx(1.5**2 / 2 / compliance, rel=1e-6)


def test_stress_of_an_angular_bar_by_hand() -> None:
    """Moments of the force at the wheel: the bar bends most at the bush, the lever at its corner.

    To 1e-5: rigid bushes of 1e12 N/m are elastic by about that.
    """
    found = stabiliser_beam(angular_bar())
    force, modulus = found.wheel_rate, pi * 0.022**3 / 32
    stress = found.stress
    between = stress.place < C + B - 1e-9
    assert stress.torsion[between] == pytest.approx(force * L2 / (2 * modulus), rel=1e-5)
    assert stress.bending.max() == pytest.approx(force * hypot(A, L2) / modulus, rel=1e-5)
    assert stress.place[stress.bending.argmax()] == pytest.approx(C + B)
    assert stress.bending[between].max() == pytest.approx(force * (A + B) / modulus, rel=1e-5)
    assert stress.place[stress.von_mises.argmax()] == pytest.approx(C)
    # The axis of the lever goes through the force: no torsion in it.
    assert stress.torsion[-1] == pytest.approx(0.0, abs=1e-6 * stress.torsion.max())
    worst = np.hypot(force * (A + B) / modulus, np.sqrt(3) * force * L2 / (2 * modulus))
    assert stress.von_mises.max() == pytest.approx(worst, rel=1e-5)
    assert found.stress_per_torque(4.0) == pytest.approx(worst * 4.0 / force, rel=1e-5)
    tensor = np.array([[stress.bending[0], stress.torsion[0]], [stress.torsion[0], 0.0]])
    assert stress.principal[0] == pytest.approx(np.linalg.eigvalsh(tensor)[-1])


def test_quarter_circle_under_a_force_across_its_plane() -> None:
    """Energy in bending and torsion of a curved bar, integrated; to 4e-4, as chords stand for the arc."""
    radius, section = 0.2, round_section(0.02, 0.0, 0.3)
    line = centre_line(np.array([[0.0, 0, 0], [0.2, 0, 0], [0.2, 0.2, 0]]), [0.0, radius, 0.0])
    fixed = Support(0, STIFF * np.eye(6), np.zeros(6))
    push = np.zeros((6, 6))
    push[2, 2] = 1e-3  # so soft that it is a force: moved by 1000 m it pushes with 1 N
    pulled = Support(len(line.nodes) - 1, push, 1000.0 * np.eye(6)[2])
    section = type(section)(section.area, np.inf, section.bending, section.torsion, section.radius)
    solved = solve_chain(line.nodes, section, E, G, (fixed, pulled))
    bent = quad(lambda a: (radius * np.sin(a)) ** 2 * radius, 0, pi / 2)[0]
    twisted = quad(lambda a: (radius * (1 - np.cos(a))) ** 2 * radius, 0, pi / 2)[0]
    expected = bent / (E * section.bending) + twisted / (G * section.torsion)
    assert solved.displacement[-1, 2] == pytest.approx(expected, rel=4e-4)
    assert line.place[-1] == pytest.approx(radius * pi / 2)


def test_the_bar_rate_and_lever_ratio_give_the_wheel_rate_of_the_beam() -> None:
    """The element of the ride model, made from both, pushes the wheels as the beam does."""
    found = stabiliser_beam(StabiliserBar())
    fitted = Stabiliser(bar_rate=found.bar_rate, lever_ratio=found.lever_ratio)
    car = Vehicle(front=Axle(stabiliser=fitted))
    element = next(one for one in force_elements(car) if one.name == "front stabiliser bar")
    incidence = np.array(element.incidence)
    torque = element.force(float(incidence @ [1.0, -1.0, 0.0, 0.0]))
    assert incidence[0] * torque == pytest.approx(found.wheel_rate)
    assert found.rate_at(5.0) * 5.0**2 == pytest.approx(found.bar_rate * found.lever_ratio**2)


def test_softer_bushes_and_links_share_the_compliance() -> None:
    """Springs in series, so that what they take is what the rate loses."""
    bar = StabiliserBar()
    found = stabiliser_beam(bar)
    stiff = replaced(bar, ("link", "rate"), STIFF)
    assert 1 / stabiliser_beam(stiff).wheel_rate == pytest.approx(
        (1 - found.link_share) / found.wheel_rate, rel=1e-4
    )
    soft = replaced(bar, ("bush", "radial_rate"), 1e5)
    assert stabiliser_beam(soft).wheel_rate < 0.6 * found.wheel_rate
    assert stabiliser_beam(soft).bush_share > 0.4


def test_a_bonded_bush_adds_its_torsion_in_heave() -> None:
    """Both bushes turn by the lever ratio; to 1e-3, as the bar itself gives a little."""
    bar = replaced(angular_bar(), ("bush", "torsional_rate"), 1.0)
    found = stabiliser_beam(bar)
    assert stabiliser_beam(angular_bar()).heave_rate == pytest.approx(0.0, abs=1e-3)
    assert found.heave_rate == pytest.approx(1.0 * found.lever_ratio**2, rel=1e-3)


def test_mass_and_length() -> None:
    found = stabiliser_beam(angular_bar(0.022, 0.016))
    length = 2 * (C + B + hypot(A, L2))
    assert found.length == pytest.approx(length)
    assert found.mass == pytest.approx(7850 * pi / 4 * (0.022**2 - 0.016**2) * length)


def test_a_bar_may_begin_beside_the_middle_plane() -> None:
    """Points from y = 0, or from the first corner on: the same bar."""
    points = StabiliserBar().points
    shorter = replaced(StabiliserBar(), ("points",), points[1:])
    assert stabiliser_beam(shorter).wheel_rate == pytest.approx(stabiliser_beam(StabiliserBar()).wheel_rate)


def test_the_line_is_its_own_mirror_image() -> None:
    line, bush = bar_line(StabiliserBar())
    flipped = line.nodes[::-1] * [1.0, -1.0, 1.0]
    assert flipped == pytest.approx(line.nodes, abs=1e-15)
    assert line.nodes[bush, 1] == pytest.approx(StabiliserBar().bush.position)
    chords = np.diff(line.nodes, axis=0)
    chords /= np.linalg.norm(chords, axis=1)[:, None]
    assert np.einsum("eki,ei->ek", line.tangents, chords).min() > np.cos(np.radians(1.26))


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (("points", 1, "radius"), 1.5, "for the bends"),
        (("points", 2, "x"), -0.24, "lever"),
        (("link", "z"), 0.0, "flat"),
    ],
)
def test_bars_that_cannot_work_are_refused(path: tuple[str | int, ...], value: float, words: str) -> None:
    with pytest.raises(InputError, match=words):
        replaced(StabiliserBar(), path, value)


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (("bore",), 0.0199, "no wall"),
        (("bush", "position"), 0.6, "not on the bar"),
        (("points", 1), BendPoint(x=-0.24, y=0.0, z=0.0), "point 2"),
    ],
)
def test_descriptions_that_contradict_themselves_are_refused(
    path: tuple[str | int, ...], value: object, words: str
) -> None:
    with pytest.raises(InputError, match=words):
        replaced(StabiliserBar(), path, value)
