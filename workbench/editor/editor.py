"""The editor of the car: what is tuned most at hand above, everything else in groups below."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from itertools import pairwise
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from models.fields import Part, Path, follow
from models.units import UnitChoice
from models.vehicle import LoadCase, Vehicle
from workbench.editor.entry import INDENT, MISSING, Entry, Row
from workbench.editor.hold_heave import HoldHeave
from workbench.editor.part_form import PartForm
from workbench.editor.plan import prominent
from workbench.editor.study_ticks import StudyTicks
from workbench.editor.style import dress
from workbench.editor.target import EditTarget
from workbench.theme import Theme

__all__ = ["ParameterEditor"]

_SCROLL_BAR = 10  # px, as in the style sheet
_MARGIN = 6


class ParameterEditor(QWidget):
    """Edits one vehicle of a document.

    Signals:
        units_changed: the user chose a unit: name of the kind of quantity, unit.
        export_wanted: the user wants the :class:`Chart` of a law as a file.
        study_ticked(str, bool): the user ticked or unticked the number at a place of the car for a study.
        study_wanted(str): the number at a place of the car is to be studied.
        ticking_changed(bool): ticks for a study are shown, or no more.
    """

    units_changed = Signal(str, str)
    export_wanted = Signal(object)
    study_ticked = Signal(str, bool)
    study_wanted = Signal(str)
    ticking_changed = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.form = PartForm(Vehicle, title="Vehicle")
        self.at_hand = _AtHand(self.form)
        self._ticks = StudyTicks(self._rows, self.form, self)
        self.hold_heave = HoldHeave(self.form)
        self.search = _Search(self)
        self.hint = QLabel("No parameter of this name.", self)
        self.hint.setObjectName("hint")
        self.hint.hide()
        self.ticking_hint = QLabel(self)
        self.ticking_hint.setObjectName("hint")
        self.ticking_hint.setWordWrap(True)
        self.ticking_hint.setTextFormat(Qt.TextFormat.PlainText)
        self.ticking_hint.setIndent(INDENT)
        self.ticking_hint.hide()
        self._scroll = _scrolled(self.form)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(_MARGIN, _MARGIN, 0, 0)
        layout.setSpacing(_MARGIN)
        for widget in (
            self.at_hand,
            _indented(self.hold_heave),
            self.search,
            self.hint,
            self.ticking_hint,
        ):
            layout.addWidget(_inset(widget))
        layout.addWidget(self._scroll, 1)
        self.search.textChanged.connect(self._find)
        self.form.restructured.connect(self._order_tab_stops)
        self.form.restructured.connect(self._ticks.follow_rows)
        self.form.menu_filler = self._ticks.fill_menu
        self._ticks.settled.connect(self._order_tab_stops)
        self._ticks.ticked.connect(self.study_ticked)
        self._ticks.chosen.connect(self.study_wanted)
        self.at_hand.tick_mode.toggled.connect(self._set_ticking)
        self.form.units_changed.connect(self.units_changed)
        self.form.export_wanted.connect(self.export_wanted)
        self.set_theme(self.form.theme)

    def set_target(self, target: EditTarget, path: Path | Callable[[], Path]) -> None:
        """Edit the vehicle at ``path`` of ``target``; a function if the path may change."""
        self.form.set_target(target, path)

    def set_reference(self, vehicle: Vehicle | None) -> None:
        """Mark what differs from ``vehicle``; None marks nothing."""
        if vehicle is not self.form.reference:  # through a drag of the candidate the baseline stays
            self.form.set_reference(vehicle)
            self.at_hand.set_reference(vehicle)

    def set_load(self, load: LoadCase) -> None:
        """Mark in the plots of springs where the car stands with a load case."""
        self.form.set_load(load)

    def set_units(self, units: UnitChoice) -> None:
        """Show quantities in these units."""
        self.form.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.form.set_theme(theme)
        # Not on the editor itself: Qt would polish each row of the form a second time.
        bar = self._scroll.verticalScrollBar()
        for widget in (self.at_hand, self.search, self.hint, self.ticking_hint, bar):
            dress(widget, theme)
        self.update()

    def set_ticking(self, on: bool) -> None:
        """Show a tick beside each number that a study can vary, or take them away."""
        self.at_hand.tick_mode.setChecked(on)

    def show_studied(self, places: Collection[str], words: str) -> None:
        """Tick the numbers that a study varies.

        Args:
            places: of the numbers in the car.
            words: what the ticks stand for.
        """
        self._ticks.show_studied(places)
        self.ticking_hint.setText(words)

    def _set_ticking(self, on: bool) -> None:
        self._ticks.set_on(on)
        self.ticking_hint.setVisible(on)
        self.ticking_changed.emit(on)

    def _rows(self) -> Iterator[Row]:
        """All rows, those at hand among them, in order of reading."""
        for entry in self.at_hand.entries:
            yield from entry.rows()
        yield from self.form.rows()

    def find_parameter(self) -> None:
        """Go to the search box."""
        self.search.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.search.selectAll()

    def _order_tab_stops(self) -> None:
        for first, second in pairwise(
            [*self.at_hand.tab_stops(), self.hold_heave, self.search, *self.form.tab_stops()]
        ):
            QWidget.setTabOrder(first, second)

    def _find(self, text: str) -> None:
        self.hint.setVisible(not self.form.search(text))


class _AtHand(QWidget):
    """The prominent quantities, always in sight."""

    def __init__(self, form: PartForm) -> None:
        super().__init__()
        self._form = form
        self._reference: Any = MISSING
        self.entries: list[Entry] = []
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(0)
        self.tick_mode = QPushButton("Tick to study", self)
        self.tick_mode.setFlat(True)
        self.tick_mode.setCheckable(True)
        self.tick_mode.setToolTip("Show a tick beside each number, by which a study varies it")
        head = QHBoxLayout()
        head.addWidget(_title("At hand"), 1)
        head.addWidget(self.tick_mode)
        self._layout.addLayout(head)
        form.restarted.connect(self._forget_input)
        form.restructured.connect(self._rebuild)
        form.shown.connect(self._show)

    def set_reference(self, part: Part | None) -> None:
        """Mark what differs from ``part``; None marks nothing."""
        self._reference = MISSING if part is None else part
        for entry in self.entries:
            entry.show_reference(_followed(self._reference, entry.path))

    def _rebuild(self) -> None:
        wanted = prominent(self._form.root())
        if [(entry.path, entry.label) for entry in self.entries] == [
            (path, field.label) for path, field in wanted
        ]:
            return
        self._forget_input()
        for entry in self.entries:
            entry.hide()
            entry.deleteLater()
        self.entries = [self._form.entry(path, field) for path, field in wanted]
        for entry in self.entries:
            self._layout.addWidget(entry)
            entry.show_reference(_followed(self._reference, entry.path))

    def _forget_input(self) -> None:
        for entry in self.entries:
            for row in entry.rows():
                row.forget_input()

    def tab_stops(self) -> list[QWidget]:
        """Widgets that Tab visits, in order of reading."""
        return [self.tick_mode, *(stop for entry in self.entries for stop in entry.tab_stops())]

    def _show(self) -> None:
        if not self.entries:
            self._rebuild()
        root = self._form.root()
        for entry in self.entries:
            entry.show_value(follow(root, entry.path))
            entry.show_units()


class _Search(QLineEdit):
    """Search box; Escape empties it."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setPlaceholderText("Find a parameter")
        self.setAccessibleName("Find a parameter")
        self.setClearButtonEnabled(True)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.text():
            self.clear()
        else:
            super().keyPressEvent(event)


def _title(text: str) -> QLabel:
    label = QLabel(text)
    font = label.font()
    font.setBold(True)
    label.setFont(font)
    label.setContentsMargins(INDENT, 0, 0, 2)
    return label


def _scrolled(form: QWidget) -> QScrollArea:
    area = QScrollArea()
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    # Always there, so that the columns above and below it stand in line.
    area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(form)
    form.setAutoFillBackground(False)
    area.viewport().setAutoFillBackground(False)
    return area


def _inset(widget: QWidget) -> QWidget:
    """Leave room for the scroll bar of the rows below."""
    widget.setContentsMargins(0, 0, _SCROLL_BAR, 0)
    return widget


def _indented(widget: QWidget) -> QWidget:
    """Put a widget in line with the names of the rows."""
    holder = QWidget()
    layout = QHBoxLayout(holder)
    layout.setContentsMargins(INDENT, 0, 0, 0)
    layout.addWidget(widget)
    return holder


def _followed(reference: Any, path: Path) -> Any:
    try:
        return MISSING if reference is MISSING else follow(reference, path)
    except AttributeError:
        return MISSING
