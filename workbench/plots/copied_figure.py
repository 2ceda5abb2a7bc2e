"""A chart to the clipboard, by whoever stands above it and can draw it on paper."""

from __future__ import annotations

from typing import Protocol, runtime_checkable

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget

from models.charts import Chart

__all__ = ["CopiesFigures", "copy_as_shown", "copy_figure"]


@runtime_checkable
class CopiesFigures(Protocol):
    """The window: it has the thread in which a figure is drawn."""

    def copy_figure(self, chart: Chart) -> None:
        """Put the figure of a chart on the clipboard."""


def copy_figure(view: QWidget, chart: Chart) -> None:
    """Have the figure of a chart copied as it is printed; where nobody above can, it is copied as shown."""
    above: QWidget | None = view
    while above is not None and not isinstance(above, CopiesFigures):
        above = above.parentWidget()
    if above is None:
        copy_as_shown(view)
    else:
        above.copy_figure(chart)


def copy_as_shown(view: QWidget) -> None:
    """Put a picture of a view on the clipboard."""
    QGuiApplication.clipboard().setPixmap(view.grab())
