"""The variants of the project: which is the candidate, which the baseline."""

from __future__ import annotations

from PySide6.QtCore import QMimeData, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QHeaderView,
    QLineEdit,
    QPlainTextEdit,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from models.errors import InputError
from models.project import Project, Variant, rename_variant, set_candidate
from workbench.document import Document, next_gesture
from workbench.theme import LIGHT, Theme

__all__ = ["VariantsPanel"]


class VariantsPanel(QWidget):
    """List of variants with the note of the candidate below.

    A click makes a variant the candidate; F2 or a double click edits its name.
    """

    refused = Signal(str)

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._theme = LIGHT
        self.list = QTreeWidget(self)
        self.list.setAccessibleName("Variants")
        self.list.setColumnCount(2)
        self.list.setHeaderHidden(True)
        self.list.setRootIsDecorated(False)
        self.list.setFrameShape(QTreeWidget.Shape.NoFrame)
        self.list.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        header = self.list.header()
        header.setStretchLastSection(False)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)
        self.list.currentItemChanged.connect(self._choose)
        self.list.itemChanged.connect(self._rename)
        self.note = _Note(self)
        self.note.setAccessibleName("Note of the candidate")
        self.note.setPlaceholderText("What is this variant for?")
        self.note.setTabChangesFocus(True)
        self.note.setFixedHeight(self.fontMetrics().lineSpacing() * 3 + 10)
        self.note.textChanged.connect(self._keep_note)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(self.list, 1)
        layout.addWidget(self.note)
        document.changed.connect(self._update)
        document.opened.connect(self._update)
        self._update()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self._update()

    def begin_rename(self) -> None:
        """Open the candidate's name for editing."""
        item = self.list.currentItem()
        if item is not None:
            self.list.setFocus()
            self.list.editItem(item, 0)

    def finish_rename(self) -> None:
        """Take a name that is being typed, as before a save by key."""
        field = QApplication.focusWidget()
        if isinstance(field, QLineEdit) and field.parent() is self.list.viewport():
            delegate = self.list.itemDelegate()
            delegate.commitData.emit(field)
            delegate.closeEditor.emit(field)

    def _update(self) -> None:
        project = self._document.project
        with QSignalBlocker(self.list):
            # Rows are changed in place: Qt may be inside an editor of one of them.
            while self.list.topLevelItemCount() > len(project.variants):
                self.list.takeTopLevelItem(self.list.topLevelItemCount() - 1)
            while self.list.topLevelItemCount() < len(project.variants):
                fresh = QTreeWidgetItem()
                fresh.setFlags(fresh.flags() | Qt.ItemFlag.ItemIsEditable)
                self.list.addTopLevelItem(fresh)
            for row, variant in enumerate(project.variants):
                item = self.list.topLevelItem(row)
                if item is not None:
                    self._fill(item, variant, project)

    def _fill(self, item: QTreeWidgetItem, variant: Variant, project: Project) -> None:
        roles = (("candidate", project.candidate), ("baseline", project.baseline))
        item.setText(0, variant.name)
        item.setText(1, " · ".join(word for word, name in roles if name == variant.name))
        item.setToolTip(0, variant.note or variant.name)
        chosen = variant.name == project.candidate
        item.setForeground(1, QColor(self._theme.candidate if chosen else self._theme.baseline))
        if chosen:
            self.list.setCurrentItem(item)
            self.note.show_text(variant.note)

    def _choose(self, item: QTreeWidgetItem | None) -> None:
        if item is not None:
            name = self._document.project.variants[self.list.indexOfTopLevelItem(item)].name
            self._document.apply(f"choice of {name}", set_candidate(self._document.project, name))

    def _rename(self, item: QTreeWidgetItem, column: int) -> None:
        old = self._document.project.variants[self.list.indexOfTopLevelItem(item)].name
        new = item.text(0).strip()
        if column != 0 or new == old:
            return
        try:
            self._document.apply(f"rename of {old}", rename_variant(self._document.project, old, new))
        except InputError as error:
            self.refused.emit(str(error))
            self._update()

    def _keep_note(self) -> None:
        path = self._document.candidate_path()
        try:
            self._document.edit((*path[:-1], "note"), self.note.toPlainText(), self.note.gesture)
        except InputError as error:
            self.refused.emit(str(error))


class _Note(QPlainTextEdit):
    """Text whose changes between two visits of the focus count as one edit."""

    gesture = 0

    def show_text(self, text: str) -> None:
        if text != self.toPlainText():
            with QSignalBlocker(self):
                self.setPlainText(text)

    def canInsertFromMimeData(self, source: QMimeData) -> bool:
        """Files that are dropped are for the window to open."""
        return not source.hasUrls() and super().canInsertFromMimeData(source)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.gesture = next_gesture()
        super().focusInEvent(event)
