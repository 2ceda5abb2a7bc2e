"""What the corners touch over a run: stops, and the road or not."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from models.analysis import Analysis
from models.assembly import CORNERS

__all__ = ["Contact", "contact_at", "contacts"]

Contact = Literal["", "off the road", "bump stop", "rebound stop"]

_Codes = NDArray[np.int8]
_WORDS: tuple[Contact, ...] = ("", "off the road", "bump stop", "rebound stop")
#: A stop that pushes less than this, N, is not touched: without a gap rounding would decide at rest.
_LEAST_FORCE = 1.0
_CORNERS = {
    f"{end} {side}": f"{end[0]}{side[0]}".upper() for end in ("front", "rear") for side in ("left", "right")
}


@dataclass(frozen=True, eq=False)
class _Contacts:
    """(4, N) rows of :data:`_WORDS`, by corner; any is whether there is one at all."""

    codes: _Codes
    any: bool


@lru_cache(maxsize=4)  # both cars, before and after an edit
def contacts(analysis: Analysis) -> _Contacts:
    """Contacts of a run; of a linear one only where a tyre's load is used up."""
    codes = np.zeros((4, len(analysis.time.t)), dtype=np.int8)
    if analysis.nonlinear is not None:
        response = analysis.nonlinear.response
        touched = response.stop_contact
        for row in np.flatnonzero(touched.any(axis=1)):
            name = response.model.elements[row].name
            corner = next((key for place, key in _CORNERS.items() if name.startswith(place)), None)
            what = next((word for word in _WORDS[2:] if name.endswith(word)), None)
            if corner and what:
                felt = touched[row] & (np.abs(response.element_force[row]) > _LEAST_FORCE)
                codes[CORNERS.index(corner), felt] = _WORDS.index(what)
    on_road = np.asarray(analysis.model.road != 0).any(axis=1)  # a quarter car has one wheel
    lifted = (analysis.tyre_load <= 0) & np.reshape(on_road, (4, 1))
    codes[lifted] = _WORDS.index("off the road")
    return _Contacts(codes, bool(codes.any()))


def contact_at(analysis: Analysis, corner: str, sample: int) -> Contact:
    """What a corner touches at a sample of the time response; a lifted wheel counts before a stop."""
    found = contacts(analysis)
    return _WORDS[found.codes[CORNERS.index(corner), sample]] if found.any else ""
