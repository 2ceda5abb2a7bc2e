"""Edits the event of the run in place, whatever its kind."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from models.fields import Part, Path
from models.units import METRIC, UnitChoice
from workbench.document import Document
from workbench.editor import PartForm
from workbench.theme import LIGHT, Theme

__all__ = ["EVENT", "EventForm"]

EVENT: Path = ("run", "event")


class EventForm(QWidget):
    """A form of the event; another kind of event gets another form.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
    """

    units_changed = Signal(str, str)

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._target = _Target(document, self)
        self._type: type[Part] | None = None
        self._units: UnitChoice = METRIC
        self._theme = LIGHT
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self.form: PartForm | None = None
        document.changed.connect(lambda: self._follow(self._target.changed))
        document.opened.connect(lambda: self._follow(self._target.opened))
        self._replace()

    def set_units(self, units: UnitChoice) -> None:
        """Show quantities in these units."""
        self._units = units
        if self.form is not None:
            self.form.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        if self.form is not None:
            self.form.set_theme(theme)

    def _follow(self, news: Any) -> None:
        if type(self._target.value(EVENT)) is self._type:
            news.emit()
        else:
            self._replace()

    def _replace(self) -> None:
        event = self._target.value(EVENT)
        if self.form is not None:
            self.form.restarted.emit()  # what was typed into it must not reach the new event
            self.form.release()
            self.form.hide()
            self.form.deleteLater()
        self._type = type(event)
        self.form = PartForm(type(event), self._target, EVENT, event.kind[0].upper() + event.kind[1:], self)
        self.form.set_units(self._units)
        self.form.set_theme(self._theme)
        self.form.units_changed.connect(self.units_changed)
        self._column.addWidget(self.form)


class _Target(QObject):
    """The document, whose news come when the form is the right one."""

    changed = Signal()
    opened = Signal()

    def __init__(self, document: Document, parent: QObject) -> None:
        super().__init__(parent)
        self._document = document

    def value(self, path: Path) -> Any:
        return self._document.value(path)

    def edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        self._document.edit(path, value, gesture)
