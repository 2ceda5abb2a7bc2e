"""What a reader of any result has to know; shown wherever results leave the program."""

from __future__ import annotations

__all__ = ["CAUTIONS", "HARDWARE_CAUTIONS", "HARDWARE_CAUTIONS_IN_SHORT"]

CAUTIONS: tuple[str, ...] = (
    "The results are for engineering judgement; they release no design and no vehicle.",
    "Loaded springs and torsion bars store energy that can kill: unload and secure them before any work.",
    "Verify on a rig and on the road before anyone relies on a change.",
    "Local regulations and licensed practice decide what may be built and driven.",
)

#: What a reader of stresses and lives of springs and bars has to know.
HARDWARE_CAUTIONS: tuple[str, ...] = (
    "A wound bar and a compressed spring hold energy that can kill: unload and secure them before any work.",
    "A pre-set bar may be loaded in its pre-set sense of turn only: mark left and right, never exchange "
    "them.",
    "Stresses are those of the smooth part: a notch, a scratch or a stamped mark can start a crack.",
    "Corrosion lowers the fatigue strength by more than any allowance made here: protect the surface.",
    "Limits are those of the material as entered: confirm them with its maker, and verify each part on "
    "a rig.",
)

#: The same where there is little room.
HARDWARE_CAUTIONS_IN_SHORT = (
    "Stored energy can kill: unload first. Keep the pre-set sense of turn. Notches and corrosion cost "
    "strength. Confirm limits, verify on a rig."
)
