"""Tolerance stack at trim: what parts that are off as built do to the height at which the car stands.

Each part is off on its own (left and right, front and rear), so a batch of springs that are all too long is
not what is counted here.  The linear stack takes the slopes of the equilibrium, K⁻¹ ∂(forces)/∂(part); the
draws solve each car's equilibrium in full.  Levelling, which would take the error out, stands still.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import cos, nan, sqrt
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.constants import g
from scipy.special import betaincinv

from models.assembly import CORNERS, Mechanics, mechanics
from models.force_elements import ForceElement
from models.hardware.hardware import Hardware, InterconnectionBar, TrimBar
from models.hardware.torsion_bar import TorsionBar
from models.hardware.trim_tolerances import TrimTolerances
from models.judge.figure import Figure
from models.levers import Lever
from models.ride.scatter import Scatter, balance, settled
from models.statics import statics
from models.vehicle import AS_DESIGNED, LoadCase, Vehicle

__all__ = [
    "GROUPS",
    "OUTPUTS",
    "GroupRow",
    "Output",
    "Toleranced",
    "TrimStack",
    "bar_diameters",
    "stack_figures",
    "trim_stack",
]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Output:
    """What is read off: key, name, and kind of quantity."""

    key: str
    label: str
    kind: str


OUTPUTS: tuple[Output, ...] = (
    Output("height_FL", "Height FL", "travel"),
    Output("height_FR", "Height FR", "travel"),
    Output("height_RL", "Height RL", "travel"),
    Output("height_RR", "Height RR", "travel"),
    Output("height_front", "Height front", "travel"),
    Output("height_rear", "Height rear", "travel"),
    Output("pitch", "Pitch, nose down", "angle"),
    Output("roll", "Roll, left side up", "angle"),
)
_PLACE = {output.key: number for number, output in enumerate(OUTPUTS)}

Group = Literal[
    "bar_diameter",
    "clocking",
    "lever_length",
    "spring_rate",
    "free_length",
    "body_mass",
    "cg_place",
    "tyre_rate",
]
#: Group of tolerances (a field of :class:`TrimTolerances`) -> its name and kind of quantity.
GROUPS: dict[Group, tuple[str, str]] = {
    "bar_diameter": ("Bar diameter", "travel"),
    "clocking": ("Bar clocking", "angle"),
    "lever_length": ("Lever length", "travel"),
    "spring_rate": ("Spring rate", "share"),
    "free_length": ("Spring free length", "travel"),
    "body_mass": ("Sprung mass", "mass"),
    "cg_place": ("CG place", "length"),
    "tyre_rate": ("Tyre rate", "share"),
}

_BARS = ("interconnection bar", "trim spring", "stabiliser bar", "diagonal coupling")

#: Cars that are solved at a time, between two reports.
_BLOCK = 2000

# Share of a tolerance over which a slope is taken: a thousandth leaves a millionth of curvature, and ten
# digits of the forces.
_SLOPE_STEP = 1e-3


@dataclass(frozen=True, slots=True)
class Toleranced:
    """One size that may be off.

    Attributes:
        group: field of :class:`TrimTolerances`.
        label: place and part.
        tolerance: ±, SI.
        number: of the element, lever, tyre or direction that it belongs to.
        nominal: size that the tolerance is of, m (diameter, lever length); 1 otherwise.
    """

    group: Group
    label: str
    tolerance: float
    number: int
    nominal: float = 1.0


@dataclass(frozen=True, slots=True)
class GroupRow:
    """One group of tolerances: what it does to each of :data:`OUTPUTS`, root of the sum of squares.

    Attributes:
        group, label, kind: which.
        tolerance: ±, SI.
        effect: (outputs,) ± change; m, rad.
        share: (outputs,) of the variance of the whole stack; 0 where nothing moves it.
    """

    group: Group
    label: str
    kind: str
    tolerance: float
    effect: tuple[float, ...]
    share: tuple[float, ...]


@dataclass(frozen=True, eq=False)
class TrimStack:
    """The whole stack of one car in a load case; columns are :data:`OUTPUTS`.

    Attributes:
        tolerances: what was allowed.
        load: name of the load case.
        parts: what may be off.
        rest: (outputs,) of the nominal car, from design trim; NaN where it does not stand.
        effect: (parts, outputs) change at + tolerance by the slope of the equilibrium.
        draws: (draws, outputs) change from the nominal car, in full; NaN for a car that found no balance.
        seed: of the draws.
        reason: why the nominal car does not stand; empty where it does.
    """

    tolerances: TrimTolerances
    load: str
    parts: tuple[Toleranced, ...]
    rest: Array
    effect: Array
    draws: Array
    seed: int
    reason: str = ""

    @cached_property
    def rss(self) -> Array:
        """(outputs,) root of the sum of squares of all effects: ± for tolerances that meet by chance."""
        return np.asarray(np.sqrt((self.effect**2).sum(axis=0)))

    @cached_property
    def worst(self) -> Array:
        """(outputs,) sum of all effects: ± when every part is off the wrong way."""
        return np.asarray(np.abs(self.effect).sum(axis=0))

    @property
    def linear_deviation(self) -> Array:
        """(outputs,) standard deviation by the slopes: RSS / 3 of normal parts, RSS / √3 of uniform ones."""
        return self.rss * _deviation(self.tolerances)

    @cached_property
    def standing(self) -> Array:
        """(standing draws, outputs) of the cars that found their balance."""
        return np.asarray(self.draws[np.isfinite(self.draws).all(axis=1)])

    @property
    def deviation(self) -> Array:
        """(outputs,) standard deviation of the draws; NaN of fewer than two."""
        if len(self.standing) < 2:
            return np.full(len(OUTPUTS), nan)
        return np.asarray(self.standing.std(axis=0, ddof=1))

    def percentile(self, per_cent: float) -> Array:
        """(outputs,) below which so many per cent of the draws lie; NaN without draws."""
        if not len(self.standing):
            return np.full(len(OUTPUTS), nan)
        return np.asarray(np.percentile(self.standing, per_cent, axis=0))

    @cached_property
    def within(self) -> float:
        """Share of all draws whose four corners are within the allowed height error; NaN without draws."""
        if not len(self.draws):
            return nan
        worst = np.abs(self.standing[:, :4]).max(axis=1, initial=0.0)
        return float((worst <= self.tolerances.height_limit).sum() / len(self.draws))

    def within_limits(self, confidence: float = 0.95) -> tuple[float, float]:
        """Shares between which :attr:`within` lies of all cars ever made; NaN without draws.

        Exact limits of a binomial share (C. J. Clopper, E. S. Pearson, Biometrika 26, 1934, from memory), so
        at least as sure as ``confidence``.
        """
        draws = len(self.draws)
        if not draws:
            return nan, nan
        met, tail = round(self.within * draws), (1 - confidence) / 2
        low = float(betaincinv(met, draws - met + 1, tail)) if met else 0.0
        high = float(betaincinv(met + 1, draws - met, 1 - tail)) if met < draws else 1.0
        return low, high

    @cached_property
    def groups(self) -> tuple[GroupRow, ...]:
        """Groups of tolerances that the car has, in the order of :data:`GROUPS`."""
        total = (self.effect**2).sum(axis=0)
        rows = []
        for group, (label, kind) in GROUPS.items():
            own = [number for number, part in enumerate(self.parts) if part.group == group]
            if not own:
                continue
            squares = (self.effect[own] ** 2).sum(axis=0)
            share = np.divide(squares, total, out=np.zeros_like(total), where=total > 0)
            tolerance = float(getattr(self.tolerances, group))
            effect = tuple(np.sqrt(squares).tolist())
            rows.append(GroupRow(group, label, kind, tolerance, effect, tuple(share.tolist())))
        return tuple(rows)


def trim_stack(
    vehicle: Vehicle,
    tolerances: TrimTolerances,
    load: LoadCase = AS_DESIGNED,
    *,
    diameters: Mapping[str, float] | None = None,
    draws: int = 1000,
    seed: int = 1,
    report: Callable[[float], None] = lambda _share: None,
) -> TrimStack:
    """Tolerance stack of the height and attitude at which a car stands.

    Args:
        vehicle, load: the nominal car and what it carries.
        tolerances: what parts may be off.
        diameters: of bars whose size is known, by the name of their element, m; the others have the nominal
            diameter of the tolerances.
        draws: number of cars that are drawn.
        seed: the same seed draws the same cars.
        report: is told the share of the draws that are done; may raise to stop.

    Raises:
        InputError: the load leaves no mass or inertia in the body.
    """
    car = mechanics(vehicle, load)
    stand = statics(car)
    parts = tuple(_parts(car, tolerances, diameters or {}))
    if not stand.stable:
        nothing = np.full(len(OUTPUTS), nan)
        effect = np.full((len(parts), len(OUTPUTS)), nan)
        empty = np.empty((0, len(OUTPUTS)))
        return TrimStack(tolerances, load.name, parts, nothing, effect, empty, seed, stand.reason)
    read = _outputs(car)
    values = _drawn(tolerances, parts, draws, seed)
    change = np.empty((draws, len(OUTPUTS)))
    for first in range(0, draws, _BLOCK):
        report(first / draws)
        block = slice(first, first + _BLOCK)
        q, balanced = settled(car, _scatter(vehicle, car, parts, values[block]), stand.q)
        change[block] = np.where(balanced[:, None], (q - stand.q) @ read.T, nan)
    return TrimStack(
        tolerances=tolerances,
        load=load.name,
        parts=parts,
        rest=read @ stand.q,
        effect=_effects(vehicle, car, parts, stand.q) @ read.T,
        draws=change,
        seed=seed,
    )


def bar_diameters(hardware: Hardware) -> dict[str, float]:
    """Diameters of the bars that are described in steel, by the name of their element, m.

    Of a tube with the bore d_i that of the full bar whose rate changes as much: (d⁴ - d_i⁴) / d³.
    """
    found: dict[str, float] = {}
    for names, bar in (
        (("left interconnection bar", "right interconnection bar"), _bar_of(hardware.interconnection)),
        (("left trim spring", "right trim spring"), _bar_of(hardware.trim)),
        (("front stabiliser bar",), hardware.front_stabiliser),
        (("rear stabiliser bar",), hardware.rear_stabiliser),
    ):
        if bar is not None:
            found |= dict.fromkeys(names, bar.diameter * (1 - (bar.bore / bar.diameter) ** 4))
    return found


def _bar_of(part: InterconnectionBar | TrimBar | None) -> TorsionBar | None:
    return None if part is None else part.bar


def stack_figures(stack: TrimStack) -> tuple[Figure, ...]:
    """Spread of the heights and of the pitch, and the share of cars within the allowed height error."""
    figures = []
    for output in (OUTPUTS[_PLACE[key]] for key in ("height_front", "height_rear", "pitch")):
        column = _PLACE[output.key]
        for key, label, value, meaning in (
            ("rss", "RSS", stack.rss[column], "√Σ (slope · tolerance)²: by chance, linear."),
            ("worst", "worst case", stack.worst[column], "Σ |slope · tolerance|: all the wrong way, linear."),
            (
                "spread",
                "95 % of cars",
                (stack.percentile(97.5) - stack.percentile(2.5))[column] / 2,
                "Half of the range of the middle 95 % of the drawn cars, each solved in full.",
            ),
        ):
            figures.append(
                Figure(
                    f"stack_{output.key}_{key}",
                    f"{output.label} ±, {label}",
                    float(value),
                    output.kind,
                    f"Change at rest from the nominal car: {meaning}",
                    "lower",
                )
            )
    figures.append(
        Figure(
            "stack_within",
            "Cars within the allowed height",
            stack.within,
            "share",
            "Share of the drawn cars whose four corners stand within the allowed height error.",
            "higher",
        )
    )
    return tuple(figures)


def _parts(car: Mechanics, allowed: TrimTolerances, diameters: Mapping[str, float]) -> Iterator[Toleranced]:
    levers = 0
    for number, element in enumerate(car.elements):
        if _is_bar(element):
            diameter = diameters.get(element.name, allowed.nominal_diameter)
            yield Toleranced("bar_diameter", element.name, allowed.bar_diameter, number, diameter)
            yield Toleranced("clocking", element.name, allowed.clocking, number)
        elif _is_spring(element):
            yield Toleranced("spring_rate", element.name, allowed.spring_rate, number)
            if element.name.endswith(" spring"):
                yield Toleranced("free_length", element.name, allowed.free_length, number)
        for lever in element.levers:
            level = cos(lever.angle) if isinstance(lever, Lever) else 1.0
            length = 1 / (abs(lever.ratio) * level)
            label = f"{element.name}, lever {CORNERS[lever.wheel]}"
            yield Toleranced("lever_length", label, allowed.lever_length, levers, length)
            levers += 1
    yield Toleranced("body_mass", "sprung mass", allowed.body_mass, 0)
    yield Toleranced("cg_place", "CG fore and aft", allowed.cg_place, 0)
    yield Toleranced("cg_place", "CG left and right", allowed.cg_place, 1)
    for number, corner in enumerate(CORNERS):
        yield Toleranced("tyre_rate", f"tyre {corner}", allowed.tyre_rate, number)


def _is_bar(element: ForceElement) -> bool:
    return element.name.endswith(_BARS) and element.stiffness(0.0) > 0


def _is_spring(element: ForceElement) -> bool:
    """A corner spring or a gas volume; not a stop, a cushion or a bar."""
    fitted = element.carries_load and element.stiffness(0.0) > 0
    return fitted and not element.name.endswith((*_BARS, "seat cushion"))


def _drawn(allowed: TrimTolerances, parts: tuple[Toleranced, ...], draws: int, seed: int) -> Array:
    """(draws, parts) by what parts are off, SI."""
    random = np.random.default_rng(seed)
    size = draws, len(parts)
    if allowed.distribution == "normal":
        share = random.standard_normal(size) * _deviation(allowed)
    else:
        share = random.uniform(-1.0, 1.0, size)
    return np.asarray(share * np.array([part.tolerance for part in parts]))


def _deviation(allowed: TrimTolerances) -> float:
    """Standard deviation of a part as a share of its tolerance."""
    return 1 / 3 if allowed.distribution == "normal" else 1 / sqrt(3)


def _scatter(vehicle: Vehicle, car: Mechanics, parts: tuple[Toleranced, ...], values: Array) -> Scatter:
    """Cars whose parts are off by ``values`` (N, parts)."""
    made = Scatter.none(car, len(values))
    mass = ahead = left = np.zeros(len(values))
    for part, value in zip(parts, values.T, strict=True):
        match part.group:
            case "bar_diameter":
                made.force[:, part.number] = (1 + value / part.nominal) ** 4 - 1
            case "spring_rate":
                made.force[:, part.number] = value
            case "clocking" | "free_length":
                made.offset[:, part.number] = value
            case "lever_length":
                made.lever[:, part.number] = value / part.nominal
            case "tyre_rate":
                made.tyre[:, part.number] = value
            case "body_mass":
                mass = value
            case "cg_place":
                ahead, left = (ahead, value) if part.number else (value, left)
    made.load[:, :3] = _weight_change(vehicle, car, mass, ahead, left)
    return made


def _weight_change(vehicle: Vehicle, car: Mechanics, mass: Array, ahead: Array, left: Array) -> Array:
    """(N, 3) change of the weight on z, roll and pitch of a body that is heavier and lies elsewhere."""
    design = vehicle.body.mass
    # The CG of the body from that of the load case, about which the body turns.
    x = float(car.corners[0, 0]) - vehicle.body.cg_to_front_axle
    y = float(car.corners[0, 1]) - vehicle.front.track / 2
    whole = design + mass
    roll, pitch = whole * (y + left) - design * y, whole * (x + ahead) - design * x
    return np.asarray(g * np.column_stack([-mass, -roll, pitch]))


def _effects(vehicle: Vehicle, car: Mechanics, parts: tuple[Toleranced, ...], q: Array) -> Array:
    """(parts, n) change of the equilibrium at + tolerance: K⁻¹ times the slope of the forces."""
    step = _SLOPE_STEP * np.diag([part.tolerance for part in parts])
    both = _scatter(vehicle, car, parts, np.vstack([step, -step]))
    forces, _ = balance(car, both, np.repeat(q[None], 2 * len(parts), axis=0))
    slope = (forces[: len(parts)] - forces[len(parts) :]) / (2 * _SLOPE_STEP)
    nominal = balance(car, Scatter.none(car, 1), q[None])[1][0]
    return np.asarray(np.linalg.solve(nominal, slope.T).T)


def _outputs(car: Mechanics) -> Array:
    """(outputs, n) rows that read :data:`OUTPUTS` from a state."""
    corners = np.array([car.wheels[corner] - car.deflections[corner] for corner in range(4)])
    _, roll, pitch = car.body
    return np.vstack([corners, corners[:2].mean(axis=0), corners[2:].mean(axis=0), pitch, roll])
