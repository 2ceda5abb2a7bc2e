"""Tables on the clipboard: what a spreadsheet makes of them."""

from __future__ import annotations

import csv
import io
from xml.etree import ElementTree as ET

import pytest
from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QGuiApplication, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QTableView
from pytestqt.qtbot import QtBot

from models.analysis import analyse
from models.judge import key_figures
from models.judge.statics import load_case_table
from models.run import Run
from models.units import INCH_POUND
from models.vehicle import AS_DESIGNED, LoadCase, Vehicle
from workbench.copied_table import copied
from workbench.figure_table import FigureTable
from workbench.pages.load_cases.table import LoadCaseTable
from workbench.table_dress import dress_table
from workbench.window.figures_panel import FiguresPanel


def pasted() -> list[list[str]]:
    text = QGuiApplication.clipboard().mimeData().text()
    return list(csv.reader(io.StringIO(text), delimiter="\t"))


def pasted_html() -> list[list[str]]:
    text = QGuiApplication.clipboard().mimeData().html()
    body = text[text.index("<table>") : text.index("</table>") + len("</table>")]
    # Well-formed but for the prefix x of the attribute with the bare number.
    rows = ET.fromstring(body.replace("x:num", "num"))
    return [[cell.get("num") or cell.text or "" for cell in row] for row in rows]


def table(qtbot: QtBot, heads: list[str], rows: list[list[str]]) -> QTableView:
    view = QTableView()
    qtbot.addWidget(view)
    model = QStandardItemModel(0, len(heads), view)
    model.setHorizontalHeaderLabels(heads)
    for row in rows:
        model.appendRow([QStandardItem(text) for text in row])
    view.setModel(model)
    dress_table(view, "table")
    view.show()
    return view


def press_copy(qtbot: QtBot, view: QTableView) -> None:
    view.activateWindow()
    with qtbot.waitActive(view):
        view.setFocus()
    qtbot.keyClick(view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)


def test_ctrl_c_copies_heads_and_numbers(qtbot: QtBot) -> None:
    heads = ["Part", "Life\nkm", "Change", "", "baseline", "Stress", "baseline"]
    rows = [
        ["front", "84\u202f300", "−0.5", "←", "1", "+12 %", "–"],
        ["rear", "1.23·10⁶", "+0.12 deg (−24 %)", "←", "2", "1e-3", "> 10⁹"],
    ]
    view = table(qtbot, heads, rows)
    press_copy(qtbot, view)
    expected = [
        ["Part", "Life km", "Change", "Change, baseline", "Stress", "Stress, baseline"],
        ["front", "84300", "-0.5", "1", "+12 %", "–"],
        ["rear", "1.23e6", "0.12 deg (−24 %)", "2", "1e-3", "> 10⁹"],
    ]
    assert pasted() == expected
    assert pasted_html() == expected
    assert [action.text() for action in view.actions()] == ["Copy table"]
    assert view.contextMenuPolicy() == Qt.ContextMenuPolicy.ActionsContextMenu


def test_units_of_cells_stand_in_the_head_or_beside(qtbot: QtBot) -> None:
    rows = [
        ["rate", "27 N/mm", "1.2 MPa", "="],
        ["mass", "1\u202f200 kg", "−3 MPa", "-"],
        ["kind", "coil", "", ""],
    ]
    view = table(qtbot, ["Parameter", "Candidate", "Stress ▲", "Off"], rows)
    view.actions()[0].trigger()
    assert pasted() == [
        ["Parameter", "Candidate", "Candidate, unit", "Stress MPa", "Off"],
        ["rate", "27", "N/mm", "1.2", "="],
        ["mass", "1200", "kg", "-3", "-"],
        ["kind", "coil", "", "", ""],
    ]


def test_several_selected_rows_alone_are_copied_and_one_is_no_choice(qtbot: QtBot) -> None:
    view = table(qtbot, ["Name"], [[name] for name in "abcd"])
    rows = QItemSelectionModel.SelectionFlag.Select | QItemSelectionModel.SelectionFlag.Rows
    view.selectionModel().select(view.model().index(2, 0), rows)
    view.actions()[0].trigger()
    assert pasted() == [["Name"], ["a"], ["b"], ["c"], ["d"]]
    view.selectionModel().select(view.model().index(0, 0), rows)
    view.setRowHidden(1, True)
    view.actions()[0].trigger()
    assert pasted() == [["Name"], ["a"], ["c"]]


def test_no_name_becomes_a_formula_or_breaks_the_table() -> None:
    names = [
        "=1+1",
        "+cmd|' /C calc'!A0",
        "@SUM(A1)",
        "-2+3",
        "\t=1",
        'a"b',
        '"quoted',
        "<b>&",
        "1/2",
        "a\nb",
    ]
    data = copied([["Variant"], *([name] for name in names)])
    cells = [row[0] for row in csv.reader(io.StringIO(data.text()), delimiter="\t")][1:]
    assert len(cells) == len(names)
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t"))]
    assert cells[0] == "'=1+1"
    assert cells[5:] == ['a"b', '"quoted', "<b>&", "1/2", "a b"]
    assert data.html().count("mso-number-format") == len(names)
    assert "&lt;b&gt;&amp;" in data.html()


def test_key_figures_are_copied_whole_with_nine_digits(qtbot: QtBot) -> None:
    panel = FiguresPanel()
    qtbot.addWidget(panel)
    panel.resize(400, 120)  # most rows are out of sight, and not written
    figures = key_figures(analyse(Vehicle(), Run(duration=0.5, laws="linear")))
    panel.show_figures(figures, figures)
    panel.set_units(INCH_POUND)
    panel.show()
    panel.table.actions()[0].trigger()
    head, *rows = pasted()
    assert head == ["Group", "Figure", "Unit", "Candidate", "Baseline", "Change"]
    assert len(rows) == len(figures)
    found = {row[1]: row for row in rows}
    figure = next(one for one in figures if one.kind == "acceleration")
    assert found[figure.label][2] == "ft/s²"
    shown = float(found[figure.label][3])
    assert shown * 0.3048 == pytest.approx(figure.value, rel=1e-8)  # nine digits


def test_a_short_table_without_heads_in_sight_has_them_in_the_copy(qtbot: QtBot) -> None:
    view = FigureTable(None, "figures")
    qtbot.addWidget(view)
    view.show_figures(key_figures(analyse(Vehicle(), Run(duration=0.5, laws="linear")))[:2])
    view.actions()[0].trigger()
    assert pasted()[0] == ["Figure", "Value", "Unit"]
    assert len(pasted()) == 3


def test_load_cases_are_copied_with_the_baseline_in_columns_of_its_own(qtbot: QtBot) -> None:
    view = LoadCaseTable()
    qtbot.addWidget(view)
    rows = load_case_table(Vehicle(), (AS_DESIGNED, LoadCase(name="=two")))
    view.show_rows(rows, rows, "as designed")
    view.set_units(INCH_POUND)
    view.actions()[0].trigger()
    head, *cases = pasted()
    assert head[:2] == ["Load case", "FL lbf"]
    assert "FL lbf, baseline" in head
    assert {len(row) for row in cases} == {len(head)}
    assert [row[0] for row in cases] == ["as designed", "'=two"]
    force = float(cases[0][1]) * 4.4482216
    assert force == pytest.approx(rows[0].tyre_force[0], abs=0.5 * 4.45)  # shown in whole lbf
    assert cases[0][head.index("FL lbf, baseline")] == cases[0][1]
