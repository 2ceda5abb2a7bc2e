"""Button that shows the unit of a row and offers the others of its kind."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QActionGroup
from PySide6.QtWidgets import QMenu, QPushButton, QWidget

from models.units import Kind

__all__ = ["UnitButton"]


class UnitButton(QPushButton):
    """Flat; a kind with only one unit shows it as plain text."""

    chosen = Signal(str)

    def __init__(self, kind: Kind, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kind = kind
        self.setFlat(True)
        if len(kind.units) == 1:
            self.setEnabled(False)
            self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        else:
            self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            self.clicked.connect(self._offer)

    def show_unit(self, unit: str) -> None:
        """Show a unit; "1" is shown as nothing."""
        self.setText("" if unit == "1" and len(self._kind.units) == 1 else unit)

    def _offer(self) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        group = QActionGroup(menu)
        for unit in self._kind.units:
            action = menu.addAction("1 (ratio)" if unit == "1" else unit)
            action.setCheckable(True)
            action.setChecked(unit == self.text())
            group.addAction(action)
            action.triggered.connect(lambda _=False, unit=unit: self.chosen.emit(unit))
        menu.popup(self.mapToGlobal(QPoint(0, self.height())))
