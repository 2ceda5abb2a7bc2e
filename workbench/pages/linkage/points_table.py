"""The joints of a chain as numbers, edited in place."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from models.errors import InputError
from models.fields import Path
from models.linkage import Axis, Joint, Point
from models.units import METRIC, UnitChoice
from workbench.editor.pasted import read_cell, rows_text
from workbench.editor.plan import FieldPlan, plan
from workbench.editor.style import dress
from workbench.editor.table_model import TableModel
from workbench.editor.table_view import TableView
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["PointsTable"]

_PLACE = plan(Point)
_DIRECTION = tuple(field for field in plan(Axis) if field.name in ("along", "across", "upward"))
_AIR = 10

Edit = Callable[[Path, object], None]


class PointsTable(QWidget):
    """Places of all joints, and directions of the axes; a refusal stands below and names the joint.

    Signals:
        chosen(str): name of the joint whose row was gone to.
        unit_chosen(str, str): kind of quantity and unit.
    """

    chosen = Signal(str)
    unit_chosen = Signal(str, str)

    def __init__(self, edit: Edit, parent: QWidget | None = None) -> None:
        """Make empty tables; ``edit`` hands on an edit at a path in the chain, or raises InputError."""
        super().__init__(parent)
        self.theme = LIGHT
        self.units: dict[str, str] = dict(METRIC)
        self.places = _Table(self, _PLACE, edit, "Joints of the linkage")
        self.directions = _Table(self, _DIRECTION, edit, "Directions of the axes")
        self.message = QLabel(self)
        self._build()
        self.places.view.selectionModel().currentRowChanged.connect(self._row_changed)

    def _build(self) -> None:
        self.message.setObjectName("message")
        self.message.setWordWrap(True)
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self.message.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 2, 8, 4)
        column.setSpacing(2)
        for title, table in (
            ("Joints at design trim, from the wheel centre", self.places),
            ("Directions of the axes", self.directions),
        ):
            label = QLabel(title, self)
            label.setFont(small_font(self.font()))
            label.setContentsMargins(0, 4, 0, 2)
            column.addWidget(label)
            column.addWidget(table.view)
            if table is self.places:
                column.addWidget(self.message)
            table.view.unit_chosen.connect(self.unit_chosen)
            table.refused.connect(self.say)
        column.addStretch(1)

    def show_joints(self, joints: tuple[Joint, ...]) -> None:
        """Show the joints of a chain."""
        self.places.show_joints(joints)
        self.directions.show_joints(tuple(joint for joint in joints if isinstance(joint.part, Axis)))

    def choose(self, name: str) -> None:
        """Go to the row of a joint."""
        names = [joint.name for joint in self.places.model.joints]
        if name in names and self.places.view.currentIndex().row() != names.index(name):
            column = max(self.places.view.currentIndex().column(), 0)
            self.places.view.setCurrentIndex(self.places.model.index(names.index(name), column))

    def say(self, message: str) -> None:
        """Say why input was refused, or nothing."""
        if message != self.message.text():
            self.message.setText(message)
            self.message.setVisible(bool(message))

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        self.units.update(units)
        for table in (self.places, self.directions):
            table.model.show_units()
            table.view.fit()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.theme = theme
        dress(self, theme)

    def _row_changed(self, current: QModelIndex, _before: QModelIndex) -> None:
        if current.isValid():
            self.chosen.emit(self.places.model.joints[current.row()].name)


class _Names(TableModel):
    """Rows that have names."""

    joints: tuple[Joint, ...] = ()

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation == Qt.Orientation.Vertical:
            wanted = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole)
            return self.joints[section].label if role in wanted and section < len(self.joints) else None
        return super().headerData(section, orientation, role)


class _Table(QWidget):
    """Numbers of joints in columns.

    Signals:
        refused(str): why input was refused; empty where it was taken.
    """

    refused = Signal(str)

    def __init__(self, owner: PointsTable, fields: tuple[FieldPlan, ...], edit: Edit, name: str) -> None:
        super().__init__(owner)
        self._owner, self._edit = owner, edit
        self.hide()
        self.model = _Names(fields, lambda: owner.units, self._take)
        self.view = TableView(owner, self.model, owner)
        font = small_font(owner.font())
        self.view.setFont(font)
        self.view.verticalHeader().setDefaultSectionSize(self.view.fontMetrics().height() + 5)
        self.view.setAccessibleName(name)
        self.view.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.view.copy_wanted.connect(self._copy)
        self.view.abandoned.connect(lambda: self.refused.emit(""))

    def show_joints(self, joints: tuple[Joint, ...]) -> None:
        """Show joints; texts of the user's give way where their cells change."""
        renamed = [one.label for one in joints] != [one.label for one in self.model.joints]
        self.model.joints = joints
        if renamed:
            self.model.forget_drafts()
        self.model.show_rows(tuple(joint.part for joint in joints))
        if renamed:
            metrics = self.view.verticalHeader().fontMetrics()
            widest = max((metrics.horizontalAdvance(joint.label) for joint in joints), default=0)
            self.view.verticalHeader().setFixedWidth(widest + _AIR)
            self.view.fit()

    def _take(self, row: int, column: int, text: str) -> bool:
        field, joint = self.model.fields[column], self.model.joints[row]
        name = f"{joint.label}, {field.label.lower()}"
        try:
            value = read_cell(field, text, self._owner.units, name)
            if value != getattr(joint.part, field.name):
                self._edit((*joint.path, field.name), value)
        except InputError as error:
            reason = error.problems[0].reason
            self.refused.emit(reason if joint.label in reason else f"{joint.label}: {reason}")
            return False
        self.refused.emit("")
        return True

    def _copy(self) -> None:
        parts = [joint.part for joint in self.model.joints]
        QGuiApplication.clipboard().setText(rows_text(self.model.fields, parts, self._owner.units))
