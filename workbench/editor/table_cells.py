"""The cells of a table: how they look, and the field in which one is edited."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QTableView, QWidget

from workbench.editor.entry import Themed
from workbench.editor.table_model import AnyIndex, TableModel
from workbench.editor.value_edit import ValueEdit

__all__ = ["Cells"]


class Cells(QStyledItemDelegate):
    """Paints the cells and makes the field in which one is edited."""

    def __init__(self, host: Themed, model: TableModel, view: QTableView) -> None:
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
