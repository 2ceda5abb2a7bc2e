"""Entries that hold entries: a group, a part of several kinds, a part that may be absent."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QCheckBox, QLabel, QSizePolicy, QVBoxLayout, QWidget

from models.errors import InputError
from models.fields import Part, Path, follow
from workbench.editor.choice_row import ChoiceRow, draw_chevron
from workbench.editor.conversions import other_kind, remark
from workbench.editor.entry import INDENT, MISSING, Entry, Host, Row, draw_mark
from workbench.editor.plan import FieldPlan, plan

__all__ = ["GroupBlock", "KindsBlock", "MaybeBlock", "Rows"]


class Rows(Entry):
    """The entries of fields of one part, one below the other."""

    def __init__(self, host: Host, path: Path, fields: Iterable[FieldPlan], depth: int) -> None:
        super().__init__(host, path, "")
        self._entries = [host.entry((*path, field.name), field, depth) for field in fields]
        layout = QVBoxLayout(self)
        layout.setContentsMargins(INDENT if depth else 0, 0, 0, 0)
        layout.setSpacing(0)
        for entry in self._entries:
            layout.addWidget(entry)

    def show_value(self, value: Any) -> None:
        for entry in self._entries:
            entry.show_value(getattr(value, str(entry.path[-1])))
        self._note_differs()

    def show_reference(self, reference: Any) -> None:
        for entry in self._entries:
            entry.show_reference(getattr(reference, str(entry.path[-1]), MISSING))
        self._note_differs()

    def _note_differs(self) -> None:
        self.differs = any(entry.differs for entry in self._entries)

    def show_units(self) -> None:
        for entry in self._entries:
            entry.show_units()

    def seek(self, words: Iterable[str], place: str) -> bool:
        words = tuple(words)
        found = [entry.seek(words, place) for entry in self._entries]  # shows or hides each of them
        return any(found)

    def rows(self) -> Iterator[Row]:
        for entry in self._entries:
            yield from entry.rows()

    def tab_stops(self) -> list[QWidget]:
        return [stop for entry in self._entries for stop in entry.tab_stops()]


class _Block(Entry):
    """A head and, indented below it, the rows of a part."""

    def __init__(self, host: Host, path: Path, field: FieldPlan, depth: int) -> None:
        super().__init__(host, path, field.label)
        self._depth = depth
        self._body: Rows | None = None
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(0)

    def _set_body(self, fields: Iterable[FieldPlan]) -> None:
        self._remove_body()
        self._body = Rows(self.host, self.path, fields, self._depth + 1)
        self._layout.addWidget(self._body)

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


class GroupBlock(_Block):
    """Fields of a part under a title that folds them away."""

    def __init__(
        self, host: Host, path: Path, field: FieldPlan, fields: Iterable[FieldPlan], depth: int
    ) -> None:
        super().__init__(host, path, field, depth)
        self._folded = False
        self.title = _Title(host, field.label, depth)
        self.title.setToolTip(field.meaning)
        self.title.clicked.connect(self._toggle)
        self._layout.addWidget(self.title)
        self._set_body(fields)

    @property
    def folded(self) -> bool:
        """Whether the rows are folded away."""
        return self._folded

    def fold(self, folded: bool) -> None:
        """Fold the rows away or show them."""
        self._folded = folded
        self._show_body(not folded)

    def show_value(self, value: Any) -> None:
        assert self._body is not None
        self._body.show_value(value)
        self._note_differs()

    def show_reference(self, reference: Any) -> None:
        assert self._body is not None
        self._body.show_reference(reference)
        self._note_differs()

    def seek(self, words: Iterable[str], place: str) -> bool:
        words = tuple(words)
        found = super().seek(words, place)
        self._show_body(bool(words) or not self._folded)
        return found

    def tab_stops(self) -> list[QWidget]:
        return [self.title, *self._stops_below()]

    def _note_differs(self) -> None:
        assert self._body is not None
        self.differs = self._body.differs
        self.title.set_marked(self.differs)

    def _toggle(self) -> None:
        self.fold(self.title.open)

    def _show_body(self, shown: bool) -> None:
        assert self._body is not None
        self._body.setVisible(shown)
        self.title.set_open(shown)


class KindsBlock(_Block):
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


class MaybeBlock(_Block):
    """A part that may be absent: a tick brings its rows, which start as a copy of its sibling."""

    def __init__(self, host: Host, path: Path, field: FieldPlan, part_type: type[Part], depth: int) -> None:
        super().__init__(host, path, field, depth)
        self._part_type = part_type
        self._present = False
        self._reference: Any = MISSING
        self.tick = _TickRow(host, path, field, part_type)
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
        self._set_body(plan(self._part_type))
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

    def __init__(self, host: Host, path: Path, field: FieldPlan, part_type: type[Part]) -> None:
        super().__init__(host, path, field)
        self._part_type = part_type
        self._present = False
        self._reference: Any = MISSING
        self.name_label.hide()
        self.box = _Box(host, field.label, self)
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
        siblings = (getattr(owner, name) for name in type(owner).model_fields)
        return next((part for part in siblings if isinstance(part, self._part_type)), None) or (
            self._part_type()
        )


class _Box(QCheckBox):
    """Check box whose frame stands out on a dark ground too."""

    def __init__(self, host: Host, text: str, parent: QWidget) -> None:
        super().__init__(text, parent)
        self._host = host

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, checked = self._host.theme, self.isChecked()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        frame = QRectF(1, self.height() / 2 - 6.5, 13, 13)
        strong = checked or self.hasFocus()
        painter.setPen(QPen(QColor(theme.candidate if strong else theme.faint), 1.8 if strong else 1.0))
        painter.setBrush(QColor(theme.raised))
        painter.drawRoundedRect(frame, 2.5, 2.5)
        if checked:
            left, low, right = QPointF(-3, 0), QPointF(-0.8, 2.6), QPointF(3.4, -2.8)
            painter.drawPolyline([frame.center() + point for point in (left, low, right)])
        painter.setPen(QColor(theme.ink))
        painter.drawText(
            self.rect().adjusted(20, 0, 0, 0),
            Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
            self.text(),
        )


class _Title(QAbstractButton):
    """Title of a group with an arrow; a dot if something in the group differs from the reference."""

    def __init__(self, host: Host, text: str, depth: int) -> None:
        super().__init__()
        self._host = host
        self._depth = depth
        self._marked = False
        self.open = True
        self.setText(text)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        font = self.font()
        font.setBold(depth == 0)
        self.setFont(font)
        self._name_for_readers()

    def set_open(self, shown: bool) -> None:
        """Point the arrow down (open) or to the right."""
        if shown != self.open:
            self.open = shown
            self._name_for_readers()
            self.update()

    def set_marked(self, marked: bool) -> None:
        """Show or hide the dot."""
        if marked != self._marked:
            self._marked = marked
            self.update()

    def _name_for_readers(self) -> None:
        self.setAccessibleName(f"{self.text()}, {'open' if self.open else 'folded'}")

    def sizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        return QSize(metrics.horizontalAdvance(self.text()) + 36, metrics.height() + (14 if self._top else 8))

    @property
    def _top(self) -> bool:
        return self._depth == 0

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, metrics = self._host.theme, self.fontMetrics()
        painter = QPainter(self)
        if self._top:
            painter.setPen(QPen(QColor(theme.rule), 1))
            painter.drawLine(0, 3, self.width(), 3)
        bottom = self.rect().adjusted(0, 6 if self._top else 0, 0, 0)
        painter.setPen(QColor(theme.ink if self._top or self.underMouse() else theme.faint))
        painter.drawText(
            bottom.adjusted(INDENT + 14, 0, 0, 0),
            Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
            metrics.elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width() - INDENT - 14),
        )
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        draw_chevron(painter, theme, QPointF(INDENT + 5, bottom.center().y() + 1), down=self.open)
        if self.hasFocus():
            painter.setPen(QPen(QColor(theme.candidate), 1.6))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(bottom.adjusted(INDENT - 3, 1, -1, -1), 3, 3)
        if self._marked:
            draw_mark(painter, theme, bottom.center().y() + 1)
