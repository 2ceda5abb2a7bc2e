"""What came of a study: brushed, refused, in tables."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from models.charts import Chart
from models.project import set_study, set_target
from models.studies import StudyResult, front, sensitivities
from models.study import Objective, Parameter, Sweep
from models.target import made
from tests.screen import move_mouse
from tests.study_page import LONG, PROJECT, opened, run, small
from workbench.pages.studies import StudiesPage
from workbench.pages.studies.definition import remade
from workbench.runner import Runner

#: Softer springs lower the one and raise the other.
HEAVE, TRAVEL = Objective(metric="rms_heave_acceleration"), Objective(metric="rms_travel_front")


def result_of(page: StudiesPage) -> StudyResult:
    assert page.results.result is not None
    return page.results.result


def curve_rows(chart: Chart, name: str) -> int:
    return sum(curve.x.size for curve in chart.curves if curve.variant == name and curve.form == "points")


def on_canvas(page: StudiesPage, x: float, y: float) -> tuple[QWidget, QPoint]:
    """Widget and pixel of a place (SI) of the first chart."""
    view = page.results.views[0].view
    assert view.chart is not None
    scales = [axis.display(view.units)[0] for axis in (view.chart.x, view.chart.y)]
    scene = view._canvas.box.mapViewToScene(QPointF(x / scales[0], y / scales[1]))
    return view._canvas.viewport(), view._canvas.mapFromScene(scene)


def test_points_of_the_front_are_brushed_by_a_drag_and_by_clicks(qtbot: QtBot, runner: Runner) -> None:
    search = remade(small("pareto").studies[0], objectives=(HEAVE, TRAVEL), population=20)
    page, document = opened(qtbot, runner, set_study(PROJECT, search))
    run(qtbot, page)
    found, results = front(result_of(page)), page.results
    assert len(found.rows) >= 3
    assert len(results.table.sheet.rows) == len(found.rows)  # until something is brushed, the whole front
    x, y = found.objectives.T
    count = int(np.argmax(np.diff(x))) + 1  # up to where the next one is farthest off
    air = 0.01 * np.ptp(found.objectives, axis=0)
    pane, start = on_canvas(page, x[0] - air[0], y.min() - air[1])
    _, end = on_canvas(page, x[count - 1 : count + 1].mean(), y.max() + air[1])
    qtbot.mousePress(pane, Qt.MouseButton.LeftButton, pos=start)
    for place in (start + QPoint(15, -15), end):
        move_mouse(pane, place, Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(results.shown, timeout=LONG):
        qtbot.mouseRelease(pane, Qt.MouseButton.LeftButton, pos=end)
    assert results.brushed == tuple(found.rows[:count].tolist())
    assert curve_rows(page.charts()[0], "brushed") == count
    lines = next(curve for curve in page.charts()[-1].curves if curve.variant == "brushed")
    assert np.isnan(lines.y).sum() == count  # a line for each in the chart of the numbers
    assert results.table.sheet.keys == results.brushed

    view = results.views[0].view
    for row in (count, 0):
        with qtbot.waitSignal(results.shown, timeout=LONG):
            view.picked_too.emit(*found.objectives[row].tolist())
    assert results.brushed == tuple(found.rows[1 : count + 1].tolist())

    steps = document.undo_stack.count()
    with qtbot.waitSignal(results.chosen, timeout=LONG):
        results.table.setCurrentIndex(results.table.model().index(0, 0))
    assert results.row == results.brushed[0]
    page.take.click()
    assert document.undo_stack.count() == steps + 1
    car = document.project.variant(document.project.candidate).vehicle
    assert car == result_of(page).car(results.row)
    with qtbot.waitSignal(results.shown, timeout=LONG):
        results.unbrush.click()
    assert results.brushed == ()


def test_the_table_of_a_front_has_numbers_objectives_and_targets_with_units(
    qtbot: QtBot, runner: Runner
) -> None:
    target = made("front_ride_frequency", "frequency", (None, 2.0))
    page, _ = opened(qtbot, runner, set_target(small("pareto"), target))
    run(qtbot, page)
    sheet, result = page.results.table.sheet, result_of(page)
    row = result.columns.rows[int(str(sheet.keys[0]))]
    texts = dict(zip((head.replace("\n", " ") for head in sheet.heads), sheet.rows[0], strict=True))
    assert texts["Front spring rate N/mm"].value == row[0]
    assert float(texts["Front spring rate N/mm"].text) == np.float64(f"{row[0] / 1e3:.4g}")
    number = result.metric("front_ride_frequency")
    assert texts["Front ride frequency Hz"].value == result.columns.values[int(str(sheet.keys[0])), 0, number]
    assert "RMS pitch acceleration rad/s²" in texts
    page.results.table.sortByColumn(2, Qt.SortOrder.DescendingOrder)
    values = [sheet.rows[place][2].value for place in page.results.table._model.order]
    assert values == sorted(values, reverse=True)


def test_sensitivities_stand_in_a_table_whose_rows_choose_the_bars(qtbot: QtBot, runner: Runner) -> None:
    page, _ = opened(qtbot, runner, small("sensitivity"))
    run(qtbot, page)
    sheet, result = page.results.table.sheet, result_of(page)
    number = result.metric("pitch_share")
    place = sheet.keys.index("pitch_share")
    shares = sensitivities(result).normalised[:, 0, number].tolist()
    assert [cell.value for cell in sheet.rows[place][1:]] == shares
    with qtbot.waitSignal(page.results.shown, timeout=LONG):
        page.results.table.setCurrentIndex(page.results.table.model().index(place, 0))
    assert page.charts()[0].title == "What moves pitch share"


def test_cars_that_are_refused_are_counted_and_listed_and_the_others_drawn(
    qtbot: QtBot, runner: Runner
) -> None:
    """The centre of gravity moves back beyond the rear axle, 3.02 m behind the front one."""
    far = Parameter(place="body.cg_to_front_axle", kind="length", low=1.4, high=3.4)
    study = Sweep(name="Far back", parameter=far, points=11)
    page, _ = opened(qtbot, runner, set_study(PROJECT, study))
    run(qtbot, page)
    result = result_of(page)
    assert result.finished
    beyond = int(np.count_nonzero(result.columns.rows[:, 0] >= 3.02))
    assert result.columns.refused == beyond == 2
    assert "2 cars were refused:" in page.note.text()
    assert "2 × such as" in page.note.text()  # each with a value of its own
    assert "less than the wheelbase" in page.note.text()
    curve = next(curve for curve in page.charts()[0].curves if curve.role == "candidate")
    assert np.count_nonzero(np.isfinite(curve.y)) == 9


def test_what_is_wrong_is_said_under_its_field(qtbot: QtBot, runner: Runner) -> None:
    page, document = opened(qtbot, runner)
    page.chosen.add("tuned start")
    steps = document.undo_stack.count()
    row = page.definition.figures.rows["front_ride_frequency"]
    row.setText(1, "1.3 mm")
    fault = page.definition.faults[page.definition.figures]
    assert fault.isVisible()
    assert "Hz" in fault.text()
    assert "Front ride frequency" in fault.text()
    page.chosen.add("sweep")
    page.definition.situations.rows[0][2].setText("200 m/s")
    page.definition.situations.rows[0][2].editingFinished.emit()
    assert not fault.isVisible()
    assert "km/h" in page.definition.faults[page.definition.situations].text()
    assert document.undo_stack.count() == steps + 1


def test_in_a_narrow_window_each_side_stands_under_its_own_tab(qtbot: QtBot, runner: Runner) -> None:
    page, _ = opened(qtbot, runner, small("sweep"))
    page.resize(560, 600)
    qtbot.waitUntil(page.bar.sides.isVisible)
    assert page.definition.numbers.isVisible()
    assert not page.results.isVisible()
    page.bar.sides.setCurrentIndex(1)
    assert page.results.isVisible()
    assert page.results.empty.isVisible()
    assert not page.definition.numbers.isVisible()
