"""The key figures stand under the headings of their groups."""

from __future__ import annotations

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from models.analysis import analyse
from models.judge import GROUPS, key_figures
from models.run import Run
from models.units import METRIC
from models.vehicle import Vehicle
from workbench.help.context import HINT
from workbench.theme import DARK
from workbench.window.figures_panel import FiguresPanel


def test_a_heading_stands_before_the_first_figure_of_each_group(qtbot: QtBot) -> None:
    panel = FiguresPanel()
    qtbot.addWidget(panel)
    figures = key_figures(analyse(Vehicle(), Run(duration=0.5, laws="linear")))
    panel.show_figures(figures, figures)
    panel.set_theme(DARK)
    names = [panel.model.item(row, 0).text() for row in range(panel.model.rowCount())]
    expected: list[str] = []
    for group in GROUPS:
        expected += [group, *(figure.label for figure in figures if figure.group == group)]
    assert names == expected
    for row, name in enumerate(names):
        selectable = bool(panel.model.item(row, 0).flags() & Qt.ItemFlag.ItemIsSelectable)
        assert selectable == (name not in GROUPS)
        if name in GROUPS:
            assert panel.model.item(row, 0).toolTip() == f"{name}\n{GROUPS[name]}"
            assert panel.table.columnSpan(row, 0) == panel.model.columnCount()


def test_tooltip_has_name_unit_words_and_which_way_is_better(qtbot: QtBot) -> None:
    panel = FiguresPanel()
    qtbot.addWidget(panel)
    figures = key_figures(analyse(Vehicle(), Run(duration=0.5, laws="linear")))
    panel.show_figures(figures, figures)

    def tip() -> str:
        labels = [panel.model.item(row, 0).text() for row in range(panel.model.rowCount())]
        return panel.model.item(labels.index("RMS pitch angle"), 2).toolTip()

    words = f"Random road: root mean square of the pitch angle θ.\nLower is better as a rule.\n{HINT}"
    assert tip() == f"RMS pitch angle, deg\n{words}"
    panel.set_units({**METRIC, "angle": "rad"})
    assert tip() == f"RMS pitch angle, rad\n{words}"
