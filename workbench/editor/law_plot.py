"""Small plots of the laws of springs, stops, dampers and interconnections under their rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any, Literal

from PySide6.QtWidgets import QVBoxLayout, QWidget

from models.charts import Chart
from models.charts.laws import LawSource, damping_chart, interconnection_chart, wheel_force_chart
from models.fields import Part, Path
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    Damper,
    FluidCoupling,
    Friction,
    GasSpring,
    LoadCase,
    Side,
    Spring,
    Stop,
    TorsionCoupling,
    Vehicle,
)
from workbench.editor.entry import INDENT, Entry, Host, Row
from workbench.plots.small_chart import SmallChart

__all__ = ["LawPlot", "law_plot"]

_AXLES: dict[str | int, Literal["front", "rear"]] = {"front": "front", "rear": "rear"}
_SIDES: dict[str | int, Literal["left", "right"]] = {"left": "left", "right": "right"}

Drawn = Callable[[LawSource, LawSource | None, LoadCase], Chart]


class LawPlot(Entry):
    """Draws the law that the rows above describe; computes it when it is painted, and only if it is stale."""

    def __init__(self, host: Host, path: Path, draw: Drawn, part_type: type[Part]) -> None:
        super().__init__(host, path, "")
        self._draw = draw
        self._part_type = part_type
        self._watched: tuple[object, ...] = ()
        self._fitted = self._sought = True
        self.chart = SmallChart(self._chart, lambda: host.units, lambda: host.theme, self)
        self.chart.setAccessibleName("Law of the part")
        self.chart.export_wanted.connect(host.export)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(INDENT, 2, 2, 6)
        layout.addWidget(self.chart)

    def show_value(self, value: Any) -> None:
        vehicle = self.host.root()
        if not isinstance(vehicle, Vehicle):
            return
        self._fitted = is_fitted(value)
        self._show_or_hide()
        self._follow(vehicle)

    def show_reference(self, reference: Any) -> None:
        vehicle = self.host.root() if self._watched else None
        if isinstance(vehicle, Vehicle):
            self._follow(vehicle)

    def _follow(self, vehicle: Vehicle) -> None:
        """Draw anew if one of the parts that are drawn is another one."""
        reference = self._reference(vehicle)
        watched = (*self._parts(vehicle), *(self._parts(reference) if reference else ()), self.host.load)
        if not _are_same(watched, self._watched):
            self._watched = watched
            self.chart.invalidate()

    def show_units(self) -> None:
        self.chart.invalidate()

    def seek(self, words: Iterable[str], place: str) -> bool:
        self._sought = all(word in place for word in words)
        self._show_or_hide()
        return False  # the rows above are what is found

    def rows(self) -> Iterator[Row]:
        return iter(())

    def tab_stops(self) -> list[QWidget]:
        return []

    def _show_or_hide(self) -> None:
        if self.isHidden() == (self._fitted and self._sought):
            self.setVisible(self._fitted and self._sought)

    def _reference(self, vehicle: Vehicle) -> Vehicle | None:
        """The car that is compared with; None where its parts are those of the car itself."""
        reference = self.host.reference
        if not isinstance(reference, Vehicle) or _are_same(self._parts(reference), self._parts(vehicle)):
            return None
        return reference

    def _chart(self) -> Chart:
        vehicle = self.host.root()
        assert isinstance(vehicle, Vehicle)
        reference = self._reference(vehicle)
        return self._draw(LawSource(vehicle), LawSource(reference) if reference else None, self.host.load)

    def _parts(self, vehicle: Vehicle) -> tuple[object, ...]:
        """What the law of a vehicle depends on: the parts of the axle or side, and where the static load
        counts (gas, a load case) the whole vehicle."""
        owner = getattr(vehicle, str(self.path[0])) or vehicle.left
        if isinstance(owner, Side):
            return (vehicle,) if isinstance(owner.coupling, FluidCoupling) else (owner.coupling,)
        assert isinstance(owner, Axle)
        if self._part_type in (Damper, Friction):
            return owner.damper, owner.friction
        if self.host.load is not AS_DESIGNED or isinstance(owner.spring, GasSpring):
            return (vehicle,)
        return owner.spring, owner.bump_stop, owner.rebound_stop


def _are_same(some: tuple[object, ...], others: tuple[object, ...]) -> bool:
    return len(some) == len(others) and all(a is b for a, b in zip(some, others, strict=True))


def law_plot(host: Host, path: Path, part_types: tuple[type[Part], ...]) -> LawPlot | None:
    """Plot for the rows of a part at ``path``; None if it has no law worth a plot."""
    place = path[0] if path else ""
    if place in _AXLES:
        return _axle_plot(host, path, _AXLES[place], part_types)
    if place in _SIDES and TorsionCoupling in part_types:
        side = _SIDES[place]
        return LawPlot(
            host, path, lambda new, old, _load: interconnection_chart(side, new, old), TorsionCoupling
        )
    return None


def _axle_plot(
    host: Host, path: Path, axle: Literal["front", "rear"], part_types: tuple[type[Part], ...]
) -> LawPlot | None:
    if Spring in part_types:
        return LawPlot(host, path, lambda new, old, load: wheel_force_chart(axle, new, old, load), Spring)
    if Stop in part_types:
        part: Literal["jounce", "rebound"] = "jounce" if path[-1] == "bump_stop" else "rebound"
        return LawPlot(host, path, lambda new, old, load: wheel_force_chart(axle, new, old, load, part), Stop)
    if Damper in part_types:
        return LawPlot(host, path, lambda new, old, _load: damping_chart(axle, new, old), Damper)
    if Friction in part_types:
        return LawPlot(host, path, lambda new, old, _load: damping_chart(axle, new, old, True), Friction)
    return None


def is_fitted(part: object) -> bool:
    """Whether a part has an effect."""
    match part:
        case Stop():
            return part.rate > 0 or part.growth > 0
        case Friction():
            return part.force > 0
        case TorsionCoupling():
            return part.bar_rate > 0
    return True
