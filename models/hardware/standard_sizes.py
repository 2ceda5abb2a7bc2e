"""Diameters in which bars and wire are sold, m.

Round bars: EN 10060 hot-rolled sizes (from memory).  Preferred numbers: ISO 3, series R40 (from memory; each
is 10^(n/40) within the rounding the standard states).  Wire: nominal diameters of EN 10270-1 from 5 mm on, as
printed by a maker of springs (mollificiomodenese.it, EN 10270-1 SM).
"""

from __future__ import annotations

__all__ = ["HOLLOW_RATIOS", "PREFERRED", "ROUND_BARS", "WIRES"]


def _mm(text: str) -> tuple[float, ...]:
    # As a typed "13 mm" is read, so that files show it in mm again.
    return tuple(float(number) * 1e-3 for number in text.split())


#: EN 10060 round bars, 10 to 60 mm.
ROUND_BARS: tuple[float, ...] = _mm(
    "10 12 13 14 15 16 17 18 19 20 21 22 23 24 25 26 27 28 30 32 33 34 35 36 37 38 40 42 44 45 48 50 52 "
    "55 56 60"
)

#: ISO 3 R40, 10 to 60 mm.
PREFERRED: tuple[float, ...] = _mm(
    "10 10.6 11.2 11.8 12.5 13.2 14 15 16 17 18 19 20 21.2 22.4 23.6 25 26.5 28 30 31.5 33.5 35.5 37.5 "
    "40 42.5 45 "
    "47.5 50 53 56 60"
)

#: EN 10270-1 wire, 5 to 20 mm.
WIRES: tuple[float, ...] = _mm("5 5.5 6 6.5 7 7.5 8 8.5 9 9.5 10 10.5 11 12 12.5 13 14 15 16 17 18 19 20")

#: Bore per diameter of the bars that are tried; 0 is solid.
HOLLOW_RATIOS: tuple[float, ...] = (0.0, 0.4, 0.5, 0.6, 0.7)
