"""Lets the springs give way to the interconnection, so that a drag of it changes pitch and not heave."""

from __future__ import annotations

from models.fields import Part, Path, replaced
from models.hold_heave import with_heave_held
from models.vehicle import CornerSpring, ProgressiveSpring, Spring, Vehicle
from workbench.editor.part_form import PartForm
from workbench.editor.tick_box import TickBox

__all__ = ["HoldHeave"]

_BAR_RATE = ("coupling", "bar_rate")
_WORDS = "Springs give way: heave rate stays"


def _gives_nothing(spring: CornerSpring) -> bool:
    return isinstance(spring, (Spring, ProgressiveSpring)) and spring.rate == 0.0


class HoldHeave(TickBox):
    """While ticked, an edit of the interconnection of a vehicle form moves the springs with it."""

    def __init__(self, form: PartForm) -> None:
        super().__init__(form, _WORDS)
        self._form = form
        self._gesture: int | None = None
        self._start: Vehicle | None = None
        self.setChecked(True)
        self.setToolTip(
            "A stiffer interconnection takes load over from the corner springs, a softer one gives it back, "
            "so that heave stays and pitch changes. A spring gives way down to 0. One undo takes all back."
        )
        form.whole_edit = self._whole_edit
        form.shown.connect(self._show)

    def _show(self) -> None:
        """Say where nothing is left to give, since there a stiffer bar does raise the heave rate."""
        vehicle = self._form.root()
        if isinstance(vehicle, Vehicle):
            used_up = [name for name in ("front", "rear") if _gives_nothing(getattr(vehicle, name).spring)]
            self.setText(f"Springs give way ({', '.join(used_up)} used up)" if used_up else _WORDS)

    def _whole_edit(self, path: Path, value: object, gesture: int | None) -> Part | None:
        vehicle = self._form.root()
        if not self.isChecked() or path[1:] != _BAR_RATE or not isinstance(vehicle, Vehicle):
            return None
        # A drag counts from where it began: past the end of a spring and back, the spring is what it was.
        if gesture is None or gesture != self._gesture or self._start is None:
            self._gesture, self._start = gesture, vehicle
        return with_heave_held(self._start, replaced(vehicle, path, value))
