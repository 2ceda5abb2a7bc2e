"""The definition of the study on show: its car, numbers, figures and situations."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from models.project import Project
from models.studies import study_figures
from models.study import Study, TunedStart
from models.units import UnitChoice
from workbench.inset import inset
from workbench.pages.studies.chosen_study import ChosenStudy
from workbench.pages.studies.definition import numbers_of
from workbench.pages.studies.figure_tree import FigureTree
from workbench.pages.studies.number_tree import NumberTree
from workbench.pages.studies.plain_form import PlainForm
from workbench.pages.studies.situation_rows import SituationRows
from workbench.theme import Theme

__all__ = ["DefinitionSide"]


class DefinitionSide(QWidget):
    """Shows the definition, and hands what the user does to it to the chosen study.

    Signals:
        refused(object, str): what was typed is refused: the label for the reason, and the reason.
    """

    refused = Signal(object, str)

    def __init__(
        self, chosen: ChosenStudy, figures_now: Callable[[], dict[str, float]], parent: QWidget | None = None
    ) -> None:
        """Make the rows; ``figures_now`` gives figures (SI) of the car as it is, by key."""
        super().__init__(parent)
        self._chosen = chosen
        self.title, self.variant = QLineEdit(self), QComboBox(self)
        self.numbers, self.situations, self.plain = NumberTree(self), SituationRows(self), PlainForm(self)
        self.figures = FigureTree(figures_now, self)
        self.tick_in_editor = QPushButton("Tick in the editor", self)
        #: Under each part of the definition, why what was typed there is refused.
        self.faults = {part: QLabel(self) for part in (self.numbers, self.figures, self.situations)}
        self.figures_head, self.situations_head = QLabel(self), QLabel("Situations", self)
        self._build()
        self._connect()

    def show_study(self, project: Project, study: Study) -> None:
        """Show a study of a project."""
        self.title.setText(study.name)
        with QSignalBlocker(self.variant):
            self.variant.clear()
            self.variant.addItem("Candidate", "")
            for name in project.names:
                self.variant.addItem(name, name)
            there = not study.variant or study.variant in project.names
            if not there:
                self.variant.addItem(f"{study.variant} (missing)", study.variant)
            self.variant.setCurrentIndex(self.variant.findData(study.variant))
        self.numbers.show_study(study, numbers_of(project, study.variant if there else ""))
        self.plain.show_study(study)
        heads = {"pareto": "Objectives", "tuned start": "Wishes"}
        self.figures_head.setText(heads.get(study.kind, "Figures; none ticked: all"))
        self.figures.show_study(study, study_figures(project.run.model))
        situated = not isinstance(study, TunedStart)
        self.situations.setVisible(situated)
        self.situations_head.setVisible(situated)
        if not isinstance(study, TunedStart):
            self.situations.show_situations(project, study.situations)

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        for part in (self.numbers, self.figures, self.situations):
            part.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        for label in self.faults.values():
            label.setStyleSheet(f"color: {theme.mark};")

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 4, 4)
        column.setSpacing(4)
        column.addLayout(self._names())
        column.addLayout(self._numbers_row())
        column.addWidget(self.numbers, 3)
        column.addLayout(inset(self.faults[self.numbers]))
        column.addWidget(self.plain)
        column.addWidget(self.figures_head)
        figures = QHBoxLayout()
        figures.setContentsMargins(10, 0, 4, 0)
        figures.addWidget(self.figures)
        column.addLayout(figures, 2)
        column.addLayout(inset(self.faults[self.figures]))
        column.addWidget(self.situations_head)
        column.addWidget(self.situations)
        column.addLayout(inset(self.faults[self.situations]))
        for head in (self.figures_head, self.situations_head):
            head.setContentsMargins(10, 4, 0, 0)
        for fault in self.faults.values():
            fault.setWordWrap(True)
            fault.setTextFormat(Qt.TextFormat.PlainText)
            fault.hide()

    def _names(self) -> QHBoxLayout:
        self.title.setAccessibleName("Name of the study")
        self.title.setToolTip("Name of the study")
        self.variant.setAccessibleName("Car of the study")
        self.variant.setToolTip("Car that is varied")
        self.variant.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        row = QHBoxLayout()
        row.setContentsMargins(10, 0, 4, 0)
        row.addWidget(self.title, 1)
        row.addWidget(self.variant, 1)
        return row

    def _numbers_row(self) -> QHBoxLayout:
        head = QLabel("Numbers that are varied", self)
        head.setContentsMargins(10, 4, 0, 0)
        self.tick_in_editor.setCheckable(True)
        self.tick_in_editor.setToolTip("Tick numbers beside their fields in the editor of the car")
        row = QHBoxLayout()
        row.setContentsMargins(0, 2, 4, 0)
        row.addWidget(head, 1)
        row.addWidget(self.tick_in_editor)
        return row

    def _connect(self) -> None:
        chosen = self._chosen
        self.title.editingFinished.connect(self._rename)
        self.variant.activated.connect(lambda _index: chosen.set_field("variant", self.variant.currentData()))
        self.numbers.ticked.connect(chosen.vary)
        self.numbers.bounded.connect(chosen.bound)
        self.plain.edited.connect(chosen.set_field)
        self.situations.edited.connect(lambda every: chosen.set_field("situations", every))
        self.figures.judged.connect(lambda study: chosen.exchange(lambda: study))
        for part, fault in self.faults.items():
            part.refused.connect(partial(self.refused.emit, fault))

    def _rename(self) -> None:
        self._chosen.rename(self.title.text())
        if self._chosen.study is not None:
            self.title.setText(self._chosen.study.name)
