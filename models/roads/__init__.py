"""Roads: single events, random surfaces, and the heights they put under the wheels."""

from models.roads.events import (
    Event,
    HalfSine,
    MeasuredRoad,
    OneMinusCosine,
    Ramp,
    RandomRoad,
    SineSweep,
    Step,
    Washboard,
)
from models.roads.mix import RoadShare, mix_shares
from models.roads.profile import road_heights, wheel_heights
from models.roads.surface import ROAD_CLASSES, RoughSurface, coherence, displacement_psd, road_class

__all__ = [
    "ROAD_CLASSES",
    "Event",
    "HalfSine",
    "MeasuredRoad",
    "OneMinusCosine",
    "Ramp",
    "RandomRoad",
    "RoadShare",
    "RoughSurface",
    "SineSweep",
    "Step",
    "Washboard",
    "coherence",
    "displacement_psd",
    "mix_shares",
    "road_class",
    "road_heights",
    "wheel_heights",
]
