"""Modes in words and numbers for a reader."""

from __future__ import annotations

import math

from models.ride.mode_shape import PARTS, ModeShapes
from models.ride.modes import Modes
from models.units import KINDS, UnitChoice, format_value

__all__ = ["damped_text", "node_text", "number", "ratio_text", "shape_text"]

# Shares below this are not named; nodes farther away than this, m, are none.
_LEAST_SHARE, _FAR = 0.03, 200.0


def number(value: float) -> str:
    """Number of three digits with a true minus."""
    return format_value(value, "1", "1").replace("-", "−")


def ratio_text(modes: Modes, mode: int) -> str:
    """Damping ratio; nothing to compare with in a mode without stiffness."""
    ratio = float(modes.damping_ratio[mode])
    return "–" if math.isinf(ratio) or modes.frequency[mode] == 0 else number(ratio)


def damped_text(modes: Modes, mode: int) -> str:
    """Damped frequency, or in words why there is none."""
    if modes.frequency[mode] == 0:
        return "free"
    if modes.damped_frequency[mode] == 0 and modes.damping_ratio[mode] >= 1:
        return "overdamped"
    return number(float(modes.damped_frequency[mode]))


def shape_text(shapes: ModeShapes, mode: int, units: UnitChoice) -> str:
    """Shares of the energy, the largest first, and the node: "pitch 91 %, wheels 7 %; node 0.12 m ..."."""
    shares = sorted(zip(shapes.shares[:, mode].tolist(), PARTS, strict=True), reverse=True)
    named = ", ".join(f"{part} {share * 100:.0f} %" for share, part in shares if share >= _LEAST_SHARE)
    node = node_text(shapes, mode, units)
    return f"{named}; {node}" if node else named


def node_text(shapes: ModeShapes, mode: int, units: UnitChoice) -> str:
    """Where the body stands still; empty for a mode in which the body does not heave or pitch."""
    heave, roll, pitch = (float(share) for share in shapes.shares[:3, mode])
    if heave + pitch < max(roll, 0.5):
        return ""
    node = shapes.nodes[mode]
    if abs(node) > _FAR:
        return "no node: the body does not turn"
    unit = units["length"]
    text = format_value(abs(node), unit, KINDS["length"].si, 2)
    return f"node {text} {unit} {'ahead of' if node > 0 else 'behind'} the CG"
