"""What the user describes: the car as frozen, validated data."""

from models.vehicle.axle import Axle, Damper, IndependentWheels, SolidAxle, Spring, Stabiliser, Tyre
from models.vehicle.body import Body, Seat
from models.vehicle.inertia import (
    InertiaFromDynamicIndex,
    InertiaFromGyration,
    MeasuredInertia,
    is_estimated,
    moment_of_inertia,
)
from models.vehicle.side import Side, TorsionCoupling, TrimSpring
from models.vehicle.vehicle import Vehicle

__all__ = [
    "Axle",
    "Body",
    "Damper",
    "IndependentWheels",
    "InertiaFromDynamicIndex",
    "InertiaFromGyration",
    "MeasuredInertia",
    "Seat",
    "Side",
    "SolidAxle",
    "Spring",
    "Stabiliser",
    "TorsionCoupling",
    "TrimSpring",
    "Tyre",
    "Vehicle",
    "is_estimated",
    "moment_of_inertia",
]
