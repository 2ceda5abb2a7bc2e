"""Row of a table: any number of parts of one type, one per line."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QContextMenuEvent, QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QMenu, QPushButton, QWidget

from models.errors import InputError
from models.fields import Part, Path
from workbench.editor.conversions import next_item
from workbench.editor.entry import INDENT, MISSING, Host, Row
from workbench.editor.pasted import pasted_rows, read_cell, rows_text
from workbench.editor.plan import FieldPlan, Number, Table
from workbench.editor.table_head import fill_units
from workbench.editor.table_model import TableModel
from workbench.editor.table_view import TableView
from workbench.help.context import HINT

__all__ = ["TableRow"]


class TableRow(Row):
    """Edits a tuple of parts: cells in place, lines added and removed, text to and from a spreadsheet."""

    def __init__(self, host: Host, path: Path, field: FieldPlan, table: Table) -> None:
        super().__init__(host, path, field)
        self._table = table
        self._reference: Any = MISSING
        self.model = TableModel(table.columns, lambda: host.units, self._take)
        self.view = TableView(host, self.model, self)
        self.name(self.view)
        self.add_button = self._button("Add", "Add a line below (Insert)", self.add)
        self.remove_button = self._button("Remove", "Remove the chosen lines (Delete)", self.remove)
        self.copy_button = self._button(
            "Copy", "Copy the chosen cells, or all, for a spreadsheet (Ctrl+C)", self.copy
        )
        self.paste_button = self._button(
            "Paste",
            "Paste from a spreadsheet (Ctrl+V): several lines as wide as the table replace it,\n"
            "anything else is written from the chosen cell on",
            self.paste,
        )
        self._lay_out()
        self.setToolTip(f"{self.label}\n{self.meaning}\n{HINT}")
        for wanted, act in (
            (self.view.add_wanted, self.add),
            (self.view.remove_wanted, self.remove),
            (self.view.copy_wanted, self.copy),
            (self.view.paste_wanted, self.paste),
        ):
            wanted.connect(act)
        self.view.unit_chosen.connect(host.choose_unit)
        self.view.abandoned.connect(self._hide_message)

    def _button(self, text: str, tip: str, act: Any) -> QPushButton:
        button = QPushButton(text, self)
        button.setFlat(True)
        button.setToolTip(tip)
        button.setAccessibleName(f"{text}: {self.label}")
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        button.clicked.connect(lambda: act())
        return button

    def _lay_out(self) -> None:
        tools = QHBoxLayout()
        tools.setContentsMargins(0, 0, 0, 0)
        tools.setSpacing(2)
        for button in self._buttons:
            tools.addWidget(button)
        tools.addStretch(1)
        self.grid.addWidget(self.view, 1, 0, 1, 3)
        self.grid.addLayout(tools, 3, 0, 1, 3)
        self.grid.setContentsMargins(INDENT, 3, 2, 3)

    @property
    def _buttons(self) -> tuple[QPushButton, ...]:
        return self.add_button, self.remove_button, self.copy_button, self.paste_button

    def tab_stops(self) -> list[QWidget]:
        return [self.view, *self._buttons]

    def show_value(self, value: Any) -> None:
        if value is not self.model.rows and value != self.model.rows:
            self.model.show_rows(value)
            self._show_differs()
            self._hide_message()

    def show_reference(self, reference: Any) -> None:
        self._reference = reference
        self._show_differs()

    def show_units(self) -> None:
        self.model.show_units()
        self.view.fit()

    def forget_input(self) -> None:
        super().forget_input()
        self.model.forget_drafts()

    def _show_differs(self) -> None:
        self.set_differs(self._reference is not MISSING and self._reference != self.model.rows)

    def _hide_message(self) -> None:
        if not self.model.drafts:
            self.show_message("")

    # -- what the user does --------------------------------------------------------------------------

    def _take(self, row: int, column: int, text: str) -> bool:
        """Edit one cell by what was typed into it."""
        field = self._table.columns[column]
        name = f"{field.label} in row {row + 1}"
        try:
            value = read_cell(field, text, self.host.units, name)
            if value != getattr(self.model.rows[row], field.name):
                self.host.edit((*self.path, row, field.name), value)
        except InputError as error:
            reason = error.problems[0].reason
            self.show_message(reason if field.label in reason else f"{name}: {reason}")
            return False
        self.show_message("")
        return True

    def add(self) -> None:
        """Add a line below the chosen one, or at the end."""
        rows = self.model.rows
        chosen = self.view.chosen_rows()
        place = chosen[-1] if chosen else len(rows) - 1
        try:
            new = next_item(rows, place, self._table.part_type)
        except InputError as error:
            self.show_message("\n".join(problem.reason for problem in error.problems))
            return
        if self.try_edit((*rows[: place + 1], new, *rows[place + 1 :])):
            self._go_to(place + 1)

    def remove(self) -> None:
        """Remove the chosen lines."""
        chosen = self.view.chosen_rows()
        left = tuple(row for place, row in enumerate(self.model.rows) if place not in chosen)
        if chosen and self.try_edit(left):
            self._go_to(min(chosen[0], len(left) - 1))

    def copy(self) -> None:
        """Put the chosen cells, or all if there is but one, into the clipboard."""
        cells = self.view.selectedIndexes()
        rows, columns = sorted({cell.row() for cell in cells}), sorted({cell.column() for cell in cells})
        if len(cells) < 2:
            rows, columns = list(range(len(self.model.rows))), list(range(len(self._table.columns)))
        fields = [self._table.columns[column] for column in columns]
        parts: list[Part] = [self.model.rows[row] for row in rows]
        QGuiApplication.clipboard().setText(rows_text(fields, parts, self.host.units))

    def paste(self) -> None:
        """Take what is in the clipboard."""
        current = self.view.currentIndex()
        place = (max(current.row(), 0), max(current.column(), 0))
        text = QGuiApplication.clipboard().text()
        try:
            rows = pasted_rows(self._table, self.model.rows, text, place, self.host.units)
        except InputError as error:
            self.show_message("\n".join(problem.reason for problem in error.problems))
        else:
            self.try_edit(rows)

    def _go_to(self, row: int) -> None:
        column = max(self.view.currentIndex().column(), 0)
        self.view.setCurrentIndex(self.model.index(row, column))

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for button, act in zip(self._buttons, (self.add, self.remove, self.copy, self.paste), strict=True):
            menu.addAction(button.text(), act)
        menu.addSeparator()
        shown: set[str] = set()
        for column, field in enumerate(self._table.columns):
            if not isinstance(field.shape, Number) or field.shape.quantity.kind_name in shown:
                continue
            kind = field.shape.quantity.kind
            shown.add(kind.name)
            units = menu.addMenu(f"Unit of {kind.name}")
            fill_units(units, kind.units, self.model.unit(column)).triggered.connect(
                lambda action, name=kind.name: self.host.choose_unit(name, action.text())
            )
        menu.popup(event.globalPos())
