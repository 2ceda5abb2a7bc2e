"""From wheel travel to the turn of a bar: chains of rockers and links in space."""

from models.linkage.drawing import Drawn, DrawnBody, DrawnLink, drawn, moved_point, nearest_point, points
from models.linkage.parts import (
    LINKAGES,
    Arm,
    Axis,
    BarLever,
    Chain,
    DirectLever,
    Linkage,
    Point,
    Rocker,
    RockerPushrod,
    TrailingArmBellCrank,
    WishboneDropLink,
)
from models.linkage.travel import TravelTable, Turn, travel_table

__all__ = [
    "LINKAGES",
    "Arm",
    "Axis",
    "BarLever",
    "Chain",
    "DirectLever",
    "Drawn",
    "DrawnBody",
    "DrawnLink",
    "Linkage",
    "Point",
    "Rocker",
    "RockerPushrod",
    "TrailingArmBellCrank",
    "TravelTable",
    "Turn",
    "WishboneDropLink",
    "drawn",
    "moved_point",
    "nearest_point",
    "points",
    "travel_table",
]
