"""Plots of laws stand under the rows of their parts and follow them."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from models.fields import replaced
from models.project import Project, Variant
from models.vehicle import (
    AS_DESIGNED,
    FluidCoupling,
    Friction,
    GasSpring,
    Load,
    LoadCase,
    Side,
    Stop,
    TrimSpring,
    Vehicle,
)
from tests.screen import show
from workbench.document import Document
from workbench.editor import ParameterEditor
from workbench.editor.law_plot import LawPlot


@pytest.fixture
def document(qapp: object) -> Document:
    vehicle = replaced(Vehicle(), ("front", "bump_stop"), Stop(gap=0.05, rate=60e3))
    variants = (Variant(name="A", vehicle=vehicle), Variant(name="B", vehicle=vehicle))
    return Document(Project(variants=variants, baseline="A", candidate="B"))


@pytest.fixture
def editor(qtbot: QtBot, document: Document) -> ParameterEditor:
    editor = ParameterEditor()
    qtbot.addWidget(editor)
    editor.set_target(document, document.candidate_path)
    editor.set_reference(document.project.variants[0].vehicle)
    editor.resize(340, 5000)  # all of it in sight
    show(qtbot, editor)
    return editor


def all_plots(editor: ParameterEditor) -> list[LawPlot]:
    QApplication.sendPostedEvents()  # Qt shows new rows in the next turn of the event loop
    found = editor.form.findChildren(LawPlot)
    return [plot for plot in found if not plot.parentWidget().isHidden()]  # not those that go


def plots(editor: ParameterEditor) -> dict[tuple[str | int, ...], LawPlot]:
    """The first plot of each part; the second one has "damping" after its path."""
    result: dict[tuple[str | int, ...], LawPlot] = {}
    for plot in all_plots(editor):
        result[plot.path if plot.path not in result else (*plot.path, "damping")] = plot
    return result


def shown(editor: ParameterEditor) -> set[tuple[str | int, ...]]:
    return {path for path, plot in plots(editor).items() if plot.isVisible()}


def edit(document: Document, *path: str, value: object) -> None:
    document.edit((*document.candidate_path(), *path), value)


def test_fitted_parts_have_plots(editor: ParameterEditor, document: Document) -> None:
    parts = [("spring",), ("damper",), ("tyre",), ("tyre", "damping")]
    ends = {(axle, *part) for axle in ("front", "rear") for part in parts}
    assert shown(editor) == {*ends, ("front", "bump_stop")}
    edit(document, "rear", "friction", value=Friction(force=50.0))
    edit(document, "left", "coupling", "bar_rate", value=500.0)
    assert plots(editor)["rear", "friction"].isVisible()
    assert plots(editor)["left", "coupling"].isVisible()


def test_an_edit_redraws_the_plots_of_its_part_only(editor: ParameterEditor, document: Document) -> None:
    before = {path: plot.chart.chart for path, plot in plots(editor).items()}
    edit(document, "front", "spring", "rate", value=30e3)
    fresh = {path for path, plot in plots(editor).items() if plot.chart.chart is not before[path]}
    # The static load of a tyre, and of a bar with levers that turn, comes from all of the car.
    static = {("front", "tyre"), ("rear", "tyre"), ("left", "trim"), ("left", "coupling")}
    assert fresh == {("front", "spring"), ("front", "bump_stop"), ("front", "rebound_stop"), *static}


def test_the_baseline_appears_when_the_law_differs(editor: ParameterEditor, document: Document) -> None:
    plot = plots(editor)["front", "damper"]
    assert [curve.role for curve in plot.chart.chart.curves] == ["candidate"]
    edit(document, "front", "damper", "rebound", value=2500.0)
    assert [curve.role for curve in plot.chart.chart.curves] == ["baseline", "candidate"]


def test_a_drag_moves_the_curve(editor: ParameterEditor) -> None:
    plot = plots(editor)["front", "spring"]
    before = plot.chart.chart.curves[-1].y[-1]
    slider = editor.at_hand.entries[0].slider  # type: ignore[attr-defined]
    start = QPoint(slider.width() // 4, slider.height() // 2)
    QTest.mousePress(slider, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(slider, start + QPoint(-20, 0))
    QTest.mouseRelease(slider, Qt.MouseButton.LeftButton, pos=start + QPoint(-20, 0))
    assert plot.chart.chart.curves[-1].y[-1] < before


def test_a_gas_spring_follows_the_load_that_it_carries(editor: ParameterEditor, document: Document) -> None:
    edit(document, "front", "spring", value=GasSpring())
    plot = plots(editor)["front", "spring"]
    before = plot.chart.chart.curves[-1].y[-1]
    edit(document, "body", "mass", value=2500.0)
    assert plot.chart.chart.curves[-1].y[-1] > before


def test_fluid_has_a_plot_as_well(editor: ParameterEditor, document: Document) -> None:
    edit(document, "left", "coupling", value=FluidCoupling())
    plot = plots(editor)["left", "coupling"]
    assert plot.isVisibleTo(editor)
    assert len(plot.chart.chart.curves) == 4  # both wheels of candidate and baseline
    assert not plots(editor)["left", "coupling", "damping"].isVisible()
    edit(document, "left", "coupling", "resistance", value=1e9)
    restriction = plots(editor)["left", "coupling", "damping"]
    assert restriction.isVisible()
    assert restriction.chart.chart.title == "Left line restriction"


@pytest.mark.parametrize(
    ("path", "field", "value"),
    [
        (("front", "stabiliser"), "bar_rate", 900.0),
        (("left", "trim"), "bar_rate", 400.0),
        (("diagonal",), "bar_rate", 700.0),
        (("seat", "occupant"), "mass", 60.0),
    ],
)
def test_a_part_that_is_typed_in_gets_its_plot_and_loses_it_with_its_rate(
    editor: ParameterEditor, path: tuple[str, ...], field: str, value: float
) -> None:
    row = editor.form.row(*path, field)
    number = row.number  # type: ignore[attr-defined]
    assert path not in shown(editor)

    def type_in(text: str) -> None:
        number.setFocus()
        number.selectAll()
        QTest.keyClicks(number, text)
        QTest.keyClick(number, Qt.Key.Key_Return)

    type_in(f"{value:g}")
    assert path in shown(editor)
    small = plots(editor)[path].chart
    assert small.chart.curves[-1].y.max() > 0
    type_in("0")
    assert path not in shown(editor)


def test_the_right_side_has_its_own_plots(editor: ParameterEditor, document: Document) -> None:
    edit(document, "left", "trim", "bar_rate", value=400.0)
    edit(document, "right", value=Side(trim=TrimSpring(bar_rate=200.0)))
    left, right = (plots(editor)[side, "trim"].chart.chart for side in ("left", "right"))
    assert (left.title, right.title) == ("Left trim spring", "Right trim spring")
    assert left.curves[-1].y[-1] > 1.9 * right.curves[-1].y[-1] > 0


def test_a_tyre_follows_the_weight_and_the_load_case(editor: ParameterEditor, document: Document) -> None:
    plot = plots(editor)["rear", "tyre"]
    (before,) = plot.chart.chart.marks
    edit(document, "body", "mass", value=2500.0)
    (heavier,) = plot.chart.chart.marks
    assert heavier.x > before.x
    editor.set_load(LoadCase(name="full", loads=(Load(mass=300.0, x=-2.5),)))
    (full,) = plot.chart.chart.marks
    assert (full.label, full.x > heavier.x) == ("full", True)


def test_plots_follow_the_units(editor: ParameterEditor) -> None:
    small = plots(editor)["front", "tyre"].chart
    top = small.y_range[1]
    editor.set_units({"force": "kN"})
    assert "kN" in small.caption
    assert small.y_range[1] == pytest.approx(top / 1000)


def test_the_load_case_is_marked_and_goes_again(editor: ParameterEditor) -> None:
    plot = plots(editor)["rear", "spring"]
    editor.set_load(LoadCase(name="full", loads=(Load(mass=300.0, x=-2.5),)))
    assert [mark.label for mark in plot.chart.chart.marks] == ["full"]
    editor.set_load(AS_DESIGNED)
    assert plot.chart.chart.marks == ()


def test_a_search_hides_plots_of_other_parts(editor: ParameterEditor) -> None:
    editor.form.search("front dampers")
    assert shown(editor) == {("front", "damper")}
    editor.form.search("jounce coefficient")
    assert not any(plot.isVisible() for plot in plots(editor).values())
    editor.form.search("")
    assert plots(editor)["rear", "spring"].isVisible()


def test_a_chart_can_be_asked_for_as_a_file(editor: ParameterEditor, qtbot: QtBot) -> None:
    small = plots(editor)["front", "spring"].chart
    with qtbot.waitSignal(editor.export_wanted) as wanted:
        small.export_wanted.emit(small.chart)
    assert wanted.args[0].title == "Front springs and stops"
