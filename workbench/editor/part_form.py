"""Form of any data model, made from the description of its fields."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from itertools import pairwise
from typing import assert_never

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu, QSizePolicy, QVBoxLayout, QWidget

from models.charts import Chart
from models.fields import Part, Path
from models.linkage import Arm, BarLever, Rocker
from models.units import METRIC, UnitChoice
from models.vehicle import AS_DESIGNED, LoadCase
from workbench.editor.blocks import GroupBlock, Rows
from workbench.editor.choice_row import ChoiceRow
from workbench.editor.entry import MISSING, Entry, Row
from workbench.editor.kinds_block import KindsBlock
from workbench.editor.maybe_block import MaybeBlock
from workbench.editor.plan import (
    Choice,
    FieldPlan,
    Group,
    Kinds,
    Maybe,
    Number,
    Table,
    Text,
    WholeNumber,
    plan,
)
from workbench.editor.quantity_row import QuantityRow
from workbench.editor.style import dress
from workbench.editor.table_row import TableRow
from workbench.editor.target import EditTarget
from workbench.editor.text_row import TextRow
from workbench.theme import LIGHT, Theme

__all__ = ["PartForm"]

# Many rows of places that are easier set on a page of their own.
_FOLDED = (Arm, Rocker, BarLever)


class PartForm(QWidget):
    """Edits the part at a path of a target and follows its changes.

    Signals:
        units_changed: the user chose a unit: name of the kind of quantity, unit.
        restructured: rows came or went.
        restarted: wholly other data came in; text that was typed and not taken is dropped.
        shown: the form shows another value or other units.
        export_wanted: the user wants the :class:`Chart` of a law as a file.
    """

    units_changed = Signal(str, str)
    restructured = Signal()
    restarted = Signal()
    shown = Signal()
    export_wanted = Signal(object)

    def __init__(
        self,
        part_type: type[Part],
        target: EditTarget | None = None,
        path: Path | Callable[[], Path] = (),
        title: str = "",
        parent: QWidget | None = None,
        *,
        only: Collection[str] = (),
        folded: Collection[str] = (),
    ) -> None:
        """Make the rows of ``part_type``.

        Args:
            part_type: what is edited.
            target, path: as of :meth:`set_target`.
            title: put over the plain fields of the part.
            parent: of the form.
            only: fields that get rows; all where none is named.
            folded: fields whose groups are folded away, and have no rows, until they are opened.
        """
        super().__init__(parent)
        self._folded = folded
        #: May turn the edit of one field into one of the whole part, where other fields have to follow.
        self.whole_edit: Callable[[Path, object, int | None], Part | None] | None = None
        #: Adds to the menu of a row what may be done with its value beside editing it.
        self.menu_filler: Callable[[Row, QMenu], None] | None = None
        self._target: EditTarget | None = None
        self._path: Callable[[], Path] = tuple
        self._shown_path: Path | None = None
        self._shown_root: Part | None = None
        self._units: dict[str, str] = dict(METRIC)
        self._theme = LIGHT
        self._reference: Part | None = None
        self._load = AS_DESIGNED
        self._sought = ""
        #: Rows that say why input was refused.
        self.telling: set[Row] = set()
        fields = tuple(field for field in plan(part_type) if not only or field.name in only)
        self._entries = self._make_entries(part_type, fields, title)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        for entry in self._entries:
            layout.addWidget(entry)
        layout.addStretch(1)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.MinimumExpanding)
        dress(self, self._theme)
        self.setEnabled(False)
        self.restarted.connect(self._forget_input)
        if target is not None:
            self.set_target(target, path)

    def _make_entries(self, part_type: type[Part], fields: tuple[FieldPlan, ...], title: str) -> list[Entry]:
        if not title:
            return [Rows(self, (), fields, 0)]
        plain = [field for field in fields if not isinstance(field.shape, (Group, Kinds, Maybe, Table))]
        head = FieldPlan("", title, "", Group(part_type))
        return [GroupBlock(self, (), head, plain, 0), Rows(self, (), fields[len(plain) :], 0)]

    def set_target(self, target: EditTarget, path: Path | Callable[[], Path]) -> None:
        """Edit the part at ``path`` of ``target``.

        Args:
            target: the document.
            path: where the part stands; a function if that may change (another candidate).
        """
        self.release()
        self._target = target
        self._path = path if callable(path) else lambda: path
        self._shown_path = None
        target.changed.connect(self.refresh)
        target.opened.connect(self._start_anew)
        self.setEnabled(True)
        self.refresh()

    def release(self) -> None:
        """Follow no target any more, as when its part is gone."""
        if self._target is not None:
            self._target.changed.disconnect(self.refresh)
            self._target.opened.disconnect(self._start_anew)
            self._target = None
            self.setEnabled(False)

    def _forget_input(self) -> None:
        for row in self.rows():
            row.forget_input()

    def _start_anew(self) -> None:
        self._shown_path = None
        self.refresh()

    def refresh(self) -> None:
        """Show the part as it stands; rows whose value did not change are left alone."""
        path = self._path()
        if path != self._shown_path:
            self._shown_path, self._shown_root = path, None
            self.restarted.emit()
        root = self.root()
        if root is self._shown_root:
            return
        self._shown_root = root
        for entry in self._entries:
            entry.show_value(root)
        self.shown.emit()

    def set_reference(self, part: Part | None) -> None:
        """Mark what differs from ``part``; None marks nothing."""
        self._reference = part
        for entry in self._entries:
            entry.show_reference(MISSING if part is None else part)

    @property
    def reference(self) -> Part | None:
        """The part that is compared with."""
        return self._reference

    @property
    def load(self) -> LoadCase:
        """Load case whose standing is marked in plots."""
        return self._load

    def set_load(self, load: LoadCase) -> None:
        """Mark in plots where the car stands with a load case."""
        if load is not self._load:
            self._load, self._shown_root = load, None
            if self._target is not None:
                self.refresh()

    def export(self, chart: Chart) -> None:
        """Pass on that the user wants a chart as a file."""
        self.export_wanted.emit(chart)

    @property
    def units(self) -> Mapping[str, str]:
        """Unit of display per kind of quantity."""
        return self._units

    def set_units(self, units: UnitChoice) -> None:
        """Show quantities in these units; kinds that are not named keep theirs."""
        self._units.update(units)
        for entry in self._entries:
            entry.show_units()
        self.shown.emit()

    def choose_unit(self, kind_name: str, unit: str) -> None:
        """Show one kind of quantity in another unit, and tell."""
        if self._units.get(kind_name) != unit:
            self.set_units({kind_name: unit})
            self.units_changed.emit(kind_name, unit)

    @property
    def theme(self) -> Theme:
        """Colours in use."""
        return self._theme

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self._theme = theme
        dress(self, theme)
        self.update()

    def search(self, text: str) -> bool:
        """Show only rows that match all words of ``text``; tells whether there are any."""
        self._sought = text
        found = [entry.seek(text.lower().split(), "") for entry in self._entries]  # shows or hides each
        return any(found)

    def rows(self) -> Iterator[Row]:
        """All rows, in order of reading."""
        for entry in self._entries:
            yield from entry.rows()

    def row(self, *path: str | int) -> Row:
        """Row at a path; raises KeyError if there is none."""
        for row in self.rows():
            if row.path == path:
                return row
        raise KeyError(path)

    def root(self) -> Part:
        """The part as it stands."""
        assert self._target is not None
        part: Part = self._target.value(self._path())
        return part

    def edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        """Pass an edit on; raises InputError where it is refused."""
        assert self._target is not None
        if self.whole_edit is not None:
            whole = self.whole_edit(path, value, gesture)
            if whole is not None:
                self._target.edit(self._path(), whole, gesture)
                return
        self._target.edit((*self._path(), *path), value, gesture)

    def watch(self, slot: Callable[[], None]) -> None:
        """Call ``slot`` whenever the form shows another value or other units."""
        self.shown.connect(slot)

    def fill_menu(self, row: Row, menu: QMenu) -> None:
        """Add what may be done with the value of a row beside editing it."""
        if self.menu_filler is not None:
            self.menu_filler(row, menu)

    def structure_changed(self) -> None:
        """Put the keys of Tab in order of reading after rows came or went; hide those not searched for."""
        if self._sought:
            self.search(self._sought)
        for first, second in pairwise(self.tab_stops()):
            QWidget.setTabOrder(first, second)
        self.restructured.emit()

    def tab_stops(self) -> list[QWidget]:
        """Widgets that Tab visits, in order of reading."""
        return [stop for entry in self._entries for stop in entry.tab_stops()]

    def entry(self, path: Path, field: FieldPlan, depth: int = 0) -> Entry:
        """Make the entry of one field."""
        match field.shape:
            case Number(quantity):
                return QuantityRow(self, path, field, quantity)
            case Choice(options):
                return ChoiceRow(self, path, field, options)
            case Text():
                return TextRow(self, path, field, whole_number=False)
            case WholeNumber():
                return TextRow(self, path, field, whole_number=True)
            case Group(part_type):
                folded = field.name in self._folded or part_type in _FOLDED
                return GroupBlock(self, path, field, plan(part_type), depth, folded)
            case Kinds(types):
                return KindsBlock(self, path, field, types, depth)
            case Maybe(types):
                return MaybeBlock(self, path, field, types, depth)
            case Table():
                return TableRow(self, path, field, field.shape)
            case _:
                assert_never(field.shape)
