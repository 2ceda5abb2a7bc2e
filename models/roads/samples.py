"""The height of a track as a text of numbers in mm: readable in the file, quick to hash and to compare."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import Annotated

import numpy as np
from numpy.typing import NDArray
from pydantic import AfterValidator, Field
from pydantic_core import PydanticCustomError

__all__ = ["MOST_POINTS", "Samples", "heights_of", "samples_of"]

Array = NDArray[np.float64]

#: Points of one track; with a step of 50 mm they are one kilometre.
MOST_POINTS = 20_000
#: Heights that a road may have about its first point or its line, mm.
_HIGHEST = 100_000.0
_MOST_LETTERS = 16 * MOST_POINTS


def samples_of(heights: Iterable[float]) -> str:
    """Text of heights (m) in mm, to the nearest µm."""
    return " ".join(map(_word, (1e3 * np.asarray(heights, dtype=np.float64)).tolist()))


@lru_cache(maxsize=16)
def heights_of(samples: str) -> Array:
    """(N,) heights of a text, m; not to be written to."""
    heights = np.array(list(map(float, samples.split())), dtype=np.float64) / 1e3
    heights.setflags(write=False)
    return heights


def _word(height: float) -> str:
    word = f"{height:.3f}".rstrip("0").rstrip(".")
    return "0" if word == "-0" else word


@lru_cache(maxsize=16)
def _checked(text: str) -> str:
    """The same numbers in the one way in which they are written."""
    words = text.split()
    if not 2 <= len(words) <= MOST_POINTS:
        raise PydanticCustomError(
            "rule",
            "{count} heights are outside the allowed range (2 to {limit} points)",
            {"count": len(words), "limit": MOST_POINTS},
        )
    return " ".join([_word(_number(word, place)) for place, word in enumerate(words, 1)])


def _number(word: str, place: int) -> float:
    try:
        height = float(word)
    except ValueError:
        height = float("nan")
    if not abs(height) <= _HIGHEST:
        raise PydanticCustomError(
            "rule",
            "height {place}, '{word}', is no number of the allowed range (-{limit} to {limit} mm)",
            {"place": place, "word": word[:20], "limit": f"{_HIGHEST:g}"},
        )
    return height


#: Heights of one track, mm, with blanks between them.
Samples = Annotated[str, Field(max_length=_MOST_LETTERS), AfterValidator(_checked)]
