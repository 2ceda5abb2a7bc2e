"""Reads the arrays of an ``.npz`` file that anybody may have made, and refuses it before it takes memory."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from math import prod
from typing import Any

import numpy as np
from numpy.typing import DTypeLike, NDArray

__all__ = ["read_arrays"]


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
                _check_header(file, name, np.dtype(kinds[name]), item.file_size)
        arrays = {}
        for name, item in items.items():
            with archive.open(item) as file:
                arrays[name] = np.lib.format.read_array(file, allow_pickle=False)
    return arrays


def _check_header(file: Any, name: str, kind: np.dtype[Any], size: int) -> None:
    """Refuse an array whose data is not as long as its shape and kind of number need."""
    if np.lib.format.read_magic(file) != (1, 0):
        raise ValueError(f"'{name}' is no array that this program wrote")
    shape, _, dtype = np.lib.format.read_array_header_1_0(file)
    if dtype != kind:
        raise ValueError(f"'{name}' holds {dtype}, not {kind}")
    if min(shape, default=0) < 0 or prod(shape) * kind.itemsize != size - file.tell():
        raise ValueError(f"'{name}' is not as long as it says")
