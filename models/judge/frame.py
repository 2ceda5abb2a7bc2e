"""Key figures of the frame: how it is twisted and bent at its section."""

from __future__ import annotations

import numpy as np

from models.analysis import Analysis
from models.frame import LOADS
from models.judge.figure import Figure
from models.ride.frame import static_frame_loads

__all__ = ["frame_figures"]

_WORDS = {
    "torsion": "moment about the x axis at the frame's section, forces of the elements less inertia",
    "bending": "moment about the y axis at the frame's section, forces of the elements less inertia",
}


def frame_figures(analysis: Analysis) -> tuple[Figure, ...]:
    """RMS on the random road and peak in the event, as changes from rest, and bending at rest."""
    found = []
    for load in ("torsion", "bending"):
        if load not in analysis.model.section.known:
            continue
        channel = f"frame_{load}"
        found += [
            Figure(
                f"rms_frame_{load}",
                f"RMS frame {load}",
                analysis.ride.channel_rms(channel),
                "torque",
                f"Random road: root mean square of the {_WORDS[load]}.",
                "lower",
            ),
            Figure(
                f"peak_frame_{load}",
                f"Peak frame {load}",
                float(np.abs(analysis.time.channel(channel)).max()),
                "torque",
                f"Road event: largest change of the {_WORDS[load]}.",
                "lower",
            ),
        ]
        if load == "bending":
            found.append(
                Figure(
                    "static_frame_bending",
                    "Static frame bending",
                    float(static_frame_loads(analysis.car, analysis.stand)[LOADS.index(load)]),
                    "torque",
                    "At rest in the load case: bending moment at the frame's section; sagging positive.",
                )
            )
    return tuple(found)
