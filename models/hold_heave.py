"""An interconnection made stiffer or softer while the corner springs keep the heave rate of each axle."""

from __future__ import annotations

from models.fields import replaced
from models.levers import lever
from models.vehicle import ProgressiveSpring, Spring, TorsionCoupling, Vehicle

__all__ = ["with_heave_held"]


def with_heave_held(before: Vehicle, after: Vehicle) -> Vehicle:
    """``after`` with corner springs that take up what its torsion bars change in heave.

    A levelling bar of rate k with lever ratios β_f, β_r gives each front wheel k β_f (β_f + β_r) per heave of
    the body, and each rear wheel k β_r (β_f + β_r).  The springs of each axle change by as much the other
    way, so that heave and its coupling with pitch stay and only pitch itself changes.  A spring gives way
    down to nothing and then stays there; what the static torque does on angled levers is left as it falls;
    springs without a rate of their own (tables, gas) stay as they are.

    Args:
        before: the car whose heave rates are to be held.
        after: the same car with other bar rates.
    """
    rates = [0.0, 0.0]
    for old, new in zip(before.sides, after.sides, strict=True):
        was, bar = old.coupling, new.coupling
        if isinstance(was, TorsionCoupling) and isinstance(bar, TorsionCoupling):
            sign = 1.0 if bar.sense == "levelling" else -1.0
            front = lever(0, bar.front_lever_ratio, 0.0, bar.front_linkage).ratio
            rear = lever(2, bar.rear_lever_ratio, 0.0, bar.rear_linkage, sign).ratio
            for axle, ratio in enumerate((front, rear)):
                # Of both wheels of the axle, which share the change.
                rates[axle] += (bar.bar_rate - was.bar_rate) * ratio * (front + rear) / 2
    held = after
    for name, change in zip(("front", "rear"), rates, strict=True):
        spring = getattr(before, name).spring
        if isinstance(spring, (Spring, ProgressiveSpring)):
            rate = max(spring.rate - change / spring.motion_ratio**2, 0.0)
            held = replaced(held, (name, "spring", "rate"), rate)
    return held
