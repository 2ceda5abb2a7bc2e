"""What every piece of the editor is: something that shows the value of one path."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Any, Final, Protocol

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QMenu, QWidget

from models.charts import Chart
from models.errors import InputError
from models.fields import Part, Path
from models.units import KINDS
from models.vehicle import LoadCase
from workbench.editor.plan import FieldPlan
from workbench.help.anchors import path_place
from workbench.theme import Theme

__all__ = ["INDENT", "MISSING", "Entry", "Host", "Row", "Themed", "column_widths", "draw_mark", "tabular"]

#: Reference value of a path that the reference does not have.
MISSING: Final = object()

#: Indentation of one level, px.
INDENT = 10

_GAP = 4
_SAMPLE = "0123456789 kN·m·s²/rad lbf·in/deg MPa"  # its width tells fonts apart
_widths: dict[int, tuple[int, int]] = {}
_DOT = 2.5  # radius of the mark of a value that differs from the reference, px


class Themed(Protocol):
    """What knows the colours in use."""

    @property
    def theme(self) -> Theme: ...


class Host(Themed, Protocol):
    """The form around an entry."""

    @property
    def units(self) -> Mapping[str, str]: ...

    @property
    def reference(self) -> Part | None:
        """The whole part that is compared with."""

    @property
    def telling(self) -> set[Row]:
        """Rows with a message."""

    @property
    def load(self) -> LoadCase:
        """Load case whose standing is marked in plots."""

    def root(self) -> Part:
        """The whole part that is edited."""

    def edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        """Pass an edit on; raises InputError where it is refused."""

    def choose_unit(self, kind_name: str, unit: str) -> None:
        """Show a kind of quantity in another unit everywhere."""

    def entry(self, path: Path, field: FieldPlan, depth: int) -> Entry:
        """Make the entry of one field."""

    def export(self, chart: Chart) -> None:
        """Pass on that the user wants a chart as a file."""

    def structure_changed(self) -> None:
        """Take note that entries came or went."""

    def watch(self, slot: Callable[[], None]) -> None:
        """Call ``slot`` whenever another whole part is shown."""

    def fill_menu(self, row: Row, menu: QMenu) -> None:
        """Add what may be done with the value of a row beside editing it."""


class Entry(QWidget):
    """Shows one value and passes on edits of it.

    Attributes:
        path: where the value stands, from the root of the form.
        label: its name.
        differs: whether it, or something in it, differs from the reference.
    """

    def __init__(self, host: Host, path: Path, label: str) -> None:
        super().__init__()
        self.host = host
        self.path = path
        self.label = label
        self.differs = False

    def show_value(self, value: Any) -> None:
        """Show a value; touches nothing if it is the one that is shown."""
        raise NotImplementedError

    def show_reference(self, reference: Any) -> None:
        """Compare with a reference value, or with none (MISSING)."""
        raise NotImplementedError

    def show_units(self) -> None:
        """Follow a new choice of units."""

    def seek(self, words: Iterable[str], place: str) -> bool:
        """Show or hide by the words of a search; tells whether anything is left to see.

        Args:
            words: lower case; each has to occur in the name of a row or of what it stands in.
            place: lower case names of what the entry stands in.
        """
        found = all(word in f"{place} {self.label.lower()}" for word in words)
        self.setVisible(found)
        return found

    def rows(self) -> Iterator[Row]:
        """All rows, in order of reading."""
        raise NotImplementedError

    def tab_stops(self) -> list[QWidget]:
        """Widgets that Tab visits, in order of reading."""
        return [stop for row in self.rows() for stop in row.tab_stops()]

    def help_place(self, _at: QPoint | None) -> str:
        """Place of its field in the handbook."""
        return path_place(self.host.root(), self.path)


class Row(Entry):
    """A label, a field to its right, and under both a message if the input was refused."""

    def __init__(self, host: Host, path: Path, field: FieldPlan) -> None:
        super().__init__(host, path, field.label)
        self.meaning = field.meaning
        self._message: QLabel | None = None
        self.name_label = QLabel(field.label, self)
        self.name_label.setWordWrap(True)
        self.grid = QGridLayout(self)
        self.grid.setContentsMargins(INDENT, 3, 0, 3)
        self.grid.setHorizontalSpacing(_GAP)
        self.grid.setVerticalSpacing(0)
        self.grid.setColumnStretch(0, 1)
        for column, width in enumerate(column_widths(self.fontMetrics()), start=1):
            self.grid.setColumnMinimumWidth(column, width)
        self.grid.addWidget(self.name_label, 0, 0)

    def forget_input(self) -> None:
        """Drop text that was typed and not taken, and its message."""
        self.show_message("")

    def rows(self) -> Iterator[Row]:
        yield self

    def name(self, field: QWidget) -> None:
        """Make ``field`` the one that the label stands for."""
        self.name_label.setBuddy(field)
        field.setAccessibleName(self.label)
        field.setAccessibleDescription(self.meaning)

    def try_edit(self, value: object, gesture: int | None = None) -> bool:
        """Pass an edit on and show the message if it is refused."""
        try:
            self.host.edit(self.path, value, gesture)
        except InputError as error:
            self.show_message("\n".join(problem.reason for problem in error.problems))
            return False
        self.show_message("")
        return True

    @property
    def message(self) -> str:
        """Why the last input was refused; empty if it was not."""
        return self._message.text() if self._message is not None else ""

    def show_message(self, text: str) -> None:
        """Show under the row why input was refused, or nothing."""
        if text == self.message:
            return
        if self._message is None:
            self._message = QLabel(self)
            self._message.setObjectName("message")
            self._message.setWordWrap(True)
            self._message.setTextFormat(Qt.TextFormat.PlainText)
            self._message.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            self.grid.addWidget(self._message, 2, 0, 1, 3)
        self._message.setText(text)
        self._message.setVisible(bool(text))
        (self.host.telling.add if text else self.host.telling.discard)(self)

    def set_differs(self, differs: bool) -> None:
        """Mark or unmark the row."""
        if differs != self.differs:
            self.differs = differs
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self.differs:
            painter = QPainter(self)
            draw_mark(painter, self.host.theme, self._mark_y())

    def _mark_y(self) -> float:
        """Middle of the first line of the label."""
        line, label = self.fontMetrics().height(), self.name_label.geometry()
        if self.name_label.isHidden():
            return self.height() / 2
        return label.top() + line / 2 if label.height() >= 2 * line else label.center().y() + 1


def draw_mark(painter: QPainter, theme: Theme, y: float) -> None:
    """Draw the dot of a value that differs from the reference, left of a label."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(theme.candidate))
    painter.drawEllipse(QPointF(INDENT / 2 - 0.5, y), _DOT, _DOT)


def column_widths(metrics: QFontMetrics) -> tuple[int, int]:
    """Widths of the columns of numbers and of units, the same in all rows."""
    sample = metrics.horizontalAdvance(_SAMPLE)
    if sample not in _widths:  # one per font; each row asks, and there are many units
        unit = max(metrics.horizontalAdvance(unit) for unit in _all_units())
        _widths[sample] = (7 * metrics.horizontalAdvance("0") + 12, unit + 8)
    return _widths[sample]


@lru_cache(maxsize=1)
def _all_units() -> tuple[str, ...]:
    return tuple({unit for kind in KINDS.values() for unit in kind.units})


def tabular(font: QFont) -> QFont:
    """Font whose digits are all of one width."""
    copy = QFont(font)
    copy.setFeature(QFont.Tag("tnum"), 1)
    return copy
