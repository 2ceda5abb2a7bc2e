"""Rows of plain texts and whole numbers."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from models.fields import Path
from workbench.editor.entry import MISSING, Host, Row, tabular
from workbench.editor.plan import FieldPlan
from workbench.editor.value_edit import ValueEdit
from workbench.help.context import HINT

__all__ = ["TextRow"]


class TextRow(Row):
    """Edits a text, or a whole number, in one line."""

    def __init__(self, host: Host, path: Path, field: FieldPlan, whole_number: bool) -> None:
        super().__init__(host, path, field)
        self._whole_number = whole_number
        self._value: Any = MISSING
        self._reference: Any = MISSING
        self.text = ValueEdit(self)
        self.text.committed.connect(self._commit)
        self.text.abandoned.connect(self.forget_input)
        self.name(self.text)
        if whole_number:
            self.text.setFont(tabular(self.font()))
            self.text.setAlignment(Qt.AlignmentFlag.AlignRight)
            self.grid.addWidget(self.text, 0, 1, 1, 2)
        else:
            self.grid.addWidget(self.text, 1, 0, 1, 3)
        self._show_tooltip()

    def tab_stops(self) -> list[QWidget]:
        return [self.text]

    def show_value(self, value: Any) -> None:
        if value != self._value:
            self._value = value
            self.forget_input()
            self.text.display(str(value))
            self._show_differs()

    def show_reference(self, reference: Any) -> None:
        self._reference = reference
        self._show_differs()
        self._show_tooltip()

    def forget_input(self) -> None:
        super().forget_input()
        self.text.restore()

    def _show_differs(self) -> None:
        self.set_differs(self._reference is not MISSING and self._reference != self._value)

    def _show_tooltip(self) -> None:
        baseline = "" if self._reference is MISSING else f"\nBaseline: {self._reference}"
        self.setToolTip(f"{self.label}\n{self.meaning}{baseline}\n{HINT}")

    def _commit(self, text: str) -> None:
        if not self._whole_number:
            self.try_edit(text)
            return
        try:
            number = int(text)
        except ValueError:
            self.show_message(f"{self.label}: '{text[:40]}' is not a whole number. {self.meaning}")
            return
        if number == self._value:
            self.text.restore()
            self.show_message("")
        else:
            self.try_edit(number)
