"""What the links and the brakes do in manoeuvres, and where the suspension meets the frame."""

from __future__ import annotations

from typing import Annotated

from models.fields import Part, Quantity

__all__ = ["AxleGeometry", "Frame", "LongitudinalForces"]


class AxleGeometry(Part):
    """Roll centre and support angles of an axle, at design trim."""

    roll_centre_height: Annotated[
        float,
        Quantity(
            "length",
            "Roll centre height",
            "Height above the ground of the point through which the links take the lateral force.",
            low=-0.5,
            high=1.5,
            typical=(-0.05, 0.4),
        ),
    ] = 0.08
    brake_support: Annotated[
        float,
        Quantity(
            "share",
            "Support in braking",
            "Share of the axle's brake-induced load change that the links take instead of the springs: "
            "anti-dive in front, anti-lift at the rear.",
            low=-1.0,
            high=2.0,
            typical=(0.0, 0.8),
        ),
    ] = 0.25
    drive_support: Annotated[
        float,
        Quantity(
            "share",
            "Support in driving",
            "Share of the axle's drive-induced load change that the links take instead of the springs: "
            "anti-lift in front, anti-squat at the rear; counts only on a driven axle.",
            low=-1.0,
            high=2.0,
            typical=(0.0, 0.8),
        ),
    ] = 0.25


class LongitudinalForces(Part):
    """How brake and drive forces are shared between the axles."""

    front_brake_share: Annotated[
        float,
        Quantity(
            "share",
            "Front brake share",
            "Share of the brake force at the front axle.",
            low=0.0,
            high=1.0,
            typical=(0.4, 0.9),
        ),
    ] = 0.65
    front_drive_share: Annotated[
        float,
        Quantity(
            "share",
            "Front drive share",
            "Share of the drive force at the front axle: 1 front drive, 0 rear drive.",
            low=0.0,
            high=1.0,
            typical=(0.0, 1.0),
        ),
    ] = 0.0


def _spacing(label: str, meaning: str) -> Quantity:
    return Quantity("length", label, meaning, low=0.05, high=5.0, typical=(0.5, 1.6))


class Frame(Part):
    """Where the suspension meets the frame: lateral distances between the left and right points."""

    front_spring_spacing: Annotated[
        float,
        _spacing("Front spring seats", "Distance between the upper ends of the front springs and dampers."),
    ] = 1.1
    rear_spring_spacing: Annotated[
        float,
        _spacing("Rear spring seats", "Distance between the upper ends of the rear springs and dampers."),
    ] = 1.1
    bar_spacing: Annotated[
        float,
        _spacing("Bar pivots", "Distance between the lever pivots of the left and right longitudinal bars."),
    ] = 1.0
    front_stabiliser_spacing: Annotated[
        float,
        _spacing("Front stabiliser bushes", "Distance between the bushes of the front stabiliser bar."),
    ] = 0.9
    rear_stabiliser_spacing: Annotated[
        float,
        _spacing("Rear stabiliser bushes", "Distance between the bushes of the rear stabiliser bar."),
    ] = 0.9
    section: Annotated[
        float,
        Quantity(
            "length",
            "Section behind front axle",
            "Where the moments of the frame are read: distance behind the front axle.",
            low=0.0,
            high=15.0,
            typical=(0.5, 2.5),
        ),
    ] = 1.45
