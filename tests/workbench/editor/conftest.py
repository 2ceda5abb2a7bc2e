"""A small part with a field of each shape, and a target without a project around it."""

from __future__ import annotations

from typing import Annotated, Any, Literal

import pytest
from pydantic import Field, ValidationError
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication

from models.errors import input_error
from models.fields import Label, Part, Path, Quantity, follow, replaced


class Flat(Part):
    kind: Literal["flat"] = "flat"
    seed: Annotated[int, Field(ge=0), Label("Seed", "Number that picks the road.")] = 1
    length: Annotated[float, Quantity("length", "Length", "How long.", 0.0, 100.0, (0.0, 10.0))] = 5.0


class Bumpy(Part):
    kind: Literal["bumpy"] = "bumpy"
    length: Annotated[float, Quantity("length", "Length", "How long.", 0.0, 100.0, (0.0, 10.0))] = 4.0
    height: Annotated[float, Quantity("travel", "Height", "How high.", 0.0, 1.0, (0.0, 0.1))] = 0.05


class Arm(Part):
    rate: Annotated[
        float, Quantity("rate", "Spring rate", "Force per deflection.", 0.0, 2e6, (0.0, 60e3), prominent=True)
    ] = 26e3
    bar: Annotated[
        float, Quantity("torsional rate", "Bar rate", "Torque per twist.", 0.0, 1e6, (0.0, 3000.0))
    ] = 1000.0


class Machine(Part):
    angle: Annotated[float, Quantity("angle", "Lean", "How far it leans.", -1.5, 1.5, (-0.2, 0.2))] = (
        3.141592653589793 / 180
    )
    share: Annotated[float, Quantity("ratio", "Ratio", "Part of the whole.", 0.0, 5.0, (0.0, 2.0))] = 1.0
    name: Annotated[str, Label("Name", "What it is called.")] = "one"
    mode: Annotated[Literal["soft", "hard"], Label("Mode", "How it stands.")] = "soft"
    front: Annotated[Arm, Label("Front arm", "The arm in front.")] = Arm()
    rear: Annotated[Arm, Label("Rear arm", "The arm behind.")] = Arm(rate=30e3)
    spare: Annotated[Arm | None, Label("Spare arm", "A third arm.")] = None
    ground: Annotated[
        Annotated[Flat | Bumpy, Field(discriminator="kind")], Label("Ground", "What it stands on.")
    ] = Flat()


class Target(QObject):
    """Holds one part and remembers the edits."""

    changed = Signal()
    opened = Signal()

    def __init__(self, part: Part) -> None:
        super().__init__()
        self.part = part
        self.edits: list[tuple[Path, object, int | None]] = []

    def value(self, path: Path) -> Any:
        return follow(self.part, path)

    def edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        try:
            self.part = replaced(self.part, path, value)
        except ValidationError as error:
            raise input_error(error) from error
        self.edits.append((path, value, gesture))
        self.changed.emit()


@pytest.fixture
def target(qapp: QApplication) -> Target:
    return Target(Machine())
