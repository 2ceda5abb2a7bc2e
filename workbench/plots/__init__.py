"""Live drawing of chart descriptions; the only package that knows pyqtgraph."""

from workbench.plots.chart_view import ChartView
from workbench.plots.plot_panel import PlotPanel
from workbench.plots.titled_chart import TitledChart

__all__ = ["ChartView", "PlotPanel", "TitledChart"]
