"""Row of a quantity: number, unit and slider."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QHBoxLayout, QMenu, QWidget

from models.errors import InputError
from models.fields import Path, Quantity
from workbench.document import next_gesture
from workbench.editor.entry import MISSING, Host, Row, column_widths, tabular
from workbench.editor.numbers import at_fraction, fraction, full_number, read, short_number, stepped
from workbench.editor.plan import FieldPlan
from workbench.editor.slim_slider import SlimSlider
from workbench.editor.target import StepGesture
from workbench.editor.tick_box import TickBox
from workbench.editor.unit_button import UnitButton
from workbench.editor.value_edit import ValueEdit
from workbench.help.context import HINT

__all__ = ["QuantityRow"]


class QuantityRow(Row):
    """Edits one number in the unit that is chosen for its kind of quantity."""

    def __init__(self, host: Host, path: Path, field: FieldPlan, quantity: Quantity) -> None:
        super().__init__(host, path, field)
        self.quantity = quantity
        self._value: float | None = None
        self._reference: Any = MISSING
        self._steps = StepGesture()
        self._drag: int | None = None
        #: Stands before the slider while numbers are ticked.
        self.tick: TickBox | None = None
        self._line: QHBoxLayout | None = None
        self.number = self._make_number()
        self.unit_button = self._make_unit_button()
        self.slider = self._make_slider()
        self._show_tooltip()

    def _make_number(self) -> ValueEdit:
        number = ValueEdit(self, steps=True)
        number.setFont(tabular(self.font()))
        number.setAlignment(Qt.AlignmentFlag.AlignRight)
        number.setFixedWidth(column_widths(self.fontMetrics())[0])
        number.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)  # the row has one for all of it
        number.committed.connect(self._commit)
        number.stepped.connect(self._step)
        number.abandoned.connect(self.forget_input)
        self.name(number)
        self.grid.addWidget(number, 0, 1, 2, 1, Qt.AlignmentFlag.AlignVCenter)
        return number

    def _make_unit_button(self) -> UnitButton:
        button = UnitButton(self.quantity.kind, self)
        button.setFixedWidth(column_widths(self.fontMetrics())[1])
        button.setAccessibleName(f"Unit of {self.label}")
        button.show_unit(self.unit)
        button.chosen.connect(self._choose_unit)
        self.grid.addWidget(button, 0, 2, 2, 1, Qt.AlignmentFlag.AlignVCenter)
        return button

    def _make_slider(self) -> SlimSlider:
        slider = SlimSlider(lambda: self.host.theme, self)
        slider.setAccessibleName(f"{self.label}, typical range")
        slider.sliderPressed.connect(self._begin_drag)
        slider.sliderReleased.connect(self._end_drag)
        slider.moved.connect(self._slide)
        slider.stepped.connect(self._step)
        self.grid.addWidget(slider, 1, 0)
        return slider

    @property
    def unit(self) -> str:
        """Unit in which the number is shown."""
        return self.host.units.get(self.quantity.kind_name, self.quantity.kind.usual)

    def tab_stops(self) -> list[QWidget]:
        stops: list[QWidget] = [self.number]
        if self.unit_button.focusPolicy() != Qt.FocusPolicy.NoFocus:
            stops.append(self.unit_button)
        return stops if self.tick is None else [*stops, self.tick]

    def set_tick(self, tick: TickBox | None) -> None:
        """Put a tick before the slider, where it takes no width from name and number, or take it away."""
        if self.tick is not None and self._line is not None:
            self.tick.hide()
            self.tick.deleteLater()
            self.grid.removeItem(self._line)
            self._line.deleteLater()
            self.grid.addWidget(self.slider, 1, 0)
        self.tick = tick
        if tick is not None:
            self._line = QHBoxLayout()
            self._line.setSpacing(2)
            self._line.addWidget(tick)
            self._line.addWidget(self.slider, 1)
            self.grid.addLayout(self._line, 1, 0)
            tick.show()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer what can be done with the number beside typing, from a field of text under the mouse too."""
        menu = self.number.createStandardContextMenu() if self.number.hasFocus() else QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.host.fill_menu(self, menu)
        if menu.isEmpty():
            menu.deleteLater()
            event.ignore()
        else:
            menu.popup(event.globalPos())

    def show_value(self, value: Any) -> None:
        if value != self._value:
            self._value = value
            self._show()
            self._show_differs()
        elif self.message and not self.number.pending:
            self.show_message("")  # a rule between fields may hold again

    def show_reference(self, reference: Any) -> None:
        if reference == self._reference:
            return
        self._reference = reference
        self._show_differs()
        self._show_tooltip()

    def show_units(self) -> None:
        if self.unit_button.text() != self.unit:
            self.unit_button.show_unit(self.unit)
            self._show_tooltip()
            if not self.number.pending:
                self._show()

    def forget_input(self) -> None:
        super().forget_input()
        self.number.restore()
        self._mark_wrong(False)

    def _show(self) -> None:
        """Show the value as it stands; text of the user's gives way."""
        if self._value is None:
            return
        value, unit, si = self._value, self.unit, self.quantity.kind.si
        self.number.display(short_number(value, unit, si), lambda: full_number(value, unit, si))
        self.slider.show_fraction(fraction(self.quantity, value))
        self._mark_wrong(False)
        self.show_message("")

    def _show_differs(self) -> None:
        differs = self._reference is not MISSING and self._reference != self._value
        self.set_differs(differs)
        self.slider.show_tick(fraction(self.quantity, self._reference) if differs else None)

    def _show_tooltip(self) -> None:
        unit, si = self.unit, self.quantity.kind.si
        suffix = "" if unit == "1" else f" {unit}"
        low, high = (short_number(value, unit, si) for value in self.quantity.typical)
        lines = [
            f"<b>{self.label}</b>",
            self.meaning,
            f"Allowed: {self.quantity.range_text(unit)}",
            f"Typical: {low} to {high}{suffix}",
        ]
        if self._reference is not MISSING:
            lines.append(f"Baseline: {short_number(self._reference, unit, si)}{suffix}")
        self.setToolTip("<qt>" + "<br>".join([*lines, HINT]) + "</qt>")

    def _commit(self, text: str) -> None:
        try:
            value = read(self.quantity, text, self.unit, self.label)
        except InputError as error:
            self.show_message(error.problems[0].reason)
            self._mark_wrong(True)
            return
        if value == self._value:
            self._show()
        else:
            self._mark_wrong(not self.try_edit(value))

    def _step(self, steps: float, fine: bool) -> None:
        self.number.commit()
        if self._value is None or self.number.pending:
            return
        value = stepped(self.quantity, self._value, self.unit, steps / 10 if fine else steps)
        self._move(value, self._steps.number())

    def _begin_drag(self) -> None:
        self._drag = next_gesture()

    def _end_drag(self) -> None:
        self._drag = None

    def _slide(self, place: float) -> None:
        self._move(at_fraction(self.quantity, place, self.unit), self._drag or next_gesture())

    def _move(self, value: float, gesture: int) -> None:
        """Edit by slider, key or wheel; a refused move leaves the number as it was."""
        if self._value is None or value == self._value:
            return
        self.try_edit(value, gesture)
        self.slider.show_fraction(fraction(self.quantity, self._value))

    def _choose_unit(self, unit: str) -> None:
        self.host.choose_unit(self.quantity.kind_name, unit)

    def _mark_wrong(self, wrong: bool) -> None:
        if bool(self.number.property("wrong")) != wrong:
            self.number.setProperty("wrong", wrong)
            self.number.style().polish(self.number)
