"""Centre line of a bent bar: straight lines joined by arcs, cut into straight pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, pi
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.errors import InputError

__all__ = ["CentreLine", "centre_line", "mirrored", "split_at"]

Array = NDArray[np.float64]

# Turn within one piece of a bend.  A bend alone is 0.03 % stiffer by it than the true arc.
_TURN = pi / 72
_STRAIGHT = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class CentreLine:
    """A bar as n nodes and n - 1 straight pieces.

    Attributes:
        nodes: (n, 3) m.
        tangents: (n - 1, 2, 3) direction of the true line at both ends of a piece.
        place: (n,) distance along the true line, m.
    """

    nodes: Array
    tangents: Array
    place: Array


def centre_line(points: Array, radii: Sequence[float]) -> CentreLine:
    """Line through the corners ``points``, each rounded by its radius.

    Args:
        points: (m, 3) corners of the unbent lines, m; m at least 2.
        radii: (m,) of the bends, m; those of both ends count for nothing.

    Raises:
        InputError: two neighbours at one place, a line that turns back on itself, or lines too short for
            their bends.
    """
    steps = np.diff(points, axis=0)
    lengths = np.linalg.norm(steps, axis=1)
    for number, length in enumerate(lengths, 2):
        if length < _STRAIGHT:
            raise InputError.of(f"point {number}", "0 mm", "stands where the point before it stands")
    along = steps / lengths[:, None]
    turns = np.zeros(len(points))
    turns[1:-1] = np.arccos(np.clip((along[:-1] * along[1:]).sum(axis=1), -1.0, 1.0))
    if turns.max() > pi - 1e-3:
        raise InputError.of(f"point {turns.argmax() + 1}", "180 deg", "the line turns back on itself here")
    used = np.array(radii) * np.tan(turns / 2)
    for number, (length, needed) in enumerate(zip(lengths, used[:-1] + used[1:], strict=True), 1):
        if needed > length * (1 + 1e-9):
            raise InputError.of(
                f"points {number} and {number + 1}",
                f"{1e3 * length:.4g} mm",
                f"the line between them has to be {1e3 * needed:.4g} mm or longer for the bends at its ends",
            )
    return _joined(points, along, turns, used, radii)


def _joined(points: Array, along: Array, turns: Array, used: Array, radii: Sequence[float]) -> CentreLine:
    nodes, tangents, place = [points[0]], [], [0.0]
    for number, way in enumerate(along, 1):
        end = points[number] - used[number] * way
        pieces = [_Piece(end, way, way, float(np.linalg.norm(end - nodes[-1])))]
        if used[number] > 0:
            pieces += _arc(end, way, along[number], float(turns[number]), radii[number])
        for piece in pieces:
            if piece.length > _STRAIGHT:
                nodes.append(piece.end)
                tangents.append((piece.start_way, piece.end_way))
                place.append(place[-1] + piece.length)
    return CentreLine(np.array(nodes), np.array(tangents), np.array(place))


class _Piece(NamedTuple):
    """Piece of the line: where it ends, its directions at both ends, and its length."""

    end: Array
    start_way: Array
    end_way: Array
    length: float


def _arc(start: Array, way: Array, onward: Array, turn: float, radius: float) -> list[_Piece]:
    """Pieces of a bend from the direction ``way`` into ``onward``."""
    inward = (onward - np.cos(turn) * way) / np.sin(turn)
    angles = np.linspace(0.0, turn, ceil(turn / _TURN) + 1)[:, None]
    sine, cosine = np.sin(angles), np.cos(angles)
    ends, ways = start + radius * (sine * way + (1 - cosine) * inward), cosine * way + sine * inward
    length = radius * turn / (len(angles) - 1)
    return [_Piece(*piece, length) for piece in zip(ends[1:], ways[:-1], ways[1:], strict=True)]


def split_at(line: CentreLine, axis: int, value: float) -> tuple[CentreLine, int]:
    """The line with a node where it first comes to a coordinate, and the number of that node.

    Args:
        line: to be split.
        axis: 0 to 2 for x, y, z.
        value: m.

    Raises:
        ValueError: the line does not come there.
    """
    over = line.nodes[:, axis] - value
    for node, distance in enumerate(over):
        if abs(distance) < _STRAIGHT:
            return line, node
        if node and distance * over[node - 1] < 0:
            return _cut(line, node - 1, over[node - 1] / (over[node - 1] - distance)), node
    raise ValueError(f"the line does not come to {value}")


def _cut(line: CentreLine, piece: int, share: float) -> CentreLine:
    def between(a: Array, b: Array) -> Array:
        return np.asarray(a + share * (b - a))

    first, last = line.tangents[piece]
    middle = between(first, last)
    middle /= np.linalg.norm(middle)
    return CentreLine(
        np.insert(line.nodes, piece + 1, between(line.nodes[piece], line.nodes[piece + 1]), axis=0),
        np.concatenate(
            [line.tangents[:piece], [[first, middle], [middle, last]], line.tangents[piece + 1 :]]
        ),
        np.insert(line.place, piece + 1, between(line.place[piece], line.place[piece + 1])),
    )


def mirrored(line: CentreLine) -> CentreLine:
    """A left half that begins at the middle plane y = 0, with its right half before it.

    Places count from the middle, to the left above 0.
    """
    other = np.array([1.0, -1.0, 1.0])
    return CentreLine(
        np.concatenate([other * line.nodes[:0:-1], line.nodes]),
        np.concatenate([-other * line.tangents[::-1, ::-1], line.tangents]),
        np.concatenate([-line.place[:0:-1], line.place]),
    )
