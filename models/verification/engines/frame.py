"""Stabiliser bars beside PyNite, a library for frames of beams in space.

PyNite's beams have no shear deflection, and its springs act along x, y and z: the bars compared have none of
the one, and bushes and links in those directions.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.hardware.beam_chain import Support, solve_chain
from models.hardware.round_section import BeamSection, round_section
from models.hardware.stabiliser_bar import BarBush, BendPoint, EndLink, StabiliserBar, bar_line
from models.verification.check import Chapter, Numbers, beside

__all__ = ["CHAPTER"]

CHAPTER = Chapter("pynite", "PyNite", group="engine", needs=("Pynite",))

Array = NDArray[np.float64]

E, G = 206e9, 79e9
RADIAL, AXIAL, LINK = 4e6, 8e5, 3e6
LIFT = 1e-3
BARS = {
    "default": StabiliserBar(),
    "in space": StabiliserBar(
        points=(
            BendPoint(x=-0.30, y=0.10, z=0.05),
            BendPoint(x=-0.20, y=0.20, z=0.00, radius=0.06),
            BendPoint(x=-0.20, y=0.40, z=0.00, radius=0.04),
            BendPoint(x=-0.05, y=0.47, z=0.06, radius=0.05),
            BendPoint(x=0.06, y=0.55, z=0.03),
        ),
        diameter=0.024,
        bore=0.018,
        bush=BarBush(position=0.32),
        link=EndLink(x=0.06, y=0.55, z=-0.2),
    ),
}


def diagonal(*rates: float) -> Array:
    return np.diag([*rates, 0.0, 0.0, 0.0])


def pynite(nodes: Array, section: BeamSection, bushes: tuple[int, int]) -> Any:
    """The same bar, solved by PyNite."""
    from Pynite import FEModel3D

    model = FEModel3D()
    model.add_material("steel", E, G, 0.3, 7850.0)
    model.add_section("round", section.area, section.bending, section.bending, section.torsion)
    for number, (x, y, z) in enumerate(nodes.tolist()):
        model.add_node(f"{number}", x, y, z)
    for first, second in pairwise(range(len(nodes))):
        model.add_member(f"{first}", f"{first}", f"{second}", "steel", "round")
    for node in bushes:
        for freedom, rate in (("DX", RADIAL), ("DY", AXIAL), ("DZ", RADIAL)):
            model.def_support_spring(f"{node}", freedom, rate)
    for node, sign in ((0, -1.0), (len(nodes) - 1, 1.0)):
        # A spring whose base is lifted is a spring at rest and a force.
        model.def_support_spring(f"{node}", "DZ", LINK)
        model.add_node_load(f"{node}", "FZ", sign * LINK * LIFT)
    model.analyze_linear(check_stability=False)
    return model


def moment_axis(model: Any, piece: int) -> Array:
    """Direction of a piece."""
    first, second = (model.nodes[f"{number}"] for number in (piece, piece + 1))
    along = np.array([second.X - first.X, second.Y - first.Y, second.Z - first.Z])
    return np.asarray(along / np.linalg.norm(along))


@CHAPTER.check(
    "Stabiliser bar as a frame of beams",
    source="PyNite, linear analysis",
    status="computed apart",
    reason="1e-6 of the largest: the banded and the sparse solution lose digits to stiff short pieces alike",
    cases=list(BARS),
)
def stabiliser(name: str) -> Numbers:
    """Displacements of all nodes, twist and bending moment at the ends of all pieces; ends lifted by 1 mm."""
    bar = BARS[name]
    line, bush = bar_line(bar)
    section = replace(round_section(bar.diameter, bar.bore, 0.3), shear_area=np.inf)
    last = len(line.nodes) - 1
    lift = LIFT * np.eye(6)[2]
    bushes = [Support(node, diagonal(RADIAL, AXIAL, RADIAL), np.zeros(6)) for node in (last - bush, bush)]
    links = [Support(0, diagonal(0, 0, LINK), -lift), Support(last, diagonal(0, 0, LINK), lift)]
    ours = solve_chain(line.nodes, section, E, G, (*bushes, *links))
    theirs = pynite(line.nodes, section, (last - bush, bush))
    moved = np.array(
        [
            [getattr(node, key)["Combo 1"] for key in ("DX", "DY", "DZ", "RX", "RY", "RZ")]
            for node in theirs.nodes.values()
        ]
    )
    for what, part in (("displacements, m", slice(0, 3)), ("rotations, rad", slice(3, 6))):
        within = 1e-6 * np.abs(moved[:, part]).max()
        yield beside(f"{name}: {what}", ours.displacement[:, part], moved[:, part], within=within)
    found, expected = np.empty((last, 2, 2)), np.empty((last, 2, 2))
    for piece in range(last):
        member, chord = theirs.members[f"{piece}"], moment_axis(theirs, piece)
        for end, x in enumerate((0.0, member.L())):
            bent = np.hypot(member.moment("My", x, "Combo 1"), member.moment("Mz", x, "Combo 1"))
            expected[piece, end] = abs(member.torque(x, "Combo 1")), bent
            moment = ours.moment[piece, end]
            twist = moment @ chord
            found[piece, end] = abs(twist), np.linalg.norm(moment - twist * chord)
    within = 1e-6 * np.linalg.norm(ours.moment, axis=2).max()
    yield beside(f"{name}: torque, N·m", found[..., 0], expected[..., 0], within=within)
    yield beside(f"{name}: bending moment, N·m", found[..., 1], expected[..., 1], within=within)
