"""The controller of the levelling: a low-pass, a dead band, a delay, and a motor of one speed.

The height it acts on is that of the trimmed axle over design trim (minus the mean wheel travel), up
positive, behind a first-order low-pass.  It looks at that height at equal times:

- Standing: the motor starts when the height has been outside the dead band, on the same side, for the
  whole delay.  A look inside the band or on the other side starts the delay anew.
- Running: the motor stops when the height is nearer to design trim than half the dead band, or past it,
  or when the wind-up meets its limit; the delay then has to elapse afresh.  Towards a limit that is
  reached it does not start.

Stopping short of design trim allows for the lag of the low-pass, on whose account the height is ahead of
what the controller sees by (lifting speed · filter time).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.vehicle import Levelling

__all__ = ["LOOK", "STOP_SHARE", "ControlState", "at_rest", "looked", "looks_of", "low_passed"]

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

#: Time between two looks of the controller, s.
LOOK = 0.05
#: Share of the dead band inside which the motor stops.
STOP_SHARE = 0.5

# Of the limit: the sum of many small turns is not the limit to the bit.
_AT_LIMIT = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class ControlState:
    """Controllers side by side, (lanes,) each.

    Attributes:
        motor: 1 winding up, -1 winding down, 0 standing.
        side: motion that the last height asked for: 1 up, -1 down, 0 none.
        held: looks since the first of those in a row that asked for the same.
        wind_up: rad.
        actuations: starts of the motor.
    """

    motor: Whole
    side: Whole
    held: Whole
    wind_up: Array
    actuations: Whole


def at_rest(lanes: int = 1) -> ControlState:
    """Controllers of a car at design trim."""
    none = np.zeros(lanes, dtype=np.int64)
    return ControlState(none, none, none, np.zeros(lanes), none)


def looks_of(delay: ArrayLike) -> Whole:
    """Looks in a row, after the first, that make up a delay in s."""
    return np.asarray(np.ceil(np.asarray(delay, dtype=float) / LOOK - 1e-9), dtype=np.int64)


def looked(state: ControlState, height: Array, data: Levelling, delay_looks: Whole) -> ControlState:
    """State after one look at ``height``, which the motor has turned for the time since the last one.

    Args:
        state: at the last look.
        height: (lanes,) filtered height of the axle over design trim, m.
        data: speed, limit and dead band; its delay is not used.
        delay_looks: (lanes,) or scalar, the delay (:func:`looks_of`).
    """
    wind_up = np.clip(state.wind_up + state.motor * (data.speed * LOOK), -data.limit, data.limit)
    side = (height < -data.dead_band).astype(np.int64) - (height > data.dead_band)
    running = state.motor != 0
    same = (side != 0) & (side == state.side) & ~running
    held = np.where(same, state.held + 1, 0)
    end = data.limit * (1 - _AT_LIMIT)
    ends = running & ((state.motor * height >= -STOP_SHARE * data.dead_band) | (state.motor * wind_up >= end))
    starts = ~running & (side != 0) & (held >= delay_looks) & (side * wind_up < end)
    return ControlState(
        motor=np.where(starts, side, np.where(ends, 0, state.motor)),
        side=np.where(running, 0, side),
        held=held,
        wind_up=wind_up,
        actuations=state.actuations + starts,
    )


def low_passed(height: Array, first: float, time: float, step: float) -> Array:
    """(N,) first-order low-pass of a signal that is straight between its samples; exact for such a one.

    Args:
        height: (N,) at equal steps.
        first: value of the low-pass at the first sample.
        time: time constant, s; 0 lets the signal through.
        step: s.
    """
    if time == 0:
        return height.copy()
    from scipy.signal import lfilter  # a third of a second to import: only when a car levels

    ratio = step / time
    decay = exp(-ratio)
    # (1 - e^-r)/r without the loss of digits at small r.
    mean = float(-np.expm1(-ratio)) / ratio
    now, before = 1.0 - mean, mean - decay
    result = np.empty_like(height)
    result[0] = first
    result[1:] = lfilter([now, before], [1.0, -decay], height[1:], zi=[before * height[0] + decay * first])[0]
    return result
