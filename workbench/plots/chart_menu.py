"""The button beside a chart with what can be done with it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QMenu, QToolButton, QWidget

from models.charts import Chart
from workbench.plots.chart_view import ChartView

__all__ = ["chart_menu"]


def chart_menu(view: ChartView, export: Callable[[Chart], object], parent: QWidget) -> QToolButton:
    """Button that exports the chart of a view, copies or fits it.

    Args:
        view: shows the chart.
        export: takes the chart that the user wants as a file.
        parent: of the button.
    """

    def wanted() -> None:
        if view.chart is not None:
            export(view.chart)

    menu = QMenu(parent)
    menu.addAction("Export figure or data…", wanted)
    menu.addAction("Copy image", lambda: QGuiApplication.clipboard().setPixmap(view.grab()))
    menu.addSeparator()
    menu.addAction("Fit axes", view.fit)
    button = QToolButton(parent)
    button.setText("⋯")
    button.setToolTip("Export, copy, fit")
    button.setAccessibleName("Chart menu")
    button.setMenu(menu)
    button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
    button.setAutoRaise(True)
    button.setStyleSheet("QToolButton::menu-indicator { image: none; }")
    return button
