"""Asks which data of which variants go into files, and in what format."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from models.exports import DATA, FORMATS, why_missing
from models.exports.batch import DataWish
from models.project import Project
from models.units import SI, UnitChoice
from workbench.settings import Settings
from workbench.theme import small_font

__all__ = ["DataDialog"]

_KEPT = "data export"
_AS_SHOWN, _SI = "as shown in the window", "SI"
_ROWS = 6


class DataDialog(QDialog):
    """Kinds of data, variants, format and units; what was chosen last is offered again."""

    def __init__(self, project: Project, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Export data")
        self._settings = settings
        self._units = dict(settings.units)
        self.kinds = {name: QCheckBox(choice.title, self) for name, choice in DATA.items()}
        self.variants = QListWidget(self)
        self.format_box, self.units_box = QComboBox(self), QComboBox(self)
        self.note = QLabel(self)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel, self)
        self.go = self.buttons.addButton("Choose folder…", QDialogButtonBox.ButtonRole.AcceptRole)
        self._fill(project)
        self._lay_out()
        self._connect()
        self._show()

    @property
    def wish(self) -> DataWish:
        """What is chosen."""
        items = [self.variants.item(row) for row in range(self.variants.count())]
        units: UnitChoice = SI if self.units_box.currentText() == _SI else self._units
        return DataWish(
            tuple(item.text() for item in items if item.checkState() == Qt.CheckState.Checked),
            tuple(name for name, box in self.kinds.items() if box.isChecked()),
            self.format_box.currentData(),
            units,
        )

    def accept(self) -> None:
        """Keep the choice for the next time."""
        wish = self.wish
        self._settings.keep_choices(_KEPT, [wish.form, self.units_box.currentText(), *wish.kinds])
        super().accept()

    def _fill(self, project: Project) -> None:
        form, units, *kinds = self._settings.choices(_KEPT, ["csv", _AS_SHOWN, "time"])
        for name, box in self.kinds.items():
            box.setToolTip(DATA[name].meaning)
            box.setChecked(name in kinds)
        self.variants.setAccessibleName("Variants")
        for name in project.names:
            item = QListWidgetItem(name, self.variants)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            chosen = name in (project.candidate, project.baseline)
            item.setCheckState(Qt.CheckState.Checked if chosen else Qt.CheckState.Unchecked)
        for key, choice in FORMATS.items():
            self.format_box.addItem(choice.title, key)
        self.format_box.setCurrentIndex(max(self.format_box.findData(form), 0))
        self.units_box.addItems([_AS_SHOWN, _SI])
        self.units_box.setCurrentText(units)

    def _lay_out(self) -> None:
        self.note.setFont(small_font(self.font()))
        self.note.setWordWrap(True)
        self.note.setTextFormat(Qt.TextFormat.PlainText)
        # Room for two lines, so that nothing moves when the words change.
        self.note.setMinimumHeight(2 * self.note.fontMetrics().lineSpacing() + 2)
        self.note.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self.variants.setSpacing(2)
        self.variants.setFixedHeight(_ROWS * (self.fontMetrics().height() + 6))
        boxes = QVBoxLayout()
        boxes.setSpacing(4)
        for box in self.kinds.values():
            boxes.addWidget(box)
        form = QFormLayout()
        form.setVerticalSpacing(10)
        form.addRow("Data", boxes)
        form.addRow("&Variants", self.variants)
        form.addRow("&Format", self.format_box)
        form.addRow("&Units", self.units_box)
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addWidget(self.note)
        column.addWidget(self.buttons)
        self.setMinimumWidth(420)

    def _connect(self) -> None:
        for box in self.kinds.values():
            box.toggled.connect(self._show)
        self.variants.itemChanged.connect(self._show)
        self.format_box.currentIndexChanged.connect(self._show)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)

    def _show(self) -> None:
        """Say what will be written, or why nothing can be."""
        wish = self.wish
        count = len(wish.variants) * len(wish.kinds)
        missing = why_missing(wish.form)
        files = "1 file" if count == 1 else f"{count} files, one for each kind of data and variant"
        self.note.setText(missing or (f"{files}." if count else "Choose data and variants."))
        self.go.setEnabled(bool(count) and not missing)
