"""A part that may be absent: a tick and, where it is there, its rows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from PySide6.QtWidgets import QWidget

from models.fields import Part, Path, follow
from workbench.editor.blocks import Block
from workbench.editor.conversions import first_part
from workbench.editor.entry import MISSING, Host, Row
from workbench.editor.kinds_block import KindsBlock
from workbench.editor.plan import FieldPlan, Kinds, plan
from workbench.editor.tick_box import TickBox

__all__ = ["MaybeBlock"]


class MaybeBlock(Block):
    """A part that may be absent: a tick brings its rows, which start as a copy of its sibling."""

    def __init__(
        self, host: Host, path: Path, field: FieldPlan, types: tuple[type[Part], ...], depth: int
    ) -> None:
        super().__init__(host, path, field, depth)
        self._field = field
        self._types = types
        self._present = False
        self._reference: Any = MISSING
        self.tick = _TickRow(host, path, field, types)
        self._layout.addWidget(self.tick)

    def show_value(self, value: Any) -> None:
        self.tick.show_value(value is not None)
        if (value is not None) != self._present:
            self._present = value is not None
            self._remove_body()
            if value is not None:
                self._show_body(value)
            self.show_reference(self._reference)
            self.host.structure_changed()
        elif self._body is not None:
            self._body.show_value(value)
            self._note_differs()

    def show_reference(self, reference: Any) -> None:
        self._reference = reference
        self.tick.show_reference(MISSING if reference is MISSING else reference is not None)
        if self._body is not None:
            self._body.show_reference(MISSING if reference is None else reference)
        self._note_differs()

    def _show_body(self, value: Part) -> None:
        if len(self._types) == 1:
            self._set_body(plan(self._types[0]))
        else:
            kind = FieldPlan(self._field.name, "Kind", self._field.meaning, Kinds(self._types))
            self._put_body(KindsBlock(self.host, self.path, kind, self._types, self._depth + 1))
        assert self._body is not None
        self._body.show_value(value)

    def _note_differs(self) -> None:
        self.differs = self.tick.differs or (self._body is not None and self._body.differs)

    def rows(self) -> Iterator[Row]:
        yield self.tick
        yield from super().rows()

    def tab_stops(self) -> list[QWidget]:
        return [*self.tick.tab_stops(), *self._stops_below()]


class _TickRow(Row):
    """Tick that says whether a part is there."""

    def __init__(self, host: Host, path: Path, field: FieldPlan, types: tuple[type[Part], ...]) -> None:
        super().__init__(host, path, field)
        self._types = types
        self._present = False
        self._reference: Any = MISSING
        self.name_label.hide()
        self.box = TickBox(host, field.label, self)
        self.box.setAccessibleDescription(field.meaning)
        self.box.clicked.connect(self._clicked)
        self.grid.addWidget(self.box, 0, 0, 1, 3)
        self.setToolTip(field.meaning)

    def tab_stops(self) -> list[QWidget]:
        return [self.box]

    def show_value(self, value: Any) -> None:
        self._present = value
        self.box.setChecked(value)
        self.set_differs(self._reference is not MISSING and self._reference != value)

    def show_reference(self, reference: Any) -> None:
        self._reference = reference
        self.set_differs(reference is not MISSING and reference != self._present)

    def _clicked(self, wanted: bool) -> None:
        self.try_edit(self._first_value() if wanted else None)
        self.box.setChecked(self._present)

    def _first_value(self) -> Part:
        owner = follow(self.host.root(), self.path[:-1])
        return first_part(owner, str(self.path[-1]), self._types)
