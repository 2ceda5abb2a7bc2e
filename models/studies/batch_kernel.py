"""Compiled ride of many cars on the random road: from their matrices straight to mean squares.

One car after the other, the innermost loops over all frequencies, real and imaginary parts apart, as in
models.ride.response_kernel.  The dynamic stiffness is symmetric, so half of it is eliminated; what comes out
is squared, weighted and added up before the next car, so that nothing but its mean squares is kept.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from models.ride.compiler import compiled, merged

__all__ = ["mean_squares"]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Places = NDArray[np.intp]


@compiled
def mean_squares(
    mass: Array,
    damping: Array,
    stiffness: Array,
    pushed: Array,
    omega: Array,
    starts: Places,
    columns: Places,
    rated: Flags,
    entries: Array,
    road_of: Places,
    roads: Array,
    filters: Array,
    wanted: Places,
    squares: Array,
    pivots: Array,
) -> None:
    """Mean squares of channels behind filters, for each car.

    Args:
        mass, damping, stiffness: (N, n, n), symmetric.
        pushed: (N, 2, n, J) forces per road height and per its rate, of J movements of the road: front and
            rear wheels of the mean of the tracks, then of half their difference where the model feels it.
        omega: (F,) rad/s.
        starts: (C + 1,) where the entries of each channel begin, and their end.
        columns: (e,) column of each entry: 0 to n-1 of q, n + j of the movement j of the road.
        rated: (e,) whether an entry is on the rate in any car.
        entries: (N, e, 3) on the quantity, its rate and its acceleration.
        road_of: (N,) number of each car's road.
        roads: (R, 3, J/2, F) spectra times weights of integration: steady, then real and imaginary part of
            the waving ones (:func:`models.ride.random_road.lag_weights`).
        filters: (filters, F) |W|².
        wanted: (P, 2) channel and filter, in order of the channels.
        squares: (N, P), receives the mean squares.
        pivots: (N,), receives the smallest pivot relative to the largest entry of its row before
            elimination: near zero, the rows should have been exchanged and the result is not to be trusted.
    """
    n, movements, points = mass.shape[1], pushed.shape[3], omega.size
    a = np.empty((n, n + movements, points))
    b = np.empty((n, n + movements, points))
    y, z = np.empty((movements, points)), np.empty((movements, points))
    square = np.empty(points)
    for car in range(mass.shape[0]):
        smallest = _solved(mass[car], damping[car], stiffness[car], pushed[car], omega, a, b)
        pivots[car] = np.sqrt(smallest)
        squares[car] = 0.0
        before = -1
        for pair in range(wanted.shape[0]):
            channel, behind = wanted[pair, 0], wanted[pair, 1]
            start, end = starts[channel], starts[channel + 1]
            if start == end:  # it is always 0
                continue
            if channel != before:
                _channel(start, end, columns, rated, entries[car], n, omega, a, b, y, z)
                _spectrum(y, z, roads[road_of[car]], square)
                before = channel
            for f in range(points):
                squares[car, pair] += filters[behind, f] * square[f]


@merged
def _solved(
    mass: Array, damping: Array, stiffness: Array, pushed: Array, omega: Array, a: Array, b: Array
) -> float:
    """Solve at all frequencies; the last columns of ``a`` + i ``b`` become the motions.

    Returns the square of the smallest pivot relative to its row.
    """
    n, movements, points = mass.shape[0], pushed.shape[2], omega.size
    largest = np.zeros((n, points))
    for i in range(n):
        for j in range(i, n):
            k, m, c = stiffness[i, j], mass[i, j], damping[i, j]
            for f in range(points):
                x, y = k - omega[f] * omega[f] * m, omega[f] * c
                a[i, j, f] = x
                b[i, j, f] = y
                size = x * x + y * y
                largest[i, f] = max(largest[i, f], size)
                largest[j, f] = max(largest[j, f], size)
        for j in range(movements):
            k, c = pushed[0, i, j], pushed[1, i, j]
            for f in range(points):
                a[i, n + j, f] = k
                b[i, n + j, f] = omega[f] * c
    return _eliminate(a, b, n, movements, points, largest)


@merged
def _eliminate(a: Array, b: Array, n: int, movements: int, points: int, largest: Array) -> float:
    """Solve in place from the upper half of a symmetric matrix and the columns beside it."""
    smallest = 1.0
    x, y = np.empty((n, points)), np.empty((n, points))  # the inverse pivots
    u, v = np.empty(points), np.empty(points)
    for p in range(n):
        for f in range(points):
            square = a[p, p, f] * a[p, p, f] + b[p, p, f] * b[p, p, f]
            smallest = min(smallest, square / largest[p, f])
            x[p, f] = a[p, p, f] / square
            y[p, f] = -b[p, p, f] / square
        for i in range(p + 1, n):
            for f in range(points):
                u[f] = a[p, i, f] * x[p, f] - b[p, i, f] * y[p, f]
                v[f] = a[p, i, f] * y[p, f] + b[p, i, f] * x[p, f]
            for j in range(i, n + movements):
                for f in range(points):
                    a[i, j, f] -= u[f] * a[p, j, f] - v[f] * b[p, j, f]
                    b[i, j, f] -= u[f] * b[p, j, f] + v[f] * a[p, j, f]
    for j in range(n, n + movements):
        for p in range(n - 1, -1, -1):
            for i in range(p + 1, n):
                for f in range(points):
                    a[p, j, f] -= a[p, i, f] * a[i, j, f] - b[p, i, f] * b[i, j, f]
                    b[p, j, f] -= a[p, i, f] * b[i, j, f] + b[p, i, f] * a[i, j, f]
            for f in range(points):
                s, t = a[p, j, f], b[p, j, f]
                a[p, j, f] = s * x[p, f] - t * y[p, f]
                b[p, j, f] = s * y[p, f] + t * x[p, f]
    return smallest


@merged
def _channel(
    start: int,
    end: int,
    columns: Places,
    rated: Flags,
    entries: Array,
    n: int,
    omega: Array,
    a: Array,
    b: Array,
    y: Array,
    z: Array,
) -> None:
    """Real and imaginary gain of one channel to each movement of the road."""
    points = omega.size
    factor, rate = np.empty(points), np.empty(points)
    y[:] = 0.0
    z[:] = 0.0
    for e in range(start, end):
        column = columns[e]
        for f in range(points):
            factor[f] = entries[e, 0] - omega[f] * omega[f] * entries[e, 2]
            rate[f] = omega[f] * entries[e, 1]
        if column >= n:
            for f in range(points):
                y[column - n, f] += factor[f]
                z[column - n, f] += rate[f]
            continue
        for j in range(n, n + y.shape[0]):
            for f in range(points):
                y[j - n, f] += factor[f] * a[column, j, f]
                z[j - n, f] += factor[f] * b[column, j, f]
            if rated[e]:
                for f in range(points):
                    y[j - n, f] -= rate[f] * b[column, j, f]
                    z[j - n, f] += rate[f] * a[column, j, f]


@merged
def _spectrum(y: Array, z: Array, roads: Array, square: Array) -> None:
    """Share of each frequency in the mean square of a channel; see models.ride.random_road."""
    points = square.size
    for f in range(points):
        square[f] = 0.0
    for part in range(y.shape[0] // 2):
        front, rear = 2 * part, 2 * part + 1
        for f in range(points):
            steady = y[front, f] ** 2 + z[front, f] ** 2 + y[rear, f] ** 2 + z[rear, f] ** 2
            real = 2 * (y[front, f] * y[rear, f] + z[front, f] * z[rear, f])
            imaginary = 2 * (y[front, f] * z[rear, f] - z[front, f] * y[rear, f])
            square[f] += roads[0, part, f] * steady + roads[1, part, f] * real - roads[2, part, f] * imaginary
