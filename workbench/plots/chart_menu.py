"""The button beside a chart with what can be done with it; the chart itself has the same by right click."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QMenu, QToolButton, QWidget

from models.charts import Chart
from workbench.plots.chart_view import ChartView
from workbench.plots.copied_figure import copy_as_shown, copy_figure

__all__ = ["chart_menu"]


def chart_menu(view: ChartView, export: Callable[[Chart], object], parent: QWidget) -> QToolButton:
    """Button that exports the chart of a view, copies or fits it.

    Args:
        view: shows the chart.
        export: takes the chart that the user wants as a file.
        parent: of the button.
    """

    def with_chart(act: Callable[[Chart], object]) -> Callable[[], None]:
        def wanted() -> None:
            if view.chart is not None:
                act(view.chart)

        return wanted

    menu = QMenu(parent)
    menu.addAction("Export figure or data…", with_chart(export))
    copy = menu.addAction("Copy figure", with_chart(lambda chart: copy_figure(view, chart)))
    copy.setShortcut(QKeySequence.StandardKey.Copy)
    copy.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
    view.addAction(copy)
    menu.addAction("Copy as shown", lambda: copy_as_shown(view))
    menu.addSeparator()
    menu.addAction("Fit axes", view.fit)
    view.menu_wanted.connect(menu.popup)
    button = QToolButton(parent)
    button.setText("⋯")
    button.setToolTip("Export, copy, fit")
    button.setAccessibleName("Chart menu")
    button.setMenu(menu)
    button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
    button.setAutoRaise(True)
    button.setStyleSheet("QToolButton::menu-indicator { image: none; }")
    return button
