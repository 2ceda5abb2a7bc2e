"""Entries that hold entries: the fields of a part, bare or under a title."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from models.fields import Part, Path
from workbench.editor.entry import INDENT, MISSING, Entry, Host, Row
from workbench.editor.law_plot import law_plots
from workbench.editor.plan import FieldPlan, Group, Kinds, Maybe, Shape
from workbench.editor.title import Title

__all__ = ["Block", "GroupBlock", "Rows"]


class Rows(Entry):
    """The entries of fields of one part, one below the other."""

    def __init__(
        self,
        host: Host,
        path: Path,
        fields: Iterable[FieldPlan],
        depth: int,
        part_types: tuple[type[Part], ...] = (),
    ) -> None:
        """Make the entries of ``fields``, and plots below where one of ``part_types`` has a law."""
        super().__init__(host, path, "")
        self._shown: Any = MISSING
        self._entries = [host.entry((*path, field.name), field, depth) for field in fields]
        layout = QVBoxLayout(self)
        layout.setContentsMargins(INDENT if depth else 0, 0, 0, 0)
        layout.setSpacing(0)
        for entry in self._entries:
            layout.addWidget(entry)
        self._plots = law_plots(host, path, part_types)
        for plot in self._plots:
            layout.addWidget(plot)

    def show_value(self, value: Any) -> None:
        # A message in a row below may have to go although its part stays: a rule between parts holds again.
        if value is self._shown and not self.host.telling:
            return
        self._shown = value
        for entry in self._entries:
            entry.show_value(getattr(value, str(entry.path[-1])))
        for plot in self._plots:
            plot.show_value(value)
        self._note_differs()

    def show_reference(self, reference: Any) -> None:
        for entry in self._entries:
            entry.show_reference(getattr(reference, str(entry.path[-1]), MISSING))
        for plot in self._plots:
            plot.show_reference(reference)
        self._note_differs()

    def _note_differs(self) -> None:
        self.differs = any(entry.differs for entry in self._entries)

    def show_units(self) -> None:
        for entry in self._entries:
            entry.show_units()
        for plot in self._plots:
            plot.show_units()

    def seek(self, words: Iterable[str], place: str) -> bool:
        words = tuple(words)
        for plot in self._plots:
            plot.seek(words, place)
        found = [entry.seek(words, place) for entry in self._entries]  # shows or hides each of them
        return any(found)

    def rows(self) -> Iterator[Row]:
        for entry in self._entries:
            yield from entry.rows()

    def tab_stops(self) -> list[QWidget]:
        return [stop for entry in self._entries for stop in entry.tab_stops()]


class Block(Entry):
    """A head and, indented below it, the rows of a part."""

    def __init__(self, host: Host, path: Path, field: FieldPlan, depth: int) -> None:
        super().__init__(host, path, field.label)
        self._depth = depth
        self._part_types = _part_types(field.shape)
        self._body: Entry | None = None
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(0)

    def _set_body(self, fields: Iterable[FieldPlan]) -> None:
        self._put_body(Rows(self.host, self.path, fields, self._depth + 1, self._part_types))

    def _put_body(self, body: Entry) -> None:
        self._remove_body()
        self._body = body
        self._layout.addWidget(body)

    def _remove_body(self) -> None:
        if self._body is not None:
            for row in self._body.rows():
                row.forget_input()  # it would be committed when the focus leaves the hidden row
            self._body.hide()
            self._body.deleteLater()
            self._body = None

    def show_units(self) -> None:
        if self._body is not None:
            self._body.show_units()

    def seek(self, words: Iterable[str], place: str) -> bool:
        words = tuple(words)
        inside = f"{place} {self.label.lower()}"
        found = self._body is not None and self._body.seek(words, inside)
        found = found or all(word in inside for word in words)
        self.setVisible(found)
        return found

    def rows(self) -> Iterator[Row]:
        if self._body is not None:
            yield from self._body.rows()

    def _stops_below(self) -> list[QWidget]:
        return self._body.tab_stops() if self._body is not None else []


class GroupBlock(Block):
    """Fields of a part under a title that folds them away; folded at first, its rows are made on opening."""

    def __init__(
        self,
        host: Host,
        path: Path,
        field: FieldPlan,
        fields: Iterable[FieldPlan],
        depth: int,
        folded: bool = False,
    ) -> None:
        super().__init__(host, path, field, depth)
        self._folded = folded
        self._fields = tuple(fields)
        self._value: Any = MISSING
        self._reference: Any = MISSING
        self.title = Title(host, field.label, depth)
        self.title.setToolTip(field.meaning)
        self.title.clicked.connect(self._toggle)
        self._layout.addWidget(self.title)
        if folded:
            self.title.set_open(False)
        else:
            self._set_body(self._fields)

    @property
    def folded(self) -> bool:
        """Whether the rows are folded away."""
        return self._folded

    def fold(self, folded: bool) -> None:
        """Fold the rows away or show them."""
        self._folded = folded
        self._show_body(not folded)

    def show_value(self, value: Any) -> None:
        self._value = value
        if self._body is not None:
            self._body.show_value(value)
        self._note_differs()

    def show_reference(self, reference: Any) -> None:
        self._reference = reference
        if self._body is not None:
            self._body.show_reference(reference)
        self._note_differs()

    def seek(self, words: Iterable[str], place: str) -> bool:
        words = tuple(words)
        if words:
            self._make_body()
        found = super().seek(words, place)
        self._show_body(bool(words) or not self._folded)
        return found

    def tab_stops(self) -> list[QWidget]:
        return [self.title, *self._stops_below()]

    def _note_differs(self) -> None:
        if self._body is not None:
            self.differs = self._body.differs
        else:
            self.differs = self._reference is not MISSING and self._reference != self._value
        self.title.set_marked(self.differs)

    def _toggle(self) -> None:
        self.fold(self.title.open)

    def _show_body(self, shown: bool) -> None:
        if shown:
            self._make_body()
        if self._body is not None:
            self._body.setVisible(shown)
        self.title.set_open(shown)

    def _make_body(self) -> None:
        if self._body is not None:
            return
        self._set_body(self._fields)
        assert self._body is not None
        self._body.show_reference(self._reference)
        if self._value is not MISSING:
            self._body.show_value(self._value)
        self.host.structure_changed()


def _part_types(shape: Shape) -> tuple[type[Part], ...]:
    match shape:
        case Group(part_type):
            return (part_type,)
        case Kinds(types) | Maybe(types):
            return types
    return ()
