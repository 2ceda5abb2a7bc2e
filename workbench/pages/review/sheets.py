"""The pages of a review below each other, as they will be printed."""

from __future__ import annotations

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QPoint, QRect, QSize, Qt, QTimer
from PySide6.QtGui import QColor, QImage, QImageReader, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from workbench.scrolled import scrolled
from workbench.theme import LIGHT, Theme

__all__ = ["SHARPNESS", "PageSheets", "page_area", "unpacked"]

#: Of the pictures of the pages, dots per inch.
SHARPNESS = 110.0

_GAP = 12
# Pages that are kept ready to be drawn.
_KEPT = 8


def page_area(sheets: PageSheets) -> QScrollArea:
    """Area in which the pages are scrolled, by keys too."""
    area = scrolled(sheets)
    area.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    area.setAccessibleName("Pages of the review")
    return area


class PageSheets(QWidget):
    """Draws the pages that are in sight; one is brought to its size when it is first seen, one at a time."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._pages: tuple[QImage, ...] = ()
        self._size = QSize(1, 1)
        self._ready: dict[int, QPixmap] = {}
        self.setAccessibleName("Pages of the review")

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self._pages)

    def show_pages(self, pages: tuple[QImage, ...]) -> None:
        """Show these pictures, all of one size."""
        self._pages = pages
        self._ready.clear()
        if pages:
            self._size = pages[0].size()
        self._arrange()
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme; paper stays white."""
        self._theme = theme
        self.update()

    def top(self, page: int) -> int:
        """Where a page begins, px; pages count from 1."""
        return _GAP + (page - 1) * (self._sheet().height() + _GAP)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._ready.clear()
            self._arrange()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, sheet, scaled = QPainter(self), self._sheet(), False
        painter.fillRect(event.rect(), QColor(self._theme.panel))
        for number in range(self.count):
            place = QRect(QPoint((self.width() - sheet.width()) // 2, self.top(number + 1)), sheet)
            if not place.intersects(event.rect()):
                continue
            if number not in self._ready and not scaled:
                self._scale(number, sheet)
                scaled = True
            if number in self._ready:
                painter.drawPixmap(place, self._ready[number])
            else:
                painter.fillRect(place, Qt.GlobalColor.white)
                QTimer.singleShot(0, self, self.update)  # in a frame of its own
            painter.setPen(QColor(self._theme.rule))
            painter.drawRect(place)

    def _scale(self, number: int, sheet: QSize) -> None:
        while len(self._ready) >= _KEPT:
            del self._ready[max(self._ready, key=lambda kept: abs(kept - number))]
        ratio = self.devicePixelRatioF()
        picture = self._pages[number].scaled(
            sheet * ratio,
            Qt.AspectRatioMode.IgnoreAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )
        self._ready[number] = QPixmap.fromImage(picture)
        self._ready[number].setDevicePixelRatio(ratio)

    def _sheet(self) -> QSize:
        """Size of a page on the screen: as wide as there is room, but no wider than its picture."""
        width = max(min(self.width() - 2 * _GAP, self._size.width()), 1)
        return QSize(width, width * self._size.height() // self._size.width())

    def _arrange(self) -> None:
        self.setMinimumHeight(self.top(self.count + 1) if self.count else 0)


def unpacked(page: bytes) -> QImage:
    """Picture from PNG, in any thread; in two bytes per dot, as a long review has a hundred million dots."""
    buffer = QBuffer()
    buffer.setData(QByteArray(page))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    # The reader lets other threads go on meanwhile, which QImage.fromData does not.
    return QImageReader(buffer).read().convertToFormat(QImage.Format.Format_RGB16)
