"""Parts in steel: sizes to rate, stress and mass, and back.  Described beside the car, applied on request."""

from models.hardware.apply import PLACES, Change, Place, apply, apply_all, changes, mismatch
from models.hardware.clocking import Clocking, clocking, clocking_figures
from models.hardware.coil import CoilSpring, coil_figures
from models.hardware.gas_spring import GasStrut, gas_figures
from models.hardware.hardware import BarSpring, Hardware, InterconnectionBar, SpringPart, TrimBar
from models.hardware.leaf import LeafSpring, MultiLeafSpring, ParabolicLeafSpring, leaf_figures
from models.hardware.lever import LeverArm, lever_ratio
from models.hardware.materials import MATERIALS, Material
from models.hardware.motor import LevellerMotor, motor_figures
from models.hardware.sizing import BarWish, CoilWish, Size, Sizes, bar_sizes, coil_sizes
from models.hardware.stabiliser_bar import StabiliserBar
from models.hardware.stabiliser_beam import StabiliserBeam, stabiliser_beam
from models.hardware.stabiliser_figures import stabiliser_figures
from models.hardware.state import LoadState
from models.hardware.stress import SteelPart, allowed_stress, material_of, stress
from models.hardware.torsion_bar import TorsionBar, bar_figures

__all__ = [
    "MATERIALS",
    "PLACES",
    "BarSpring",
    "BarWish",
    "Change",
    "Clocking",
    "CoilSpring",
    "CoilWish",
    "GasStrut",
    "Hardware",
    "InterconnectionBar",
    "LeafSpring",
    "LevellerMotor",
    "LeverArm",
    "LoadState",
    "Material",
    "MultiLeafSpring",
    "ParabolicLeafSpring",
    "Place",
    "Size",
    "Sizes",
    "SpringPart",
    "StabiliserBar",
    "StabiliserBeam",
    "SteelPart",
    "TorsionBar",
    "TrimBar",
    "allowed_stress",
    "apply",
    "apply_all",
    "bar_figures",
    "bar_sizes",
    "changes",
    "clocking",
    "clocking_figures",
    "coil_figures",
    "coil_sizes",
    "gas_figures",
    "leaf_figures",
    "lever_ratio",
    "material_of",
    "mismatch",
    "motor_figures",
    "stabiliser_beam",
    "stabiliser_figures",
    "stress",
]
