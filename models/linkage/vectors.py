"""Vectors in space as arrays whose first axis is x, y, z: shapes (3, ...) that broadcast."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

__all__ = ["Array", "across", "cross", "dot", "turned"]

Array = NDArray[np.float64]


def dot(a: Array, b: Array) -> Array:
    """(...) scalar product."""
    product: Array = a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
    return product


def cross(a: Array, b: Array) -> Array:
    """(3, ...) vector product."""
    return np.stack(
        [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]],
    )


def across(arm: Array, axis: Array) -> Array:
    """(3, ...) part of ``arm`` at right angles to an axis of length 1."""
    return arm - axis * dot(arm, axis)


def turned(arm: Array, axis: Array, cosine: Array, sine: Array) -> Array:
    """(3, ...) ``arm`` turned about an axis of length 1 (Rodrigues)."""
    radial = across(arm, axis)
    return arm - radial + cosine * radial + sine * cross(axis, arm)
