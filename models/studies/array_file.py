"""Reads the arrays of an ``.npz`` file that anybody may have made, and refuses it before it takes memory.

numpy's own reader takes the head of an array for an expression of Python; here it is matched as a text.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping
from math import prod
from typing import IO, Any

import numpy as np
from numpy.typing import DTypeLike, NDArray

__all__ = ["read_arrays"]

_MAGIC = b"\x93NUMPY\x01\x00"
_HEAD = re.compile(
    r"\{'descr': '([<|][a-z]\d)', 'fortran_order': (False|True), 'shape': \(((?:\d{1,12},? ?){0,9})\), \} *\n"
)


def read_arrays(data: bytes, kinds: Mapping[str, DTypeLike], most_bytes: int) -> dict[str, NDArray[Any]]:
    """Arrays of those names and kinds of number.

    What an array says of its size is compared with what the file says it unpacks to, and that with
    ``most_bytes``, before anything is unpacked: so a small file cannot fill the memory.

    Raises:
        ValueError: an array is of another kind or size, or all of them are larger than allowed.
        KeyError: an array is missing.
        zipfile.BadZipFile, OSError, EOFError: the file is damaged.
    """
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        items = {name: archive.getinfo(f"{name}.npy") for name in kinds}
        if sum(item.file_size for item in items.values()) > most_bytes:
            raise ValueError(f"it unpacks to more than the {most_bytes / 1e6:.0f} MB allowed")
        for name, item in items.items():
            with archive.open(item) as file:
                _shape(file, name, np.dtype(kinds[name]), item.file_size)
        arrays = {}
        for name, item in items.items():
            with archive.open(item) as file:
                arrays[name] = _array(file, name, np.dtype(kinds[name]), item.file_size)
    return arrays


def _array(file: IO[bytes], name: str, kind: np.dtype[Any], size: int) -> NDArray[Any]:
    shape, by_columns = _shape(file, name, kind, size)
    numbers = np.frombuffer(bytearray(file.read()), kind, prod(shape))
    return numbers.reshape(shape[::-1]).T if by_columns else numbers.reshape(shape)


def _shape(file: IO[bytes], name: str, kind: np.dtype[Any], size: int) -> tuple[tuple[int, ...], bool]:
    """Shape of an array and whether it stands column by column; refused where its data is not as long."""
    beginning = file.read(len(_MAGIC) + 2)
    length = int.from_bytes(beginning[-2:], "little")
    head = _HEAD.fullmatch(file.read(length).decode("latin-1"))
    if not beginning.startswith(_MAGIC) or head is None:
        raise ValueError(f"'{name}' is no array that this program wrote")
    if head[1] != kind.str:
        raise ValueError(f"'{name}' holds {head[1]}, not {kind.str}")
    shape = tuple(map(int, re.findall(r"\d+", head[3])))
    if prod(shape) * kind.itemsize != size - len(beginning) - length:
        raise ValueError(f"'{name}' is not as long as it says")
    return shape, head[2] == "True"
