"""The road mix of the project: a table of roads and their shares."""

from __future__ import annotations

from typing import Annotated, Any

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from models.errors import InputError
from models.fields import Label, Part, Path
from models.roads import RandomRoad, RoadShare
from models.roads.mix import MOST_SHARES
from models.units import UnitChoice
from workbench.document import Document
from workbench.editor import PartForm
from workbench.scrolled import scrolled
from workbench.theme import Theme

__all__ = ["MixTable"]


class _Mix(Part):
    """What of the project the table edits."""

    road_mix: Annotated[
        tuple[RoadShare, ...],
        Label(
            "Road mix", "Roads of the car's life and their shares of the distance, which count in proportion."
        ),
    ] = ()


class MixTable(QWidget):
    """Table of the mix, its sum, and a button that adds the road of the run."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.form = PartForm(_Mix, _Target(document, self), ())
        self.sum = QLabel(self)
        self.sum.setObjectName("hint")
        self.sum.setWordWrap(True)
        self.add_button = QPushButton("Add the road of the run", self)
        self.add_button.setToolTip("Put event, surface and speed of the run into the road mix")
        self.add_button.clicked.connect(self.add_run)
        line = QHBoxLayout()
        line.setContentsMargins(10, 0, 6, 4)
        line.addWidget(self.sum, 1)
        line.addWidget(self.add_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        area = scrolled(self.form)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        column.addWidget(area, 1)
        column.addLayout(line)
        document.changed.connect(self._update)
        document.opened.connect(self._update)
        self._update()

    def add_run(self) -> None:
        """Add what the run drives over, with a share of 10 %, or all where it is the first road."""
        project = self._document.project
        run, mix = project.run, project.road_mix
        if len(mix) >= MOST_SHARES:
            self.sum.setText(f"A mix has at most {MOST_SHARES} roads.")
            return
        name = (
            "random road" if isinstance(run.event, RandomRoad) else getattr(run.event, "name", run.event.kind)
        )
        road = RoadShare(
            name=name or run.event.kind,
            share=0.1 if mix else 1.0,
            speed=run.speed,
            roughness=run.surface.roughness,
            waviness=run.surface.waviness,
            event=run.event,
        )
        try:
            self._document.edit(("road_mix",), (*mix, road))
        except InputError as error:
            self.sum.setText(str(error))

    def set_units(self, units: UnitChoice) -> None:
        """Show quantities in these units."""
        self.form.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.form.set_theme(theme)
        self.sum.setStyleSheet(f"color: {theme.faint};")

    def _update(self) -> None:
        mix = self._document.project.road_mix
        total = sum(road.share for road in mix)
        events = sum(not isinstance(road.event, RandomRoad) for road in mix)
        words = [
            f"Shares add up to {100 * total:.4g} %"
            + ("" if abs(total - 1) < 1e-9 else ", taken as the whole")
        ]
        if events:
            words.append(f"{events} of {len(mix)} with an event of their own")
        self.sum.setText("; ".join(words) if mix else "No roads yet.")


class _Target(QObject):
    """The document as the table sees it."""

    def __init__(self, document: Document, parent: QObject) -> None:
        super().__init__(parent)
        self._document = document

    @property
    def changed(self) -> Any:
        return self._document.changed

    @property
    def opened(self) -> Any:
        return self._document.opened

    def value(self, path: Path) -> Any:
        return self._document.value(path) if path else _Mix(road_mix=self._document.project.road_mix)

    def edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        self._document.edit(path, value, gesture)
