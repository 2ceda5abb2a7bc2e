"""The grid of a table: painted flat, edited in place, with the unit of each column in its head."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QEvent, QPoint, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QActionGroup,
    QColor,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QMenu,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from workbench.editor.entry import Host, tabular
from workbench.editor.plan import Number
from workbench.editor.table_model import AnyIndex, TableModel
from workbench.editor.value_edit import ValueEdit
from workbench.theme import small_font

__all__ = ["TableView"]

_MOST_ROWS = 12  # in sight at once
_NUMBER_COLUMN = 26  # px, of the numbers of the rows
# Share of the width of a column of texts in that of a column of numbers.
_TEXT_SHARE = 1.5


class TableView(QTableView):
    """As high as its rows, up to a limit; Return goes down, Tab to the next cell while one is edited.

    Signals:
        copy_wanted, paste_wanted, add_wanted, remove_wanted: by key.
        unit_chosen(str, str): kind of quantity and unit, from the head of a column.
        abandoned(): the user dropped a text of their own.
    """

    copy_wanted = Signal()
    paste_wanted = Signal()
    add_wanted = Signal()
    remove_wanted = Signal()
    unit_chosen = Signal(str, str)
    abandoned = Signal()

    def __init__(self, host: Host, model: TableModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._host = host
        self._model = model
        self._keys = {
            QKeySequence.StandardKey.Copy: self.copy_wanted,
            QKeySequence.StandardKey.Paste: self.paste_wanted,
            QKeySequence.StandardKey.Delete: self.remove_wanted,
        }
        self.setFont(tabular(self.font()))
        self.setModel(model)
        self.setItemDelegate(_Cells(host, model, self))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)  # Tab goes on to the next field of the form
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalHeader(_Head(host, model, self))
        self.horizontalHeader().setSectionsClickable(True)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.horizontalHeader().setMinimumSectionSize(20)
        numbers = _Numbers(host, self)
        self.setVerticalHeader(numbers)
        numbers.setSectionsClickable(True)
        numbers.setFixedWidth(_NUMBER_COLUMN)
        numbers.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        numbers.setDefaultSectionSize(self.fontMetrics().height() + 6)
        for changed in (model.rowsInserted, model.rowsRemoved, model.modelReset):
            changed.connect(self.fit)
        self.fit()

    def chosen_rows(self) -> list[int]:
        """Rows with a chosen cell, else the one that was last gone to."""
        rows = sorted({index.row() for index in self.selectedIndexes()})
        current = self.currentIndex()
        return rows or ([current.row()] if current.isValid() else [])

    def fit(self) -> None:
        """Take the height of the rows."""
        rows = min(max(len(self._model.rows), 1), _MOST_ROWS)
        height = rows * self.verticalHeader().defaultSectionSize()
        self.setFixedHeight(height + self.horizontalHeader().sizeHint().height() + 2)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        shares = [1.0 if isinstance(f.shape, Number) else _TEXT_SHARE for f in self._model.fields]
        width, left = self.viewport().width(), 0.0
        for column, share in enumerate(shares):
            right = left + share / sum(shares) * width
            self.setColumnWidth(column, round(right) - round(left))
            left = right
        self.fit()

    def closeEditor(self, editor: QWidget, hint: QAbstractItemDelegate.EndEditHint) -> None:
        row, column = self.currentIndex().row(), self.currentIndex().column()
        super().closeEditor(editor, hint)
        if hint == QAbstractItemDelegate.EndEditHint.RevertModelCache and row >= 0:
            self._model.forget_draft(row, column)
            self.abandoned.emit()
        by_return = hint == QAbstractItemDelegate.EndEditHint.SubmitModelCache
        if by_return and (row, column) not in self._model.drafts and row + 1 < len(self._model.rows):
            self.setCurrentIndex(self._model.index(row + 1, column))

    def event(self, event: QEvent) -> bool:
        # The keys of the table win over those of the window while the table has the focus.
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and any(event.matches(key) for key in self._keys)
        ):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        for key, wanted in self._keys.items():
            if event.matches(key):
                wanted.emit()
                return
        if event.key() == Qt.Key.Key_Insert:
            self.add_wanted.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self.edit(self.currentIndex())
        elif event.key() == Qt.Key.Key_Escape and self._model.drafts:
            self._model.forget_drafts()
            self.abandoned.emit()
        else:
            super().keyPressEvent(event)


class _Cells(QStyledItemDelegate):
    """Paints the cells and makes the field in which one is edited."""

    def __init__(self, host: Host, model: TableModel, view: TableView) -> None:
        super().__init__(view)
        self._host, self._model, self._view = host, model, view

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: AnyIndex) -> QWidget:
        field = ValueEdit(parent)
        field.setFont(self._view.font())
        field.setObjectName("cell")
        field.setAlignment(self._model.data(index, Qt.ItemDataRole.TextAlignmentRole))
        field.setAccessibleName(f"{self._model.fields[index.column()].label} in row {index.row() + 1}")
        # A save by key takes the text while the field stays open.
        field.committed.connect(lambda _text: self.commitData.emit(field))
        return field

    def setEditorData(self, editor: QWidget, index: AnyIndex) -> None:
        assert isinstance(editor, ValueEdit)
        editor.display(self._model.text(index.row(), index.column()))
        draft = self._model.drafts.get((index.row(), index.column()))
        if draft is not None:
            editor.setText(draft)

    def setModelData(self, editor: QWidget, model: Any, index: AnyIndex) -> None:
        assert isinstance(editor, ValueEdit)
        if editor.pending and model.setData(index, editor.text()):
            editor.display(self._model.text(index.row(), index.column()))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        theme = self._host.theme
        refused = (index.row(), index.column()) in self._model.drafts
        painter.save()
        painter.fillRect(option.rect, QColor(theme.raised))
        if option.state & QStyle.StateFlag.State_Selected:
            tint = QColor(theme.candidate)
            tint.setAlphaF(0.16)
            painter.fillRect(option.rect, tint)
        painter.setPen(QColor(theme.rule))
        painter.drawLine(option.rect.bottomLeft(), option.rect.bottomRight())
        painter.drawLine(option.rect.topRight(), option.rect.bottomRight())
        self._draw_frame(painter, option, index, refused)
        painter.setPen(QColor(theme.mark if refused else theme.ink))
        text = self._model.data(index, Qt.ItemDataRole.DisplayRole)
        room = option.rect.adjusted(5, 0, -6, 0)
        text = option.fontMetrics.elidedText(text, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, self._model.data(index, Qt.ItemDataRole.TextAlignmentRole), text)
        painter.restore()

    def _draw_frame(
        self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex, refused: bool
    ) -> None:
        here = self._view.hasFocus() and index == self._view.currentIndex()
        if here or refused:
            colour = self._host.theme.candidate if here else self._host.theme.mark
            painter.setPen(QPen(QColor(colour), 1.6))
            painter.drawRect(QRectF(option.rect).adjusted(0.8, 0.8, -1.8, -1.8))


class _Head(QHeaderView):
    """Names of the columns with their units below; a click on a unit offers the others."""

    def __init__(self, host: Host, model: TableModel, view: TableView) -> None:
        super().__init__(Qt.Orientation.Horizontal, view)
        self._host, self._model, self._view = host, model, view
        self.setFont(small_font(view.font()))
        self.setMouseTracking(True)

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        names = max(self._name_height(column) for column in range(len(self._model.fields)))
        return QSize(super().sizeHint().width(), names + line + 5)

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
        line = self.fontMetrics().height()
        painter.setPen(QColor(theme.ink))
        name = room.adjusted(-2, 0, 1, -line)
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
            lambda action: self._view.unit_chosen.emit(kind.name, action.text())
        )
        place = QPoint(self.sectionViewportPosition(column), self.height())
        menu.popup(self.viewport().mapToGlobal(place))


class _Numbers(QHeaderView):
    """Numbers of the rows."""

    def __init__(self, host: Host, view: TableView) -> None:
        super().__init__(Qt.Orientation.Vertical, view)
        self._host = host
        self.setFont(tabular(small_font(view.font())))

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        painter.save()
        painter.setFont(self.font())
        painter.setPen(QColor(self._host.theme.faint))
        flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(rect.adjusted(0, 0, -6, 0), flags, str(logicalIndex + 1))
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
