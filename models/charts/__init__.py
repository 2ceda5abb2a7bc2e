"""Charts of results, independent of what draws them."""

from models.charts.build import CHART_CHOICES, ChartChoice, build
from models.charts.chart import Axis, Chart, Curve, Mark

__all__ = ["CHART_CHOICES", "Axis", "Chart", "ChartChoice", "Curve", "Mark", "build"]
