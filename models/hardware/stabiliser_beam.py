"""A stabiliser bar in opposed wheel travel: its rate, and the stress along it, by beams in space.

Small travel about design trim: the links keep their direction, and the lever its length.  The far joint of a
link moves up and down by its ratio of the wheel travel; what it moves along and across is left out.  Stress
is nominal, of a straight round bar: what a tight bend, a flattened end or a clamp adds to it is left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from models.hardware.beam_chain import ChainForces, Support, solve_chain
from models.hardware.centre_line import CentreLine
from models.hardware.round_section import BeamSection, round_section
from models.hardware.stabiliser_bar import StabiliserBar, bar_line, lever_length, link_direction

__all__ = ["BarStress", "StabiliserBeam", "stabiliser_beam"]

Array = NDArray[np.float64]

_VERTICAL = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True, slots=True, eq=False)
class BarStress:
    """Nominal stress at the worst fibre along the left half, from the middle to the end; Pa or Pa per m.

    A place comes twice where two pieces meet, as the stress may jump there.

    Attributes:
        place: (K,) distance along the centre line from the middle, m.
        bending: (K,) normal stress of bending and stretch together, at the fibre where they add up.
        torsion: (K,) shear stress of torsion.
    """

    place: Array
    bending: Array
    torsion: Array

    @property
    def von_mises(self) -> Array:
        """(K,) √(σ² + 3 τ²)."""
        return np.sqrt(self.bending**2 + 3 * self.torsion**2)

    @property
    def principal(self) -> Array:
        """(K,) greatest principal stress, σ/2 + √(σ²/4 + τ²)."""
        return self.bending / 2 + np.sqrt(self.bending**2 / 4 + self.torsion**2)

    def scaled(self, factor: float) -> BarStress:
        """Stress at another travel, force or torque; the same for both signs, at the other fibre."""
        return BarStress(self.place, abs(factor) * self.bending, abs(factor) * self.torsion)


@dataclass(frozen=True, slots=True, eq=False)
class StabiliserBeam:
    """What a bar does for one metre of opposed wheel travel: the left wheel 1 m up, the right one 1 m down.

    Attributes:
        bar: its description.
        line: centre line of the whole bar, from the right end to the left one.
        bush_node: number of the node of the left bush.
        wheel_rate: force at each wheel per its travel, N/m.
        heave_rate: force at each wheel per travel of both wheels together, of bushes that do not slip, N/m.
        lever_ratio: turn of the lever per wheel travel, rad/m: link ratio over the lever's length ahead of,
            or behind, the bushes.
        link_force: along a link, N per m.
        bush_force: across the bar at a bush, N per m.
        stress: per m of opposed wheel travel, Pa/m.
        link_share, bush_share: of the compliance that lie in links and bushes, 0 to 1.
        length: along the whole centre line, m.
        mass: of the bar alone, kg.
        link_lean: angle of a link from the vertical, rad.
    """

    bar: StabiliserBar
    line: CentreLine
    bush_node: int
    wheel_rate: float
    heave_rate: float
    lever_ratio: float
    link_force: float
    bush_force: float
    stress: BarStress
    link_share: float
    bush_share: float
    length: float
    mass: float
    link_lean: float

    @property
    def bar_rate(self) -> float:
        """Torque per twist between the lever ends, N·m/rad: with :attr:`lever_ratio` the same wheel rate."""
        return self.rate_at(self.lever_ratio)

    def rate_at(self, lever_ratio: float) -> float:
        """Bar rate that gives the same wheel rate at another lever ratio (rad/m), N·m/rad."""
        return self.wheel_rate / (2 * lever_ratio**2)

    def roll_rate(self, track: float) -> float:
        """Roll moment per angle between body and axle, N·m/rad; ``track`` of the wheels in m."""
        return self.wheel_rate * track**2 / 2

    def stress_per_torque(self, lever_ratio: float) -> float:
        """Greatest von Mises stress per torque of the bar in a ride model, Pa per N·m.

        Args:
            lever_ratio: that of the ride model, rad/m; torque times ratio is the force at a wheel.
        """
        return float(self.stress.von_mises.max()) * lever_ratio / self.wheel_rate


@lru_cache(maxsize=64)
def stabiliser_beam(bar: StabiliserBar) -> StabiliserBeam:
    """Solve a bar; it takes some 2 ms, so the last ones are kept."""
    steel, (line, bush) = bar.material, bar_line(bar)
    youngs, shear = steel.youngs_modulus, steel.shear_modulus
    section = round_section(bar.diameter, bar.bore, youngs / (2 * shear) - 1)
    link = link_direction(bar, line)
    roll, supports = _moved(bar, line, bush, link, section, (youngs, shear), -1.0)
    heave, _ = _moved(bar, line, bush, link, section, (youngs, shear), 1.0)
    pull, held = roll.support[-1, :3], np.array([support.rate for support in supports])
    wheel_rate = bar.link.ratio * float(pull[2])
    heave_rate = bar.link.ratio * float(heave.support[-1, 2])
    half = slice(len(line.nodes) // 2, None)
    length = float(line.place[-1] - line.place[0])
    energy = [_energy(force, rate) for force, rate in zip(roll.support, held, strict=True)]
    return StabiliserBeam(
        bar=bar,
        line=line,
        bush_node=bush,
        wheel_rate=wheel_rate,
        # Bushes that slip leave the rounding of far stiffer springs (found: up to 1e-12).
        heave_rate=heave_rate if heave_rate > 1e-9 * wheel_rate else 0.0,
        lever_ratio=bar.link.ratio / lever_length(line, bush),
        link_force=float(np.linalg.norm(pull)),
        bush_force=_across(roll.support[1, :3], line.tangents[bush - 1, 1]),
        stress=_stress(line, roll, section, half),
        link_share=(energy[2] + energy[3]) / wheel_rate,
        bush_share=(energy[0] + energy[1]) / wheel_rate,
        length=length,
        mass=steel.density * section.area * length,
        link_lean=float(np.arccos(min(abs(link[2]), 1.0))),
    )


def _moved(
    bar: StabiliserBar,
    line: CentreLine,
    bush: int,
    link: Array,
    section: BeamSection,
    moduli: tuple[float, float],
    right: float,
) -> tuple[ChainForces, tuple[Support, ...]]:
    """The bar with the left wheel 1 m up and the right one ``right`` m up."""
    last, other = len(line.nodes) - 1, np.array([1.0, -1.0, 1.0])
    lift = np.concatenate([bar.link.ratio * _VERTICAL, np.zeros(3)])
    tangent = line.tangents[bush - 1, 1]
    supports = (
        Support(last - bush, _bush_rate(bar, other * tangent), np.zeros(6)),
        Support(bush, _bush_rate(bar, tangent), np.zeros(6)),
        Support(0, _link_rate(bar, other * link), right * lift),
        Support(last, _link_rate(bar, link), lift),
    )
    return solve_chain(line.nodes, section, *moduli, supports), supports


def _bush_rate(bar: StabiliserBar, along: Array) -> Array:
    rate = np.zeros((6, 6))
    axis = np.outer(along, along)
    rate[:3, :3] = bar.bush.radial_rate * (np.eye(3) - axis) + bar.bush.axial_rate * axis
    rate[3:, 3:] = bar.bush.torsional_rate * axis
    return rate


def _link_rate(bar: StabiliserBar, along: Array) -> Array:
    rate = np.zeros((6, 6))
    rate[:3, :3] = bar.link.rate * np.outer(along, along)
    return rate


def _energy(force: Array, rate: Array) -> float:
    """Energy in the springs of a support, J: half the force times what it deflects them."""
    return float(force @ np.linalg.pinv(rate) @ force) / 2


def _across(force: Array, along: Array) -> float:
    return float(np.linalg.norm(force - (force @ along) * along))


def _stress(line: CentreLine, forces: ChainForces, section: BeamSection, half: slice) -> BarStress:
    """Stress at both ends of the pieces of the left half."""
    along = line.tangents[half]
    moment, force = forces.moment[half], forces.force[half]
    twist = np.einsum("eki,eki->ek", moment, along)
    bent = np.linalg.norm(moment - twist[..., None] * along, axis=2)
    stretch = np.abs(np.einsum("eki,eki->ek", force, along))
    place = np.stack([line.place[:-1], line.place[1:]], axis=1)[half]
    return BarStress(
        place.ravel(),
        (bent * section.radius / section.bending + stretch / section.area).ravel(),
        (np.abs(twist) * section.radius / section.torsion).ravel(),
    )
