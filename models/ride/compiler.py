"""How numeric loops are compiled; importing this module loads the compiler."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numba

__all__ = ["compiled", "inlined", "merged"]

F = TypeVar("F", bound=Callable[..., Any])

# Without the flags that let the compiler forget that a number may be infinite or none.
_MATH = {"reassoc", "contract", "arcp", "nsz"}


def compiled(function: F) -> F:
    """Compile at the first call, keep the code on disk, let other threads run meanwhile.

    Where no folder can be written, neither beside the source nor in the user's cache, each start compiles.
    """
    return _compiled(function, merge=False)


def merged(function: F) -> F:
    """Compile, and in callers never call but build in.

    Code that was just compiled calls the function as compiled for itself, code from the disk calls its own
    copy, which was optimised with the caller and may round otherwise.  So what is to give the same bits in
    either must not call.
    """
    return _compiled(function, merge=True)


def _compiled(function: F, *, merge: bool) -> F:
    try:
        return _jitted(function, merge=merge, keep=True)
    except RuntimeError:  # numba found no place for the code
        return _jitted(function, merge=merge, keep=False)


def _jitted(function: F, *, merge: bool, keep: bool) -> F:
    decorate = numba.njit(nogil=True, cache=keep, forceinline=merge, fastmath=_MATH, error_model="numpy")
    return cast(F, decorate(function))


def inlined(function: F) -> F:
    """Compile into each caller."""
    return cast(F, numba.njit(inline="always", fastmath=_MATH)(function))
