"""A project that has something in every one of its lists, as small as that may be."""

from __future__ import annotations

from models.fields import replaced
from models.hardware import BarSpring, CoilSpring, Hardware, InterconnectionBar, LevellerMotor, TrimBar
from models.linkage import DirectLever, TrailingArmBellCrank
from models.project import Project, Variant, new_project
from models.roads import MeasuredRoad, RoadShare
from models.study import Sensitivity
from models.target import Target
from models.vehicle import Load, LoadCase, SolidAxle, Vehicle
from tests.study_cases import FRONT, RATE, SEARCH

__all__ = ["full_project"]


def full_project() -> Project:
    """Of two variants, with loads, roads, targets, studies and parts in steel."""
    vehicle = replaced(Vehicle(), ("rear", "wheels"), SolidAxle())
    vehicle = replaced(vehicle, ("left", "coupling", "rear_linkage"), TrailingArmBellCrank())
    vehicle = replaced(vehicle, ("left", "trim", "linkage"), DirectLever())
    vehicle = replaced(vehicle, ("right",), vehicle.left)
    hardware = Hardware(
        front_spring=CoilSpring(),
        rear_spring=BarSpring(),
        interconnection=InterconnectionBar(),
        trim=TrimBar(motor=LevellerMotor()),
    )
    first = Variant(name="weich – größer", vehicle=vehicle, hardware=hardware)
    project = replaced(new_project(first), ("variants",), (first, Variant(name="steel")))
    fields = {
        "load_cases": (LoadCase(name="two up", loads=(Load(), Load(name="fuel", mass=-20.0))),),
        "load_case": "two up",
        "road_mix": (RoadShare(), RoadShare(name="track", event=MeasuredRoad(left="0 5 0", right="0 4 0"))),
        "targets": (Target(metric="pitch_share", kind="ratio", high=0.5, load_case="two up"),),
        "studies": (
            replaced(SEARCH, ("metrics",), ()),
            Sensitivity(name="Slopes", places=(FRONT, RATE.place[:5])),
        ),
    }
    for name, value in fields.items():
        project = replaced(project, (name,), value)
    return project
