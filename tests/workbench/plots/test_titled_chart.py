"""A chart under a title with its unit."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtWidgets import QToolButton
from pytestqt.qtbot import QtBot

from models.charts import Axis, Chart, Curve
from models.units import INCH_POUND
from tests.screen import show
from workbench.plots import TitledChart

LINE = np.array([1.0, 2.0])
CHART = Chart(
    "key",
    "title",
    Axis("Speed", "speed"),
    Axis("Force", "force", sign="up +"),
    tuple(Curve(name, "", LINE, LINE, role) for name, role in (("road", "other"), ("car", "candidate"))),
)


@pytest.fixture
def chart(qtbot: QtBot) -> TitledChart:
    chart = TitledChart("Load", name_others=False)
    qtbot.addWidget(chart)
    chart.set_chart(CHART)
    return chart


def test_title_tells_the_unit_in_use(chart: TitledChart) -> None:
    assert chart.title.whole == "Load (N, up +)"
    chart.set_units(INCH_POUND)
    assert chart.title.whole == "Load (lbf, up +)"


def test_a_title_without_room_ends_in_an_ellipsis_and_is_told_by_its_tip(
    chart: TitledChart, qtbot: QtBot
) -> None:
    chart.resize(400, 200)
    show(qtbot, chart)
    assert chart.title.text() == chart.title.whole
    assert chart.title.toolTip() == ""
    chart.title.tell("Height of the axles over design trim, loaded and unloaded, over a minute (mm, up +)")
    chart.resize(200, 200)
    assert chart.title.text().endswith("…")
    assert chart.title.whole.startswith(chart.title.text()[:-1])
    assert chart.title.toolTip() == chart.title.whole
    chart.resize(900, 200)
    assert chart.title.text() == chart.title.whole


def test_menu_exports_the_chart(chart: TitledChart) -> None:
    asked: list[Chart] = []
    chart.export_wanted.connect(asked.append)
    chart.findChild(QToolButton).menu().actions()[0].trigger()
    assert asked == [CHART]


def test_legend_may_leave_out_other_curves(chart: TitledChart, qtbot: QtBot) -> None:
    names = [entry.text for entry in chart.view._legend.entries]
    assert names == ["car"]
    whole = TitledChart("Load")
    qtbot.addWidget(whole)
    whole.set_chart(CHART)
    assert [entry.text for entry in whole.view._legend.entries] == ["car", "road"]
