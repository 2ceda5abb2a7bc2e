"""What is read of a result is read once: charts, tables and words ask for the same."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar
from weakref import WeakKeyDictionary

from models.studies.result import StudyResult

__all__ = ["read_once"]

T = TypeVar("T")


def read_once(read: Callable[[StudyResult], T]) -> Callable[[StudyResult], T]:
    """Keep what ``read`` gives as long as its result is there; results never change."""
    known: WeakKeyDictionary[StudyResult, T] = WeakKeyDictionary()

    @wraps(read)
    def once(result: StudyResult) -> T:
        found = known.get(result)
        if found is None:
            found = known[result] = read(result)
        return found

    return once
