"""Polygons of many points, without an object for each."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PySide6.QtGui import QPolygonF
from shiboken6 import Shiboken, VoidPtr

__all__ = ["polygon"]

Array = NDArray[np.float64]


def polygon(x: Array, y: Array) -> QPolygonF:
    """Polygon of (n,) x and y, written into the memory of its points: not as one object each."""
    made = QPolygonF()
    made.resize(len(x))
    if len(x):
        (address,) = Shiboken.getCppPointer(made.data())
        memory = VoidPtr(address, 16 * len(x), True)  # type: ignore[call-arg]
        points = np.frombuffer(memory, dtype=np.float64).reshape(-1, 2)  # type: ignore[call-overload]
        points[:, 0], points[:, 1] = x, y
    return made
