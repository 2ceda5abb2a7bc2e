"""Motor and gear that wind the trim bars.

A brushed motor: torque k_t I, voltage U = R I + k_t ω_motor, no-load current I0.  Behind a gear of ratio N
and efficiency η (self-locking, so that it holds without current) the bars see

    I = I0 + T / (k_t N η),    ω = (U - R I) / (k_t N).

The levelling run (:mod:`models.ride.levelling`) uses the same current with torque per current = k_t N η, and
a constant speed; a torque that helps the motor along spares it no more than its load.  Over a move in which
the torque grows in proportion to the angle, ω falls linearly, so that time and energy have closed forms.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, log, tau
from typing import Annotated

from models.fields import Part, Quantity
from models.figure import Figure

__all__ = [
    "LevellerMotor",
    "TrimMove",
    "motor_current",
    "motor_figures",
    "stall_torque",
    "torque_per_current",
    "trim_move",
    "winding_speed",
]


class LevellerMotor(Part):
    """Motor and gear of the levelling; one for the bars of both sides."""

    torque_constant: Annotated[
        float,
        Quantity(
            "torque per current",
            "Torque constant",
            "k_t: torque of the motor per current; the same number in V·s/rad is its voltage per speed.",
            low=1e-4,
            high=100.0,
            typical=(0.01, 0.2),
        ),
    ] = 0.05
    resistance: Annotated[
        float,
        Quantity(
            "resistance",
            "Winding resistance",
            "R of motor and leads.",
            low=0.0,
            high=1000.0,
            typical=(0.02, 1.0),
        ),
    ] = 0.15
    idle_current: Annotated[
        float,
        Quantity(
            "current",
            "Idle current",
            "I0: current of the running motor and gear without load.",
            low=0.0,
            high=200.0,
            typical=(0.2, 10.0),
        ),
    ] = 2.0
    voltage: Annotated[
        float,
        Quantity(
            "voltage",
            "Supply voltage",
            "U: voltage of the board net.",
            low=1.0,
            high=1000.0,
            typical=(6.0, 60.0),
        ),
    ] = 12.0
    gear_ratio: Annotated[
        float,
        Quantity(
            "ratio",
            "Gear ratio",
            "N: turns of the motor per turn of the bars' ends.",
            low=1.0,
            high=1e6,
            typical=(500.0, 10e3),
        ),
    ] = 4000.0
    gear_efficiency: Annotated[
        float,
        Quantity(
            "share",
            "Gear efficiency",
            "η: torque that reaches the bars as a share of motor torque · ratio; below about 40 % a "
            "worm locks itself.",
            low=0.01,
            high=1.0,
            typical=(0.2, 0.8),
        ),
    ] = 0.4


@dataclass(frozen=True, slots=True)
class TrimMove:
    """One move of the motor.

    Attributes:
        time: s; infinite where the motor stalls on the way.
        energy: drawn from the board net, J; infinite likewise.
        current: highest on the way, A.
        power: highest drawn on the way, W.
    """

    time: float
    energy: float
    current: float
    power: float


def torque_per_current(motor: LevellerMotor) -> float:
    """k_t N η, N·m/A on the bars."""
    return motor.torque_constant * motor.gear_ratio * motor.gear_efficiency


def motor_current(motor: LevellerMotor, torque: float) -> float:
    """Current of the running motor at a torque of both bars together (N·m, positive against it), A."""
    return motor.idle_current + max(torque, 0.0) / torque_per_current(motor)


def winding_speed(motor: LevellerMotor, torque: float = 0.0) -> float:
    """Speed at which the bars are wound, rad/s; 0 where the motor stalls."""
    left = motor.voltage - motor.resistance * motor_current(motor, torque)
    return max(left, 0.0) / (motor.torque_constant * motor.gear_ratio)


def stall_torque(motor: LevellerMotor) -> float:
    """Torque of both bars together at which the motor stands still, N·m; infinite without resistance."""
    if motor.resistance == 0:
        return inf
    return max(motor.voltage / motor.resistance - motor.idle_current, 0.0) * torque_per_current(motor)


def trim_move(motor: LevellerMotor, start: float, end: float, angle: float) -> TrimMove:
    """A move over an angle, the torque growing linearly from ``start`` to ``end``.

    Args:
        motor: motor and gear.
        start, end: torque of both bars together, N·m, positive against the motor.
        angle: rad, above 0.
    """
    current = motor_current(motor, max(start, end))
    power = motor.voltage * current
    if winding_speed(motor, max(start, end)) == 0:
        return TrimMove(inf, inf, current, power)
    time, charge = 0.0, 0.0
    for first, last, part in _pieces(start, end, angle):
        duration = part * _mean_slowness(winding_speed(motor, first), winding_speed(motor, last))
        time += duration
        charge += _charge(motor, (first, last), part, duration)
    return TrimMove(time, motor.voltage * charge, current, power)


def motor_figures(
    motor: LevellerMotor, design: float = 0.0, limit: float = 0.0, angle: float = 0.0
) -> tuple[Figure, ...]:
    """Figures of the motor.

    Args:
        motor: motor and gear.
        design: torque of both bars together at design trim, N·m.
        limit: the same wound to the limit.
        angle: that limit, rad; 0 leaves the move out.
    """
    speed, stall = winding_speed(motor, limit), stall_torque(motor)
    formula = "I = I0 + T / (k_t N η)"
    figures = (
        Figure(
            "torque_per_current",
            "Torque per current",
            torque_per_current(motor),
            "torque per current",
            "k_t N η: on the bars, gear losses included.",
        ),
        Figure(
            "idle_speed",
            "Winding speed, no load",
            winding_speed(motor),
            "angular velocity",
            "ω = (U - R I0) / (k_t N).",
        ),
        Figure("stall_torque", "Stall torque", stall, "torque", "(U/R - I0) k_t N η, both bars together."),
        Figure("torque_design", "Torque, design trim", design, "torque", "Both bars together."),
        Figure(
            "torque_wound",
            "Torque, wound to the limit",
            limit,
            "torque",
            "Both bars together, T + k · limit.",
        ),
        Figure(
            "safety",
            "Safety against stall",
            stall / limit if limit > 0 else inf,
            "ratio",
            "Stall torque / torque wound to the limit.",
            "higher",
        ),
        Figure(
            "speed_design",
            "Winding speed, design trim",
            winding_speed(motor, design),
            "angular velocity",
            f"ω = (U - R I) / (k_t N), {formula}.",
        ),
        Figure(
            "speed_wound",
            "Winding speed, at the limit",
            speed,
            "angular velocity",
            f"ω = (U - R I) / (k_t N), {formula}.",
        ),
        Figure(
            "current_wound",
            "Current, at the limit",
            motor_current(motor, limit),
            "current",
            f"{formula}.",
            "lower",
        ),
        Figure("power_shaft", "Power on the bars, at the limit", limit * speed, "power", "T ω."),
        Figure(
            "power_wound",
            "Power drawn, at the limit",
            motor.voltage * motor_current(motor, limit),
            "power",
            "U I.",
            "lower",
        ),
        Figure(
            "motor_speed",
            "Motor speed, no load",
            winding_speed(motor) * motor.gear_ratio / tau,
            "frequency",
            "N ω / 2π, turns per second.",
        ),
    )
    return figures + (_move_figures(trim_move(motor, design, limit, angle)) if angle > 0 else ())


def _move_figures(move: TrimMove) -> tuple[Figure, ...]:
    return (
        Figure(
            "move_time",
            "Time from design trim to the limit",
            move.time,
            "time",
            "∫ dθ / ω = angle · ln(ω1/ω2) / (ω1 - ω2): the speed falls as the bars wind up; no number "
            "where it stalls.",
            "lower",
        ),
        Figure(
            "move_energy",
            "Energy of that move",
            move.energy,
            "energy",
            "U ∫ I dt over the move; no number where the motor stalls.",
            "lower",
        ),
    )


def _pieces(start: float, end: float, angle: float) -> tuple[tuple[float, float, float], ...]:
    """The move in pieces on which the torque has one sign: torque at both ends, angle."""
    if start * end >= 0:
        return ((start, end, angle),)
    part = angle * start / (start - end)
    return ((start, 0.0, part), (0.0, end, angle - part))


def _mean_slowness(first: float, last: float) -> float:
    """Mean of 1/ω over a piece on which ω goes linearly from ``first`` to ``last``, s/rad."""
    change = last / first - 1
    # The series where the logarithm of almost 1 loses its digits.
    return (1 - change / 2 + change**2 / 3 if abs(change) < 1e-6 else log(last / first) / change) / first


def _charge(motor: LevellerMotor, torque: tuple[float, float], angle: float, duration: float) -> float:
    """∫ I dt over a piece, A·s: from U = R I + k_t N ω where there is a resistance."""
    if motor.resistance > 0:
        return (
            motor.voltage * duration - motor.torque_constant * motor.gear_ratio * angle
        ) / motor.resistance
    return duration * (motor_current(motor, torque[0]) + motor_current(motor, torque[1])) / 2
