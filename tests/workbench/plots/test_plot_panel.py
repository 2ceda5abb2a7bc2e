"""A panel: choice of chart, its menu."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QComboBox, QToolButton
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.charts import CHART_CHOICES
from models.run import Run
from models.vehicle import Vehicle
from workbench.plots import PlotPanel


@pytest.fixture(scope="module")
def analysis() -> Analysis:
    return analyse(Vehicle(), Run())


@pytest.fixture
def panel(qtbot: QtBot) -> PlotPanel:
    panel = PlotPanel("time-pitch")
    qtbot.addWidget(panel)
    panel.resize(400, 260)
    return panel


def menu_action(panel: PlotPanel, text: str) -> None:
    button = panel.findChild(QToolButton)
    assert button is not None
    next(action for action in button.menu().actions() if action.text() == text).trigger()


def test_every_chart_is_on_offer(panel: PlotPanel) -> None:
    combo = panel.findChild(QComboBox)
    assert combo is not None
    keys = [combo.itemData(number) for number in range(combo.count())]
    assert [key for key in keys if key] == list(CHART_CHOICES)


def test_choice_of_the_user_changes_the_chart_and_is_told(
    panel: PlotPanel, analysis: Analysis, qtbot: QtBot
) -> None:
    panel.show_analyses(analysis)
    combo = panel.findChild(QComboBox)
    assert combo is not None
    combo.setCurrentIndex(combo.findData("psd-pitch"))
    with qtbot.waitSignal(panel.choice_changed) as told:
        combo.activated.emit(combo.currentIndex())
    assert told.args == ["psd-pitch"]
    assert panel.chart is not None
    assert panel.chart.key == panel.choice == "psd-pitch"


def test_choice_by_the_program_is_not_told(panel: PlotPanel, analysis: Analysis, qtbot: QtBot) -> None:
    panel.show_analyses(analysis)
    with qtbot.assertNotEmitted(panel.choice_changed):
        panel.set_choice("time-road")
        panel.set_choice("no such chart")
    assert panel.choice == "time-road"


def test_export_asks_with_the_chart(panel: PlotPanel, analysis: Analysis, qtbot: QtBot) -> None:
    with qtbot.assertNotEmitted(panel.export_requested):
        menu_action(panel, "Export figure or data…")
    panel.show_analyses(analysis, names=("Soft", "Firm"))
    with qtbot.waitSignal(panel.export_requested) as asked:
        menu_action(panel, "Export figure or data…")
    assert asked.args == [panel.chart]
    assert panel.chart is not None
    assert [curve.variant for curve in panel.chart.curves] == ["Soft"]


def test_image_is_copied(panel: PlotPanel, analysis: Analysis) -> None:
    panel.show_analyses(analysis)
    menu_action(panel, "Copy as shown")
    copied = QGuiApplication.clipboard().image()
    assert copied.size() == panel.view.size() * panel.devicePixelRatio()


def test_panel_fits_in_a_small_place(panel: PlotPanel) -> None:
    assert panel.minimumSizeHint().width() <= 200
    assert panel.minimumSizeHint().height() <= 160
