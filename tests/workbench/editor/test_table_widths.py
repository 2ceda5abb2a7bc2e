"""How the columns of a table share its width."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from models.fields import Part
from models.units import INCH_POUND, METRIC
from models.vehicle import ClearancePoint
from workbench.editor.plan import plan
from workbench.editor.table_model import TableModel
from workbench.editor.table_view import TableView, _shared
from workbench.theme import LIGHT


def test_a_column_is_as_wide_as_its_words_need() -> None:
    assert _shared(400, [1.5, 1, 1, 1], [40, 30, 30, 30]) == pytest.approx([133.3, 88.9, 88.9, 88.9], abs=0.1)
    assert _shared(250, [1.5, 1, 1, 1], [40, 30, 30, 70]) == pytest.approx([77.1, 51.4, 51.4, 70.0], abs=0.1)


def test_where_nothing_fits_all_give_way_alike() -> None:
    assert _shared(90, [1, 1, 1], [20, 40, 60]) == pytest.approx([30, 30, 30])
    assert _shared(120, [1, 1, 1], [20, 40, 60]) == pytest.approx([20, 40, 60])


class Host(QWidget):
    """What the cells and heads take their colours from."""

    theme = LIGHT


def test_no_number_is_cut_while_names_can_give_way(qtbot: QtBot) -> None:
    """Inches of a place have more digits than its metres."""
    units = dict(METRIC)
    model = TableModel(plan(ClearancePoint), lambda: units, lambda _row, _column, _text: True)
    host = Host()
    qtbot.addWidget(host)
    view = TableView(host, model, host)
    rows: tuple[Part, ...] = (
        ClearancePoint(name="front lip of the bumper", x=0.78, y=0.0),
        ClearancePoint(name="exhaust", x=-2.35, y=-0.3),
    )
    model.show_rows(rows)
    columns = range(1, len(model.fields))
    view.resize(80 + sum(view._need(column) for column in columns), 100)
    host.show()

    def cut() -> list[str]:
        room = view.fontMetrics().horizontalAdvance
        texts = [(column, model.shown(row, column)) for row in (0, 1) for column in columns]
        return [text for column, text in texts if room(text) > view.columnWidth(column) - 11]

    assert cut() == []
    units.update(INCH_POUND)
    model.show_units()
    assert model.shown(1, 1) == "-92.52"
    view.resize(80 + sum(view._need(column) for column in columns), 100)
    assert cut() == []
