"""Whether a part in shear has been pre-set, and what stress that allows."""

from __future__ import annotations

from typing import Annotated, Literal

from models.fields import Label
from models.hardware.materials import Material

__all__ = ["Setting", "shear_limit"]

#: Pre-setting: winding a part past yield once, so that it keeps its shape under higher stress afterwards.
Setting = Annotated[
    Literal["pre-set", "not pre-set"],
    Label("Setting", "Pre-set: wound past yield once, in the sense in which it will be loaded."),
]


def shear_limit(material: Material, setting: str) -> float:
    """Allowed shear stress, Pa."""
    return material.shear_limit_preset if setting == "pre-set" else material.shear_limit
