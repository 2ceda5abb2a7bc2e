"""A part of several kinds: a choice of kinds and the rows of the present one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from PySide6.QtWidgets import QLabel, QWidget

from models.errors import InputError
from models.fields import Part, Path, follow
from workbench.editor.blocks import Block
from workbench.editor.choice_row import ChoiceRow
from workbench.editor.conversions import other_kind, remark
from workbench.editor.entry import MISSING, Host, Row
from workbench.editor.plan import FieldPlan, plan

__all__ = ["KindsBlock"]


class KindsBlock(Block):
    """A part that is one of several kinds: a choice of kinds and the rows of the present one."""

    def __init__(
        self, host: Host, path: Path, field: FieldPlan, types: tuple[type[Part], ...], depth: int
    ) -> None:
        super().__init__(host, path, field, depth)
        self._types = {part_type.model_fields["kind"].default: part_type for part_type in types}
        self._kind: str | None = None
        self._reference: Any = MISSING
        self.choice = _KindRow(host, path, field, self._types)
        self._layout.addWidget(self.choice)

    def show_value(self, value: Any) -> None:
        self.choice.show_part(value)
        if value.kind != self._kind:
            self._kind = value.kind
            self._set_body(plan(type(value)))
            assert self._body is not None
            self._body.show_value(value)
            self.show_reference(self._reference)
            self.host.structure_changed()
        else:
            assert self._body is not None
            self._body.show_value(value)
            self._note_differs()

    def show_reference(self, reference: Any) -> None:
        self._reference = reference
        kind = getattr(reference, "kind", MISSING)
        self.choice.show_reference(kind)
        if self._body is not None:
            self._body.show_reference(reference if kind == self._kind else MISSING)
            self._note_differs()

    def _note_differs(self) -> None:
        self.differs = self.choice.differs or (self._body is not None and self._body.differs)

    def rows(self) -> Iterator[Row]:
        yield self.choice
        yield from super().rows()

    def tab_stops(self) -> list[QWidget]:
        return [*self.choice.tab_stops(), *self._stops_below()]


class _KindRow(ChoiceRow):
    """Choice of the kind of a part; what it means for the values is said by the conversions."""

    def __init__(self, host: Host, path: Path, field: FieldPlan, types: dict[str, type[Part]]) -> None:
        super().__init__(host, path, field, tuple(types))
        self._types = types
        self.remark = QLabel(self)
        self.remark.setObjectName("remark")
        self.remark.hide()
        self.grid.addWidget(self.remark, 1, 0)

    def show_part(self, part: Any) -> None:
        self.show_value(part.kind)
        text = remark(part)
        self.remark.setText(text)
        self.remark.setVisible(bool(text))

    def chosen(self, option: str) -> None:
        root = self.host.root()
        owner, present = follow(root, self.path[:-1]), follow(root, self.path)
        try:
            part = other_kind(root, owner, present, self._types[option])
        except InputError as error:
            self.show_message(str(error))
        else:
            self.try_edit(part)
