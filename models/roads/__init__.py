"""Roads: single events, random surfaces, and the heights they put under the wheels."""

from models.roads.events import Event, HalfSine, OneMinusCosine, Ramp, RandomRoad, Step, Washboard
from models.roads.profile import road_heights, wheel_heights
from models.roads.surface import ROAD_CLASSES, RoughSurface, coherence, displacement_psd, road_class

__all__ = [
    "ROAD_CLASSES",
    "Event",
    "HalfSine",
    "OneMinusCosine",
    "Ramp",
    "RandomRoad",
    "RoughSurface",
    "Step",
    "Washboard",
    "coherence",
    "displacement_psd",
    "road_class",
    "road_heights",
    "wheel_heights",
]
