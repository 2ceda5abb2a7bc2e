"""What a reader of any result has to know; shown wherever results leave the program."""

from __future__ import annotations

__all__ = ["CAUTIONS"]

CAUTIONS: tuple[str, ...] = (
    "The results are for engineering judgement; they release no design and no vehicle.",
    "Loaded springs and torsion bars store energy that can kill: unload and secure them before any work.",
    "Verify on a rig and on the road before anyone relies on a change.",
    "Local regulations and licensed practice decide what may be built and driven.",
)
