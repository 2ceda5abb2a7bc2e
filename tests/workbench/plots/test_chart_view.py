"""A chart on the screen: still axes, the time cursor, the readout, the theme."""

from __future__ import annotations

from collections.abc import Callable
from math import log10

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from models.charts import Chart
from models.units import METRIC
from workbench.cursor import TimeCursor
from workbench.plots import ChartView
from workbench.theme import DARK, LIGHT

ChartMaker = Callable[..., Chart]


@pytest.fixture
def view(qtbot: QtBot) -> ChartView:
    view = ChartView()
    qtbot.addWidget(view)
    view.resize(600, 300)
    with qtbot.waitExposed(view):
        view.show()
    return view


def wheel(view: ChartView) -> None:
    """Turn the mouse wheel by one notch in the middle of the plot."""
    port = view._canvas.viewport()
    middle = QPointF(port.rect().center())
    event = QWheelEvent(
        middle,
        QPointF(port.mapToGlobal(middle.toPoint())),
        QPoint(),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(port, event)


def move_mouse(view: ChartView, place: QPoint, button: Qt.MouseButton) -> None:
    """Move the mouse with a button down, which qtbot.mouseMove cannot."""
    port = view._canvas.viewport()
    event = QMouseEvent(
        QEvent.Type.MouseMove,
        QPointF(place),
        QPointF(port.mapToGlobal(place)),
        Qt.MouseButton.NoButton,
        button,
        Qt.KeyboardModifier.NoModifier,
    )
    QApplication.sendEvent(port, event)


def test_axes_are_round_and_as_long_as_the_curves(view: ChartView, pitch_chart: ChartMaker) -> None:
    view.set_chart(pitch_chart(amplitude=np.deg2rad(1.1)))
    assert view._canvas.ranges == ((0.0, 4.0), pytest.approx((-1.5, 1.5)))


def test_axes_stay_while_curves_fit_and_grow_when_one_leaves(
    view: ChartView, pitch_chart: ChartMaker
) -> None:
    view.set_chart(pitch_chart(amplitude=np.deg2rad(1.1)))
    before = view._canvas.ranges
    view.set_chart(pitch_chart(amplitude=np.deg2rad(0.2)))
    assert view._canvas.ranges == before
    view.set_chart(pitch_chart(amplitude=np.deg2rad(1.6)))
    assert view._canvas.ranges[1] == pytest.approx((-2.0, 2.0))
    view.set_chart(pitch_chart(amplitude=np.deg2rad(0.2)))
    assert view._canvas.ranges[1] == pytest.approx((-2.0, 2.0))


def test_another_subject_resets_the_axes(view: ChartView, pitch_chart: ChartMaker, spectrum: Chart) -> None:
    view.set_chart(pitch_chart())
    view.set_chart(spectrum)
    assert view._canvas.ranges[0] == pytest.approx((log10(0.1), log10(50.0)))
    view.set_chart(pitch_chart(amplitude=np.deg2rad(0.2)))
    assert view._canvas.ranges[1] == pytest.approx((-0.2, 0.2))


def test_time_axis_follows_the_duration(view: ChartView, pitch_chart: ChartMaker) -> None:
    view.set_chart(pitch_chart())
    view.set_chart(pitch_chart(duration=2.0))
    assert view._canvas.ranges[0] == (0.0, 2.0)


def test_zoom_by_hand_is_kept_until_fit(view: ChartView, pitch_chart: ChartMaker) -> None:
    view.set_chart(pitch_chart(amplitude=np.deg2rad(1.1)))
    before = view._canvas.ranges
    wheel(view)
    zoomed = view._canvas.ranges
    assert zoomed[0][1] - zoomed[0][0] < before[0][1] - before[0][0]
    view.set_chart(pitch_chart(amplitude=np.deg2rad(8.0)))
    assert view._canvas.ranges == zoomed
    view.fit()
    assert view._canvas.ranges == ((0.0, 4.0), pytest.approx((-8.0, 8.0)))
    view.set_chart(pitch_chart(amplitude=np.deg2rad(12.0)))
    assert view._canvas.ranges[1] == pytest.approx((-15.0, 15.0))


def test_double_click_fits(view: ChartView, pitch_chart: ChartMaker, qtbot: QtBot) -> None:
    view.set_chart(pitch_chart(amplitude=np.deg2rad(1.1)))
    before = view._canvas.ranges
    wheel(view)
    port = view._canvas.viewport()
    # Both presses, as a real double click has them.
    qtbot.mouseClick(port, Qt.MouseButton.LeftButton, pos=port.rect().center())
    qtbot.mouseDClick(port, Qt.MouseButton.LeftButton, pos=port.rect().center())
    qtbot.mouseRelease(port, Qt.MouseButton.LeftButton, pos=port.rect().center())
    assert view._canvas.ranges == before


def test_new_numbers_rebuild_nothing(view: ChartView, pitch_chart: ChartMaker) -> None:
    view.set_chart(pitch_chart())
    lines, legend = list(view._lines), view._legend.entries
    view.set_chart(pitch_chart(amplitude=0.021))
    assert all(old is new for old, new in zip(lines, view._lines, strict=True))
    assert view._legend.entries is legend


def test_legend_names_variants_then_places(view: ChartView, pitch_chart: ChartMaker) -> None:
    view.set_chart(pitch_chart(places=("front", "rear")))
    entries = view._legend.entries
    assert [entry.text for entry in entries] == ["Candidate", "Baseline", "front", "rear"]
    assert entries[0].pen.color() == QColor(LIGHT.candidate)
    assert entries[2].pen.style() == Qt.PenStyle.SolidLine
    assert entries[3].pen.style() == Qt.PenStyle.CustomDashLine
    assert view._legend.title == "Pitch angle (deg, nose down +)"


def test_time_line_follows_the_cursor_and_moves_it(view: ChartView, pitch_chart: ChartMaker) -> None:
    cursor = TimeCursor()
    cursor.set_duration(4.0)
    view.set_cursor(cursor)
    view.set_units({**METRIC, "time": "ms"})
    view.set_chart(pitch_chart())
    cursor.move_to(1.5)
    assert view._time_line.isVisible()
    assert view._time_line.value() == pytest.approx(1500.0)
    view._time_line.setValue(2500.0)
    view._time_line.sigDragged.emit(view._time_line)
    assert cursor.time == pytest.approx(2.5)


def test_time_line_is_dragged_with_the_mouse(view: ChartView, pitch_chart: ChartMaker, qtbot: QtBot) -> None:
    cursor = TimeCursor()
    cursor.set_duration(4.0)
    view.set_cursor(cursor)
    view.set_chart(pitch_chart())
    cursor.move_to(1.0)
    port, box = view._canvas.viewport(), view._canvas.box

    def at(seconds: float) -> QPoint:
        return view._canvas.mapFromScene(box.mapViewToScene(QPointF(seconds, 0.3)))

    # The surface takes at most a hundred moves a second, so each is made until it is taken.
    def over_the_line() -> bool:
        move_mouse(view, at(1.0), Qt.MouseButton.NoButton)
        return bool(view._time_line.mouseHovering)

    def dragged() -> bool:
        move_mouse(view, at(2.0), Qt.MouseButton.LeftButton)
        return cursor.time > 1.5

    qtbot.waitUntil(over_the_line)
    qtbot.mousePress(port, Qt.MouseButton.LeftButton, pos=at(1.0))
    qtbot.waitUntil(dragged)
    qtbot.mouseRelease(port, Qt.MouseButton.LeftButton, pos=at(2.0))
    pixel = 4.0 / box.width()
    assert cursor.time == pytest.approx(2.0, abs=2 * pixel)


def test_readout_gives_each_curve_at_the_time_cursor(view: ChartView, pitch_chart: ChartMaker) -> None:
    cursor = TimeCursor()
    cursor.set_duration(4.0)
    view.set_cursor(cursor)
    view.set_chart(pitch_chart(amplitude=np.deg2rad(1.0), places=("front", "rear"), roles=("candidate",)))
    cursor.move_to(1.0)
    assert view.readout == "1.00 s  front 1.00  rear 1.50  deg"
    cursor.move_to(3.0)
    assert view.readout == "3.00 s  front −1.00  rear −1.50  deg"
    cursor.move_to(2.0)  # where rounding leaves 1e-16 of the sine
    assert view.readout == "2.00 s  front 0  rear 0  deg"


def test_readout_follows_the_mouse_and_returns_to_the_cursor(
    view: ChartView, pitch_chart: ChartMaker, qtbot: QtBot
) -> None:
    cursor = TimeCursor()
    cursor.set_duration(4.0)
    view.set_cursor(cursor)
    view.set_chart(pitch_chart(amplitude=np.deg2rad(1.0), roles=("candidate",)))
    cursor.move_to(1.0)
    canvas = view._canvas
    with qtbot.waitSignal(canvas.hovered):
        place = canvas.mapFromScene(canvas.box.mapViewToScene(QPointF(3.0, 0.0)))
        canvas.scene().sigMouseMoved.emit(QPointF(canvas.mapToScene(place)))
    assert view.readout.endswith("s  −1.00  deg")
    canvas.hovered.emit(None)
    assert view.readout == "1.00 s  1.00  deg"


def test_readout_of_a_log_axis_is_in_units_not_exponents(view: ChartView, spectrum: Chart) -> None:
    view.set_chart(spectrum)
    assert view.readout == ""
    view._canvas.hovered.emit(log10(1.2))
    place, value, unit = view.readout.split("  ")
    assert (place, unit) == ("1.20 Hz", "(m/s²)²/Hz")
    # The peak is 10; linear interpolation between points 1.6 % apart lowers it by less than 0.1 %.
    assert float(value) == pytest.approx(10.0, rel=0.01)


def test_beyond_the_curve_there_is_no_value(view: ChartView, pitch_chart: ChartMaker) -> None:
    view.set_chart(pitch_chart(roles=("candidate",)))
    view._canvas.hovered.emit(9.0)
    assert view.readout == "9.00 s  –  deg"


def test_theme_recolours_without_moving_anything(view: ChartView, pitch_chart: ChartMaker) -> None:
    view.set_chart(pitch_chart())
    before = view._canvas.ranges
    view.set_theme(DARK)
    assert view._canvas.ranges == before
    assert view._lines[1].opts["pen"].color() == QColor(DARK.candidate)
    assert view.grab().toImage().pixelColor(4, 40) == QColor(DARK.paper)


def test_gap_in_the_numbers_is_left_out(view: ChartView, pitch_chart: ChartMaker) -> None:
    chart = pitch_chart(roles=("candidate",))
    chart.curves[0].y[50] = np.nan
    view.set_chart(chart)
    x, y = view._lines[0].getData()
    assert np.isfinite(y).all()
    assert len(x) == 200


def test_zoom_cannot_leave_what_numbers_can_hold(view: ChartView, spectrum: Chart) -> None:
    view.set_chart(spectrum)
    view._canvas.set_ranges(x=(-1e3, 1e3), y=(-1e3, 1e3))
    view.grab()
    (x_low, x_high), (y_low, y_high) = view._canvas.ranges
    assert x_high <= 20
    assert x_low >= -20
    assert y_high <= 30
    assert y_low >= -30
