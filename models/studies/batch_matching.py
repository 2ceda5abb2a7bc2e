"""Which damped roots belong to which undamped mode, for many cars: the best assignment, compiled."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from models.ride.compiler import compiled, merged

__all__ = ["assigned", "pair_roots"]

Array = NDArray[np.float64]
Places = NDArray[np.intp]


@compiled
def pair_roots(real: Array, imaginary: Array, share: Array, total: Array, product: Array) -> None:
    """Sum and product of the two roots of each mode; see :func:`models.ride.modes.damping_of_modes`.

    A conjugate pair goes to the mode that it moves most, all modes together; two real roots to each mode that
    is left.

    Args:
        real, imaginary: (N, 2n) roots.
        share: (N, n, 2n) how much of each mode a root moves.
        total, product: (N, n), receive sum and product.
    """
    n = share.shape[1]
    for car in range(share.shape[0]):
        swinging = np.flatnonzero(imaginary[car] > 0)
        cost = np.empty((swinging.size, n))
        for row in range(swinging.size):
            for mode in range(n):
                cost[row, mode] = -share[car, mode, swinging[row]]
        modes = assigned(cost)
        left = np.ones(n, dtype=np.bool_)
        for row in range(swinging.size):
            x, y = real[car, swinging[row]], imaginary[car, swinging[row]]
            total[car, modes[row]] = 2 * x
            product[car, modes[row]] = x * x + y * y
            left[modes[row]] = False
        creeping, places = np.flatnonzero(imaginary[car] == 0), np.flatnonzero(left)
        cost = np.empty((2 * places.size, creeping.size))
        for row in range(2 * places.size):
            for column in range(creeping.size):
                cost[row, column] = -share[car, places[row // 2], creeping[column]]
        found = assigned(cost)
        for row in range(places.size):
            x, y = real[car, creeping[found[2 * row]]], real[car, creeping[found[2 * row + 1]]]
            total[car, places[row]] = x + y
            product[car, places[row]] = x * y


@merged
def assigned(cost: Array) -> Places:
    """(rows,) columns of the assignment of least cost (rows, columns), rows at most as many as columns.

    Shortest augmenting paths with dual prices, one row after the other (the method of Kuhn and Munkres).
    """
    rows, columns = cost.shape
    row_price, column_price = np.zeros(rows + 1), np.zeros(columns + 1)
    owner = np.zeros(columns + 1, dtype=np.intp)  # row of each column, counted from 1; 0 for none
    before = np.zeros(columns + 1, dtype=np.intp)
    for row in range(1, rows + 1):
        owner[0] = row
        column = 0
        slack = np.full(columns + 1, np.inf)
        reached = np.zeros(columns + 1, dtype=np.bool_)
        while owner[column] != 0:
            reached[column] = True
            here, least, following = owner[column], np.inf, 0
            for j in range(1, columns + 1):
                if not reached[j]:
                    reduced = cost[here - 1, j - 1] - row_price[here] - column_price[j]
                    if reduced < slack[j]:
                        slack[j] = reduced
                        before[j] = column
                    if slack[j] < least:
                        least = slack[j]
                        following = j
            for j in range(columns + 1):
                if reached[j]:
                    row_price[owner[j]] += least
                    column_price[j] -= least
                else:
                    slack[j] -= least
            column = following
        while column != 0:
            owner[column] = owner[before[column]]
            column = before[column]
    found = np.zeros(rows, dtype=np.intp)
    for j in range(1, columns + 1):
        if owner[j] > 0:
            found[owner[j] - 1] = j - 1
    return found
