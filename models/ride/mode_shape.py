"""What moves in each mode: shares of the energy, the node of the body, heights of all parts."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import inf

import numpy as np
from numpy.typing import NDArray

from models.assembly import RideModel
from models.ride.modes import Modes

__all__ = ["PARTS", "ModeShapes", "mode_shapes"]

Array = NDArray[np.float64]

#: Rows of :attr:`ModeShapes.shares`.
PARTS = ("heave", "roll", "pitch", "wheels", "occupant")

# Pitch below this part of the heave, over a metre, is rounding: the node is then nowhere.
_NO_PITCH = 1e-9


@dataclass(frozen=True, eq=False)
class ModeShapes:
    """Undamped shapes of n modes.

    Attributes:
        names: of the modes.
        shares: (5, n) of the kinetic energy in heave, roll and pitch of the body, in the wheels and in the
            occupant; columns sum to 1.  Heave and turns share a cross term where the load makes one.
        body: (3, n) heave (m), roll and pitch (rad) of the body.
        corners, wheels: (4, n) heights of body and wheels over FL, FR, RL, RR, m.
    """

    names: tuple[str, ...]
    shares: Array
    body: Array
    corners: Array
    wheels: Array

    @cached_property
    def nodes(self) -> tuple[float, ...]:
        """Point x = z/θ of each mode at which the middle of the body stands still, m ahead of the CG.

        inf for a mode without pitch.
        """
        heave, pitch = self.body[0], self.body[2]
        return tuple(
            float(z / theta) if abs(theta) > _NO_PITCH * abs(z) else inf
            for z, theta in zip(heave.tolist(), pitch.tolist(), strict=True)
        )

    def across(self, mode: int) -> bool:
        """Whether left and right move against each other more than together."""
        heights = np.vstack([self.corners[:, mode].reshape(2, 2), self.wheels[:, mode].reshape(2, 2)])
        together, against = heights.sum(axis=1), heights[:, 0] - heights[:, 1]
        return bool(against @ against > together @ together)


def mode_shapes(model: RideModel, modes: Modes) -> ModeShapes:
    """Shapes of the modes of a model."""
    shapes = modes.shapes
    body, wheels, occupant = model.body @ shapes, model.wheels @ shapes, model.occupant @ shapes
    shares = np.zeros((len(PARTS), len(modes.names)))
    shares[:3] = body * (model.body_mass @ body)
    shares[3] = (wheels * (model.wheel_mass @ wheels)).sum(axis=0)
    shares[4] = model.occupant_mass * (occupant**2).sum(axis=0)
    # The shapes have ΦᵀMΦ = 1, so the shares sum to 1 by themselves.
    return ModeShapes(modes.names, shares, body, model.corner_map @ body, wheels)
