"""Round ticks of axes and their labels, the same on screen and on paper.

Places are in axis coordinates: units of display, or their decimal logarithm on a log axis.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

__all__ = ["Tick", "log_ticks", "round_ticks"]

_SUPERSCRIPT = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


# Part of a decade below which round steps say more than 2, 3, 4 ...
_LINEAR = 0.6


@dataclass(frozen=True, slots=True)
class Tick:
    """A line of the grid; a minor one is paler.  Without text it has no label."""

    place: float
    text: str = ""
    minor: bool = False


def round_ticks(low: float, high: float, count: int) -> list[Tick]:
    """At most ``count`` + 1 ticks at a step of 1, 2 or 5 times a power of ten; at least one from count 3."""
    span = high - low
    if not (math.isfinite(span) and span > 0):
        return []
    power = 10.0 ** math.floor(math.log10(span / count))
    step = next(nice * power for nice in (1, 2, 5, 10, 20) if nice * power * count >= span * (1 - 1e-9))
    digits = max(0, -math.floor(math.log10(step) + 1e-9))
    first, last = math.ceil(low / step - 1e-6), math.floor(high / step + 1e-6)
    return [
        Tick(number * step, f"{number * step:.{digits}f}".replace("-", "−"))
        for number in range(first, last + 1)
    ]


def log_ticks(low: float, high: float, count: int) -> list[Tick]:
    """Decades, thinned to about ``count``; where there is room the 2 to 9 between, 2 and 5 with text."""
    if not (math.isfinite(high - low) and 0 < high - low < 100):
        return []
    if high - low < _LINEAR:
        inside = round_ticks(10.0**low, 10.0**high, count)
        return [Tick(math.log10(tick.place), tick.text) for tick in inside if tick.place > 0]
    every = max(1, math.ceil((high - low) / count))
    decades = range(math.ceil(low - 1e-6), math.floor(high + 1e-6) + 1)
    ticks = [Tick(float(decade), _decade_text(decade, 1)) for decade in decades if decade % every == 0]
    if (high - low) * 1.8 > count:
        return ticks
    labelled = (2, 5) if (high - low) * 3 <= count + 1 else ()
    for decade in range(math.floor(low), math.ceil(high) + 1):
        for nice in range(2, 10):
            place = decade + math.log10(nice)
            if low - 1e-6 <= place <= high + 1e-6:
                ticks.append(Tick(place, _decade_text(decade, nice) if nice in labelled else "", minor=True))
    return ticks


def _decade_text(decade: int, lead: int) -> str:
    """0.01, 2, 500, and powers of ten further out."""
    if -3 <= decade < 5:
        return f"{lead * 10.0**decade:.{max(-decade, 0)}f}"
    return ("" if lead == 1 else f"{lead}·") + "10" + str(decade).translate(_SUPERSCRIPT)
