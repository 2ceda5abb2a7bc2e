"""How numeric loops are compiled; importing this module loads the compiler."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numba

__all__ = ["compiled", "inlined"]

F = TypeVar("F", bound=Callable[..., Any])

# Without the flags that let the compiler forget that a number may be infinite or none.
_MATH = {"reassoc", "contract", "arcp", "nsz"}


def compiled(function: F) -> F:
    """Compile at the first call, keep the code on disk, let other threads run meanwhile.

    Where no folder can be written, neither beside the source nor in the user's cache, each start compiles.
    """
    try:
        return _compiled(function, keep=True)
    except RuntimeError:  # numba found no place for the code
        return _compiled(function, keep=False)


def _compiled(function: F, *, keep: bool) -> F:
    return cast(F, numba.njit(nogil=True, cache=keep, fastmath=_MATH, error_model="numpy")(function))


def inlined(function: F) -> F:
    """Compile into each caller."""
    return cast(F, numba.njit(inline="always", fastmath=_MATH)(function))
