"""The travel at which a chain is drawn, between its ends, which are edited beside the slider."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from models.errors import InputError
from models.fields import Quantity, described
from models.linkage import Chain
from models.units import METRIC, UnitChoice, factor
from workbench.editor.entry import tabular
from workbench.editor.numbers import full_number, read, short_number
from workbench.editor.slim_slider import SlimSlider
from workbench.editor.style import dress
from workbench.editor.value_edit import ValueEdit
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["TravelRow"]

_FIELDS = {name: note for name, note, _ in described(Chain) if isinstance(note, Quantity)}
# Share of the whole travel about design trim that is design trim.
_CATCH = 0.012
_STEP = 0.01


class TravelRow(QWidget):
    """Rebound travel, slider, jounce travel, and what is shown in words.

    Signals:
        moved(float): wheel travel to be shown, m.
        refused(str): why a travel that was typed is not taken; empty where it is.
    """

    moved = Signal(float)
    refused = Signal(str)

    def __init__(self, edit: Callable[[str, float], None], parent: QWidget | None = None) -> None:
        """Make the row; ``edit`` hands on a new "jounce" or "rebound", or raises InputError."""
        super().__init__(parent)
        self._edit = edit
        self._units: UnitChoice = METRIC
        self._theme = LIGHT
        self._chain: Chain | None = None
        #: Travel shown, m.
        self.travel = 0.0
        self.ends = {name: self._end(name) for name in ("rebound", "jounce")}
        self.slider = SlimSlider(lambda: self._theme, self)
        self.slider.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.slider.setAccessibleName("Wheel travel shown")
        self.slider.setToolTip("Wheel travel at which the linkage is drawn; arrow keys step")
        self.slider.setMinimumWidth(80)
        self.slider.moved.connect(self._slid)
        self.slider.stepped.connect(self._stepped)
        self.words = QLabel(self)
        self.words.setFont(tabular(self.font()))
        row = QHBoxLayout(self)
        row.setContentsMargins(10, 3, 10, 3)
        row.setSpacing(6)
        for name in ("rebound", "jounce"):
            label = QLabel(name.capitalize(), self)
            label.setBuddy(self.ends[name])
            row.addWidget(label)
            row.addWidget(self.ends[name])
            if name == "rebound":
                row.addWidget(self.slider, 1)
        row.addSpacing(6)
        row.addWidget(self.words)
        self.setFont(small_font(self.font()))

    def _end(self, name: str) -> ValueEdit:
        field = ValueEdit(self)
        field.setAlignment(Qt.AlignmentFlag.AlignRight)
        field.setFixedWidth(field.fontMetrics().horizontalAdvance("0000.0") + 14)
        field.setAccessibleName(f"{name.capitalize()} travel")
        field.setToolTip(f"<qt><b>{_FIELDS[name].label}</b><br>{_FIELDS[name].meaning}</qt>")
        field.committed.connect(lambda text: self._commit(name, text))
        field.abandoned.connect(lambda: self.refused.emit(""))
        return field

    def show_chain(self, chain: Chain) -> None:
        """Take the ends of a chain's travel; the travel shown stays inside."""
        before, self._chain = self._chain, chain
        if before is None or (before.rebound, before.jounce) != (chain.rebound, chain.jounce):
            self.travel = min(max(self.travel, -chain.rebound), chain.jounce)
            self._show()

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self._units = units
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        dress(self, theme)

    def _show(self) -> None:
        if self._chain is None:
            return
        unit, si = self._units["travel"], _FIELDS["jounce"].kind.si
        for name, field in self.ends.items():
            value = getattr(self._chain, name)
            field.display(short_number(value, unit, si), partial(full_number, value, unit, si))
        span = self._chain.rebound + self._chain.jounce
        self.slider.show_fraction((self.travel + self._chain.rebound) / span)
        self.slider.show_tick(self._chain.rebound / span)
        scale = factor(unit, si)
        number = f"{abs(self.travel) / scale:.{1 if scale < 2e-3 else 3}f} {unit}"
        way = "design trim" if self.travel == 0 else "jounce" if self.travel > 0 else "rebound"
        self.words.setText(way if self.travel == 0 else f"{number} {way}")
        self.words.setMinimumWidth(self.words.fontMetrics().horizontalAdvance(f"000.0 {unit} rebound"))

    def _slid(self, place: float) -> None:
        if self._chain is not None:
            span = self._chain.rebound + self._chain.jounce
            travel = -self._chain.rebound + place * span
            self._move(0.0 if abs(travel) < _CATCH * span else travel)

    def _stepped(self, steps: float, fine: bool) -> None:
        if self._chain is not None:
            step = _STEP * (self._chain.rebound + self._chain.jounce) * (0.1 if fine else 1.0)
            self._move(round(self.travel + steps * step, 9))

    def _move(self, travel: float) -> None:
        assert self._chain is not None
        self.travel = min(max(travel, -self._chain.rebound), self._chain.jounce)
        self._show()
        self.moved.emit(self.travel)

    def _commit(self, name: str, text: str) -> None:
        try:
            self._edit(name, read(_FIELDS[name], text, self._units["travel"]))
        except InputError as error:
            self.refused.emit(error.problems[0].reason)
        else:
            self.refused.emit("")
            self._show()
