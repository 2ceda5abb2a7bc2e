"""The whole car."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import model_validator
from pydantic_core import PydanticCustomError

from models.fields import Label, Part, Quantity
from models.vehicle.axle import Axle, SolidAxle
from models.vehicle.body import Body, Seat
from models.vehicle.geometry import Frame, LongitudinalForces
from models.vehicle.levelling import Levelling
from models.vehicle.packaging import Packaging
from models.vehicle.side import DiagonalCoupling, Side

__all__ = ["Vehicle"]


class Vehicle(Part):
    """A car as the user describes it; corners are ordered FL, FR, RL, RR."""

    wheelbase: Annotated[
        float,
        Quantity(
            "length",
            "Wheelbase",
            "Distance between front and rear axle.",
            low=0.2,
            high=15.0,
            typical=(1.8, 3.6),
        ),
    ] = 2.9
    body: Annotated[Body, Label("Body", "The sprung mass.")] = Body()
    front: Annotated[Axle, Label("Front axle", "Wheels, springs, dampers and tyres in front.")] = Axle()
    rear: Annotated[Axle, Label("Rear axle", "Wheels, springs, dampers and tyres at the rear.")] = Axle()
    left: Annotated[Side, Label("Front to rear, each side", "What joins the wheels of a side.")] = Side()
    right: Annotated[
        Side | None,
        Label("Right side differs", "Values of the right side where it is not like the left."),
    ] = None
    diagonal: Annotated[
        DiagonalCoupling, Label("Diagonal coupling", "Coupling of all four wheels that acts in warp.")
    ] = DiagonalCoupling()
    levelling: Annotated[
        Levelling, Label("Levelling", "Motor that winds the trim springs until the car is level.")
    ] = Levelling()
    forces: Annotated[
        LongitudinalForces, Label("Brakes and drive", "Shares of the axles in brake and drive force.")
    ] = LongitudinalForces()
    frame: Annotated[Frame, Label("Frame", "Where the suspension meets the frame.")] = Frame()
    packaging: Annotated[
        Packaging, Label("Packaging", "Ground clearance, and how far levers and links may turn.")
    ] = Packaging()
    seat: Annotated[Seat, Label("Driver's seat", "Where the ride is felt.")] = Seat()

    @property
    def sides(self) -> tuple[Side, Side]:
        """Left and right side."""
        return self.left, self.right or self.left

    @model_validator(mode="after")
    def _rules_between_fields(self) -> Self:
        a = self.body.cg_to_front_axle
        if not a < self.wheelbase:
            raise PydanticCustomError(
                "rule",
                "CG to front axle: {a} m is outside the allowed range "
                "(less than the wheelbase, {wheelbase} m)",
                {"a": f"{a:.6g}", "wheelbase": f"{self.wheelbase:.6g}"},
            )
        for name, axle in (("Front", self.front), ("Rear", self.rear)):
            if isinstance(axle.wheels, SolidAxle) and axle.wheels.spring_spacing > axle.track:
                raise PydanticCustomError(
                    "rule",
                    "{name} spring spacing: {spacing} m is outside the allowed range "
                    "(0.05 m to the track, {track} m)",
                    {
                        "name": name,
                        "spacing": f"{axle.wheels.spring_spacing:.6g}",
                        "track": f"{axle.track:.6g}",
                    },
                )
        return self
