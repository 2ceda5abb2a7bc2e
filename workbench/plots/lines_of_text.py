"""The two lines of small text of a chart: legend above, readout below.

They are painted by hand: a readout changes with each frame, and a painted line costs some 30 us where
a rich-text label costs a layout.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.theme import small_font

__all__ = ["LegendEntry", "LegendLine", "ReadoutItem", "ReadoutLine"]

_GAP = 12.0
_SAMPLE = 20.0
_MARGIN = 8.0

# Least room for the name of a variant, px, and how many of them may be cut.
_READABLE, _FEW = 48.0, 3


@dataclass(frozen=True, slots=True)
class LegendEntry:
    """A sample of line and its meaning; a long name may be cut where the line is narrow."""

    text: str
    pen: QPen
    long: bool = False


@dataclass(frozen=True, slots=True)
class ReadoutItem:
    """A short label and a number in the colour of its variant."""

    label: str
    number: str
    colour: QColor


class _Line(QWidget):
    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFont(small_font(self.font()))
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self._metrics = QFontMetricsF(self.font())
        self._paper, self._ink, self._faint = QColor("white"), QColor("black"), QColor("grey")

    def sizeHint(self) -> QSize:
        return QSize(200, round(self._metrics.height()) + 3)

    def minimumSizeHint(self) -> QSize:
        return QSize(0, self.sizeHint().height())

    def set_colours(self, paper: QColor, ink: QColor, faint: QColor) -> None:
        """Take the colours of a theme."""
        self._paper, self._ink, self._faint = paper, ink, faint
        self.update()

    def _begin(self) -> QPainter:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._paper)
        painter.setFont(self.font())
        return painter

    def _width(self, text: str) -> float:
        return self._metrics.horizontalAdvance(text)

    def _draw(
        self,
        painter: QPainter,
        x: float,
        text: str,
        colour: QColor,
        width: float = 0.0,
        foot: float | None = None,
    ) -> float:
        """Draw text, right-aligned in ``width`` if that is wider, on its ``foot``; the x where it ends."""
        own = self._width(text)
        painter.setPen(colour)
        y = self._baseline() if foot is None else foot
        painter.drawText(QPointF(x + max(width - own, 0.0), y), text)
        return x + max(width, own)

    def _baseline(self) -> float:
        return (self.height() + self._metrics.ascent() - self._metrics.descent()) / 2


class LegendLine(_Line):
    """What the y axis shows, and whose line is which; more lines where names would be cut beyond reading."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title, self._short = "", ""
        self._entries: tuple[LegendEntry, ...] = ()
        self._lines = 1

    @property
    def entries(self) -> tuple[LegendEntry, ...]:
        """Entries now shown."""
        return self._entries

    @property
    def title(self) -> str:
        """Title of the y axis with unit and sign."""
        return self._title

    def set_content(self, title: str, short_title: str, entries: Sequence[LegendEntry]) -> None:
        """Show a title (the short one where the line is narrow) and legend entries."""
        self._title, self._short, self._entries = title, short_title, tuple(entries)
        self.setToolTip(title)
        self._count_lines()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(200, self._lines * self._line_height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._count_lines()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._count_lines()

    def _line_height(self) -> int:
        return round(self._metrics.height()) + 3

    def _count_lines(self) -> None:
        lines = len(self._laid_out()[1]) if self.isVisible() else 1  # before, it has no width yet
        if lines != self._lines:
            self._lines = lines
            self.updateGeometry()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = self._begin()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        title, lines = self._laid_out()
        height = self._line_height()
        rise = (height + self._metrics.ascent() - self._metrics.descent()) / 2
        self._draw(painter, _MARGIN, title, self._ink, foot=rise)
        for number, line in enumerate(lines):
            x = self.width() - _MARGIN - self._legend_width([text for _, text in line]) + _GAP
            for entry, text in line:
                painter.setPen(entry.pen)
                middle = number * height + height // 2 + 0.5
                painter.drawLine(QPointF(x, middle), QPointF(x + _SAMPLE, middle))
                foot = number * height + rise
                x = self._draw(painter, x + _SAMPLE + 4, text, self._ink, foot=foot) + _GAP

    def _laid_out(self) -> tuple[str, list[list[tuple[LegendEntry, str]]]]:
        """Title, and the entries line by line with what is written of each."""
        room = self.width() - 2 * _MARGIN
        texts = [entry.text for entry in self._entries]
        legend = self._legend_width(texts)
        for title in (self._title, self._short):
            if self._width(title) + legend <= room:
                return title, [list(zip(self._entries, texts, strict=True))]
        fixed = self._legend_width(["" if entry.long else entry.text for entry in self._entries])
        names = sum(entry.long for entry in self._entries)
        if names > _FEW or room - fixed < names * _READABLE:
            return self._short, self._wrapped(room)
        title, texts = self._squeezed(room)
        return title, [list(zip(self._entries, texts, strict=True))]

    def _wrapped(self, room: float) -> list[list[tuple[LegendEntry, str]]]:
        """Entries on as many lines as they need; the title stands on the first."""
        lines: list[list[tuple[LegendEntry, str]]] = [[]]
        left = room - self._width(self._short)
        for entry in self._entries:
            longest = room - self._legend_width([""])
            text = self._metrics.elidedText(entry.text, Qt.TextElideMode.ElideRight, longest)
            width = self._legend_width([text])
            if width > left and lines[-1]:
                lines.append([])
                left = room
            lines[-1].append((entry, text))
            left -= width
        return lines

    def _legend_width(self, texts: Sequence[str]) -> float:
        return sum(_GAP + _SAMPLE + 4 + self._width(text) for text in texts)

    def _squeezed(self, room: float) -> tuple[str, list[str]]:
        """The short title if the long names keep a readable rest, and the names cut to fit."""
        names = [entry.text for entry in self._entries if entry.long]
        fixed = self._legend_width(["" if entry.long else entry.text for entry in self._entries])
        title = self._short if room - fixed - self._width(self._short) > len(names) * _READABLE else ""
        left = room - fixed - self._width(title)
        share = left / max(len(names), 1)
        spare = sum(max(share - self._width(name), 0.0) for name in names)
        share += spare / max(sum(self._width(name) > share for name in names), 1)
        cut = Qt.TextElideMode.ElideRight
        return title, [
            self._metrics.elidedText(entry.text, cut, share) if entry.long else entry.text
            for entry in self._entries
        ]


class ReadoutLine(_Line):
    """Values of all curves at one x; the title of the x axis on the right where there is room."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._place, self._unit, self._axis_title = "", "", ""
        self._items: tuple[ReadoutItem, ...] = ()

    @property
    def text(self) -> str:
        """The line as plain text."""
        items = [" ".join(part for part in (item.label, item.number) if part) for item in self._items]
        return "  ".join(part for part in (self._place, *items, self._unit) if part)

    @property
    def axis_title(self) -> str:
        """Title of the x axis."""
        return self._axis_title

    def set_axis_title(self, title: str) -> None:
        """Title of the x axis."""
        self._axis_title = title
        self.update()

    def set_content(self, place: str, items: Sequence[ReadoutItem], unit: str) -> None:
        """Show where, the values there, and their unit."""
        self._place, self._items, self._unit = place, tuple(items), unit
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = self._begin()
        x = self._draw(painter, _MARGIN, self._place, self._ink, self._width("88.88 Hz"))
        number = self._width("−88.88")
        unit = self._width(self._unit) + _GAP
        for item in self._items:
            label = f"{item.label} " if item.label else ""
            needed = _GAP + self._width(label) + max(self._width(item.number), number)
            if x + needed + unit > self.width() - _MARGIN:
                x = self._draw(painter, x + 4, "…", self._faint)
                break
            x = self._draw(painter, x + _GAP, label, self._faint)
            x = self._draw(painter, x, item.number, item.colour, number)
        if self._items:
            x = self._draw(painter, x + 4, self._unit, self._faint)
        title = self._width(self._axis_title)
        if x + _GAP + title < self.width() - _MARGIN:
            self._draw(painter, self.width() - _MARGIN - title, self._axis_title, self._ink)
