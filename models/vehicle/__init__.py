"""What the user describes: the car as frozen, validated data."""

from models.vehicle.axle import Axle, IndependentWheels, SolidAxle, Stabiliser, Tyre
from models.vehicle.body import Body, Occupant, Seat
from models.vehicle.damper import CornerDamper, Damper, DamperPoint, DigressiveDamper, TabulatedDamper
from models.vehicle.geometry import AxleGeometry, Frame, LongitudinalForces
from models.vehicle.inertia import (
    InertiaFromDynamicIndex,
    InertiaFromGyration,
    MeasuredInertia,
    is_estimated,
    moment_of_inertia,
)
from models.vehicle.levelling import Levelling
from models.vehicle.load_case import AS_DESIGNED, Load, LoadCase
from models.vehicle.packaging import ClearancePoint, Packaging
from models.vehicle.side import DiagonalCoupling, FluidCoupling, Side, TorsionCoupling, TrimSpring
from models.vehicle.spring import (
    CornerSpring,
    GasSpring,
    ProgressiveSpring,
    Spring,
    SpringPoint,
    TabulatedSpring,
)
from models.vehicle.stop import Friction, Stop
from models.vehicle.vehicle import Vehicle

__all__ = [
    "AS_DESIGNED",
    "Axle",
    "AxleGeometry",
    "Body",
    "ClearancePoint",
    "CornerDamper",
    "CornerSpring",
    "Damper",
    "DamperPoint",
    "DiagonalCoupling",
    "DigressiveDamper",
    "FluidCoupling",
    "Frame",
    "Friction",
    "GasSpring",
    "IndependentWheels",
    "InertiaFromDynamicIndex",
    "InertiaFromGyration",
    "Levelling",
    "Load",
    "LoadCase",
    "LongitudinalForces",
    "MeasuredInertia",
    "Occupant",
    "Packaging",
    "ProgressiveSpring",
    "Seat",
    "Side",
    "SolidAxle",
    "Spring",
    "SpringPoint",
    "Stabiliser",
    "Stop",
    "TabulatedDamper",
    "TabulatedSpring",
    "TorsionCoupling",
    "TrimSpring",
    "Tyre",
    "Vehicle",
    "is_estimated",
    "moment_of_inertia",
]
