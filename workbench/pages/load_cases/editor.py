"""What the car may carry: the load cases of the project, and the choice of the one in force."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from models.fields import Path, follow
from models.project import (
    add_load_case,
    choose_load_case,
    duplicate_load_case,
    remove_load_case,
    rename_load_case,
)
from models.units import METRIC, UnitChoice, format_value
from models.vehicle import AS_DESIGNED, Load, LoadCase
from workbench.document import Document
from workbench.editor import PartForm
from workbench.editor.style import dress
from workbench.theme import LIGHT, Theme

__all__ = ["LoadCaseChooser", "LoadCaseEditor"]

_FIRST = LoadCase(name="load case", loads=(Load(name="driver"),))


class LoadCaseEditor(QWidget):
    """All load cases, each with its name and its table of loads; every change is one undo step.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
    """

    units_changed = Signal(str, str)

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._target = _CaseTarget(document, self)
        self._units: dict[str, str] = dict(METRIC)
        self._theme = LIGHT
        self.cases: list[_CaseBox] = []
        self.hint = QLabel("No load cases yet: the car is as designed.", self)
        self.hint.setObjectName("hint")
        self.hint.setWordWrap(True)
        self.add_button = QPushButton("Add load case", self)
        self.add_button.setObjectName("add")
        self.add_button.clicked.connect(self._add)
        self._list = QVBoxLayout()
        self._list.setSpacing(10)
        self._build()
        document.changed.connect(self._update)
        document.opened.connect(self._update)
        self.set_theme(LIGHT)
        self._update()

    def _build(self) -> None:
        content = QWidget()
        column = QVBoxLayout(content)
        column.setContentsMargins(6, 6, 4, 6)
        column.setSpacing(8)
        column.addWidget(self.hint)
        column.addLayout(self._list)
        column.addWidget(self.add_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        area = QScrollArea(self)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(content)
        content.setAutoFillBackground(False)
        area.viewport().setAutoFillBackground(False)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(area)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        dress(self, theme)
        for box in self.cases:
            box.form.set_theme(theme)

    def set_units(self, units: UnitChoice) -> None:
        """Show quantities in these units."""
        self._units.update(units)
        for box in self.cases:
            box.form.set_units(units)
            box.show_case(self._document.project.load_case)

    def _add(self) -> None:
        project = self._document.project
        longer = add_load_case(project, _FIRST)
        self._document.apply(f"new {longer.load_cases[-1].name}", longer)
        form = self.cases[-1].form
        form.tab_stops()[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def _update(self) -> None:
        project = self._document.project
        while len(self.cases) > len(project.load_cases):
            box = self.cases.pop()
            box.form.release()
            box.hide()
            box.deleteLater()
        while len(self.cases) < len(project.load_cases):
            box = _CaseBox(self._document, self._target, len(self.cases))
            box.form.set_units(self._units)
            box.form.set_theme(self._theme)
            box.form.units_changed.connect(self.units_changed)
            box.form.units_changed.connect(lambda kind, unit: self.set_units({kind: unit}))
            self.cases.append(box)
            self._list.addWidget(box)
        for box in self.cases:
            box.show_case(project.load_case)
        self.hint.setVisible(not project.load_cases)


class _CaseBox(QWidget):
    """One load case: what it weighs, what can be done with it, its name and its loads."""

    def __init__(self, document: Document, target: _CaseTarget, place: int) -> None:
        super().__init__()
        self._document = document
        self._place = place
        self.sum = QLabel(self)
        self.sum.setObjectName("hint")
        self.duplicate_button = self._button("Duplicate", duplicate_load_case, "copy of")
        self.remove_button = self._button("Remove case", remove_load_case, "removal of")
        self.form = PartForm(LoadCase, target, ("load_cases", place))
        line = QHBoxLayout()
        line.setContentsMargins(10, 0, 2, 0)
        line.addWidget(self.sum, 1)
        line.addWidget(self.duplicate_button)
        line.addWidget(self.remove_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 6, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.form)
        column.addLayout(line)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    @property
    def case(self) -> LoadCase:
        """The load case as it stands."""
        return self._document.project.load_cases[self._place]

    def show_case(self, chosen: str) -> None:
        """Show what the loads weigh together, and whether they are the ones in force."""
        unit = self.form.units["mass"]
        total = sum(load.mass for load in self.case.loads)
        text = f"{format_value(total, unit, 'kg')} {unit} in all" if self.case.loads else "no loads"
        self.sum.setText(text + (", in force" if self.case.name == chosen else ""))

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._place:  # a rule between load cases
            painter = QPainter(self)
            painter.setPen(QColor(self.form.theme.rule))
            painter.drawLine(0, 0, self.width(), 0)

    def _button(self, text: str, change: Any, word: str) -> QPushButton:
        button = QPushButton(text, self)
        button.setFlat(True)
        button.clicked.connect(
            lambda: self._document.apply(
                f"{word} {self.case.name}", change(self._document.project, self.case.name)
            )
        )
        return button


class _CaseTarget(QObject):
    """The document, but a new name of a load case goes with the choice of the one in force."""

    def __init__(self, document: Document, parent: QObject) -> None:
        super().__init__(parent)
        self._document = document

    @property
    def changed(self) -> Any:
        return self._document.changed

    @property
    def opened(self) -> Any:
        return self._document.opened

    def value(self, path: Path) -> Any:
        return follow(self._document.project, path)

    def edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        if path[0] == "load_cases" and path[2:] == ("name",):
            project = self._document.project
            old = self.value(path)
            self._document.apply(f"rename of {old}", rename_load_case(project, old, str(value)))
        else:
            self._document.edit(path, value, gesture)


class LoadCaseChooser(QComboBox):
    """Chooses what the car carries: nothing beyond its design, or one of the load cases."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.setAccessibleName("Load case")
        self.setToolTip("What the car carries in all results")
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.setMaximumWidth(200)
        document.changed.connect(self._update)
        document.opened.connect(self._update)
        self.activated.connect(self._choose)
        self._update()

    def _names(self) -> list[str]:
        return [AS_DESIGNED.name, *(case.name for case in self._document.project.load_cases)]

    def _update(self) -> None:
        names = self._names()
        with QSignalBlocker(self):
            if [self.itemData(place) for place in range(self.count())] != names:
                self.clear()
                for name in names:
                    self.addItem(name[0].upper() + name[1:], name)
            self.setCurrentIndex(names.index(self._document.project.load_case))

    def _choose(self, place: int) -> None:
        name = self._names()[place]
        self._document.apply(f"choice of {name}", choose_load_case(self._document.project, name))
