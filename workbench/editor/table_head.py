"""What stands around the cells of a table: names and units of the columns, numbers of the rows."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QActionGroup, QColor, QMouseEvent, QPainter
from PySide6.QtWidgets import QHeaderView, QMenu, QTableView

from workbench.editor.entry import Themed, tabular
from workbench.editor.plan import Number
from workbench.editor.table_model import TableModel
from workbench.theme import small_font

__all__ = ["Head", "RowNumbers", "fill_units"]


class Head(QHeaderView):
    """Names of the columns with their units below; a click on a unit offers the others.

    Signals:
        unit_chosen(str, str): kind of quantity and unit.
    """

    unit_chosen = Signal(str, str)

    def __init__(self, host: Themed, model: TableModel, view: QTableView) -> None:
        super().__init__(Qt.Orientation.Horizontal, view)
        self._host, self._model = host, model
        self.setFont(small_font(view.font()))
        self.setMouseTracking(True)

    def sizeHint(self) -> QSize:
        names = max(self._name_height(column) for column in range(len(self._model.fields)))
        return QSize(super().sizeHint().width(), names + self._unit_height() + 5)

    def _unit_height(self) -> int:
        """Height of the line of units; none where no column has one."""
        has_units = any(self._model.unit(column) for column in range(len(self._model.fields)))
        return self.fontMetrics().height() if has_units else 0

    def _name_height(self, column: int) -> int:
        room = QRect(0, 0, max(self.sectionSize(column) - 6, 30), 1000)
        flags = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft
        return self.fontMetrics().boundingRect(room, flags, self._model.fields[column].label).height()

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        theme, model = self._host.theme, self._model
        side = (
            Qt.AlignmentFlag.AlignRight
            if isinstance(model.fields[logicalIndex].shape, Number)
            else Qt.AlignmentFlag.AlignLeft
        )
        painter.save()
        painter.setFont(self.font())
        room = rect.adjusted(3, 1, -5, -2)
        painter.setPen(QColor(theme.ink))
        name = room.adjusted(-2, 0, 1, -self._unit_height())
        painter.drawText(
            name,
            side | Qt.AlignmentFlag.AlignBottom | Qt.TextFlag.TextWordWrap,
            model.fields[logicalIndex].label,
        )
        painter.setPen(QColor(theme.faint))
        painter.drawText(room, side | Qt.AlignmentFlag.AlignBottom, model.unit(logicalIndex))
        painter.setPen(QColor(theme.rule))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.restore()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        super().mouseMoveEvent(event)
        over = self._unit_at(event.position().toPoint()) >= 0
        self.viewport().setCursor(Qt.CursorShape.PointingHandCursor if over else Qt.CursorShape.ArrowCursor)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        column = self._unit_at(event.position().toPoint())
        if column >= 0 and event.button() == Qt.MouseButton.LeftButton:
            self.offer_units(column)
        else:
            super().mousePressEvent(event)

    def _unit_at(self, place: QPoint) -> int:
        """Column whose unit stands at a place; -1 if none does."""
        column = self.logicalIndexAt(place)
        low = place.y() > self.height() - self.fontMetrics().height() - 4
        return column if low and column >= 0 and self._model.unit(column) else -1

    def offer_units(self, column: int) -> None:
        """Open the list of units of a column."""
        shape = self._model.fields[column].shape
        assert isinstance(shape, Number)
        kind = shape.quantity.kind
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        fill_units(menu, kind.units, self._model.unit(column)).triggered.connect(
            lambda action: self.unit_chosen.emit(kind.name, action.text())
        )
        place = QPoint(self.sectionViewportPosition(column), self.height())
        menu.popup(self.viewport().mapToGlobal(place))


class RowNumbers(QHeaderView):
    """Numbers of the rows, or their names where the model gives some."""

    def __init__(self, host: Themed, view: QTableView) -> None:
        super().__init__(Qt.Orientation.Vertical, view)
        self._host = host
        self.setFont(tabular(small_font(view.font())))

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        painter.save()
        painter.setFont(self.font())
        painter.setPen(QColor(self._host.theme.faint))
        flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        text = str(self.model().headerData(logicalIndex, Qt.Orientation.Vertical))
        room = rect.adjusted(2, 0, -6, 0)
        text = self.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, flags, text)
        painter.setPen(QColor(self._host.theme.rule))
        painter.drawLine(rect.topRight(), rect.bottomRight())
        painter.restore()


def fill_units(menu: QMenu, units: tuple[str, ...], present: str) -> QActionGroup:
    """Put units into a menu with the present one ticked."""
    group = QActionGroup(menu)
    for unit in units:
        action = menu.addAction(unit)
        action.setCheckable(True)
        action.setChecked(unit == present)
        group.addAction(action)
    return group
