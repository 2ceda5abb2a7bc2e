"""The page of the linkages: fit one, drag and nudge its joints, type them, be told why not."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from models.analysis import analyse
from models.fields import follow, replaced
from models.linkage import LINKAGES, Chain, RockerPushrod, WishboneDropLink, points
from models.project import Project, Variant
from models.run import Run
from models.units import INCH_POUND, METRIC
from models.vehicle import FluidCoupling, Side, TorsionCoupling, TrimSpring, Vehicle
from tests.screen import show
from workbench.document import Document
from workbench.pages.linkage import LinkagePage
from workbench.pages.linkage.sheet import FRONT, SIDE, View
from workbench.theme import DARK

FITTED = Vehicle(left=Side(coupling=TorsionCoupling(bar_rate=900.0, front_linkage=WishboneDropLink())))
FRONT_END = ("left", "coupling", "front_linkage")
LEVER = "lever > link"


def document_of(vehicle: Vehicle, baseline: Vehicle | None = None) -> Document:
    variants = (Variant(name="A", vehicle=baseline or Vehicle()), Variant(name="B", vehicle=vehicle))
    run = Run(duration=0.3)
    return Document(Project(name="T", variants=variants, baseline="A", candidate="B", run=run))


def opened(qtbot: QtBot, document: Document) -> LinkagePage:
    page = LinkagePage(document)
    qtbot.addWidget(page)
    page.resize(1000, 700)
    show(qtbot, page)
    return page


@pytest.fixture
def page(qtbot: QtBot) -> LinkagePage:
    return opened(qtbot, document_of(FITTED))


def document(page: LinkagePage) -> Document:
    return page._document


def chain(page: LinkagePage) -> Chain:
    found = page.chain
    assert found is not None
    return found


def drag(page: LinkagePage, name: str, view: View, *ways: QPoint) -> None:
    view_, start = page.drawing, page.drawing.pixel(name, view).toPoint()
    QTest.mousePress(view_, Qt.MouseButton.LeftButton, pos=start)
    for way in ways:
        QTest.mouseMove(view_, start + way)
    QTest.mouseRelease(view_, Qt.MouseButton.LeftButton, pos=start + ways[-1])


def choose_place(page: LinkagePage, bar: str) -> None:
    page.place_box.setCurrentText(bar)
    page.place_box.activated.emit(page.place_box.currentIndex())


@pytest.mark.parametrize("kind", LINKAGES)
def test_an_empty_place_offers_every_kind_as_one_step(qtbot: QtBot, kind: type[Chain]) -> None:
    page = opened(qtbot, document_of(Vehicle()))
    assert page.empty.isVisible()
    assert "2.50 rad/m at design trim" in page.empty.text.text()
    QTest.mouseClick(page.empty.buttons[kind], Qt.MouseButton.LeftButton)
    assert chain(page) == kind()
    assert page.drawing.isVisible()
    assert page.kind_box.currentText().lower() == kind().kind  # type: ignore[attr-defined]
    assert page.note.isVisible()  # there is no bar yet
    assert document(page).undo_stack.count() == 1
    QTest.mouseClick(page.remove_button, Qt.MouseButton.LeftButton)
    assert page.empty.isVisible()
    document(page).undo_stack.undo()
    assert chain(page) == kind()


def test_every_place_of_the_car_can_be_chosen(page: LinkagePage) -> None:
    assert [page.place_box.itemText(n) for n in range(page.place_box.count())] == [
        *("Interconnection, front end", "Interconnection, rear end", "Trim spring"),
        *("Front stabiliser bar", "Rear stabiliser bar"),
    ]
    choose_place(page, "Front stabiliser bar")
    QTest.mouseClick(page.empty.buttons[WishboneDropLink], Qt.MouseButton.LeftButton)
    bar = follow(
        document(page).value((*document(page).candidate_path(), "front", "stabiliser")), ("linkage",)
    )
    assert bar.lever.axis.across == 1.0  # a bar across the car
    choose_place(page, "Interconnection, front end")
    assert chain(page) == WishboneDropLink()
    path = document(page).candidate_path()
    document(page).edit((*path, "right"), Side(coupling=FluidCoupling(), trim=TrimSpring()))
    texts = [page.place_box.itemText(n) for n in range(page.place_box.count())]
    assert texts[0] == "Left interconnection, front end"
    assert "Right trim spring" in texts
    assert not any(text.startswith("Right interconnection") for text in texts)


@pytest.mark.parametrize("view", [FRONT, SIDE], ids=["front", "side"])
def test_a_drag_moves_two_coordinates_in_one_step(page: LinkagePage, view: View) -> None:
    before = points(chain(page))[LEVER]
    drag(page, LEVER, view, QPoint(3, 1), QPoint(7, 4), QPoint(10, -6))
    after = points(chain(page))[LEVER]
    scale = page.drawing._sheet.scale  # type: ignore[union-attr]
    moved = tuple(b - a for a, b in zip(before, after, strict=True))
    assert moved[view.across] == pytest.approx(10 / scale, abs=0.51 / scale)
    assert moved[2] == pytest.approx(6 / scale, abs=0.51 / scale)
    assert moved[1 - view.across] == 0.0
    assert document(page).undo_stack.count() == 1
    document(page).undo_stack.undo()
    assert points(chain(page))[LEVER] == before


def test_a_point_that_would_lock_stops_and_a_line_says_where(page: LinkagePage) -> None:
    pivot, link = (page.drawing.pixel(name, FRONT) for name in ("lever > axis", LEVER))
    way = (pivot - link).toPoint()
    drag(page, LEVER, FRONT, way / 4, way * 0.7, way * 0.9)
    assert "the linkage locks at" in page.drawing.message
    assert "mm of" in page.drawing.message
    y = points(chain(page))[LEVER][1]
    assert -0.42 < y < -0.2
    assert document(page).undo_stack.count() == 1
    drag(page, LEVER, FRONT, QPoint(4, 0))
    assert page.drawing.message == ""


def test_keys_nudge_the_chosen_point(page: LinkagePage) -> None:
    x, y, z = points(chain(page))[LEVER]
    page.drawing.choose(LEVER)
    page.drawing.setFocus()
    QTest.keyClick(page.drawing, Qt.Key.Key_Right)
    QTest.keyClick(page.drawing, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(page.drawing, Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
    assert points(chain(page))[LEVER] == pytest.approx((x - 1e-3, y + 1e-3, z + 1e-4), abs=1e-12)
    QTest.keyClick(page.drawing, Qt.Key.Key_PageUp)
    assert page.drawing.choice == "lever > axis"
    assert page.points.places.view.currentIndex().row() == 3


def test_numbers_are_edited_in_place(page: LinkagePage) -> None:
    table = page.points.places
    row = [joint.name for joint in table.model.joints].index(LEVER)
    assert table.model.headerData(row, Qt.Orientation.Vertical) == "Lever: link on the lever"
    assert table.model.setData(table.model.index(row, 1), "-210")
    assert points(chain(page))[LEVER][1] == pytest.approx(-0.21)
    assert not table.model.setData(table.model.index(row, 1), "-350 mm")
    assert "Lever: link on the lever" in page.points.message.text()
    assert "the linkage locks at" in page.points.message.text()
    assert points(chain(page))[LEVER][1] == pytest.approx(-0.21)
    page.set_units(INCH_POUND)
    assert table.model.headerData(1, Qt.Orientation.Horizontal) == "Outward in"
    axes = page.points.directions
    assert axes.model.setData(axes.model.index(1, 2), "0.1")
    assert chain(page).lever.axis.upward == 0.1  # type: ignore[attr-defined]


def test_the_travel_is_chosen_and_its_ends_are_typed(page: LinkagePage) -> None:
    page.travel.slider.setValue(1000)
    assert page.travel.travel == pytest.approx(0.12)
    assert "120.0 mm jounce" in page.travel.words.text()
    field = page.travel.ends["jounce"]
    for text, taken in (("80", True), ("900", False)):
        field.setFocus()
        field.selectAll()
        QTest.keyClicks(field, text)
        QTest.keyClick(field, Qt.Key.Key_Return)
        assert (page.drawing.message == "") is taken
    assert chain(page).jounce == pytest.approx(0.08)
    assert page.travel.travel == pytest.approx(0.08)
    assert "locks at" in page.drawing.message


def test_another_kind_keeps_the_travel(page: LinkagePage) -> None:
    path = (*document(page).candidate_path(), *FRONT_END, "jounce")
    document(page).edit(path, 0.1)
    page.kind_box.setCurrentIndex(3)
    page.kind_box.activated.emit(3)
    assert chain(page) == RockerPushrod(jounce=0.1)


def test_results_bring_the_torque_of_the_bar(page: LinkagePage) -> None:
    page.show_results(analyse(FITTED, Run(duration=0.2), compiled=False), None, ("B", "A"))
    charts = {chart.key: chart for chart in page.charts()}
    assert charts["linkage-force"].y.kind == "force"
    labels = [page.figures.rows.item(row, 0).text() for row in range(page.figures.rows.rowCount())]
    assert "Bar torque at design trim" in labels
    tip = page.figures.rows.item(labels.index("Bar torque at design trim"), 0).toolTip()
    assert "N·m" in tip


def test_the_baseline_is_drawn_behind(qtbot: QtBot) -> None:
    other = replaced(FITTED, (*FRONT_END, "lever", "link", "y"), -0.22)
    page = opened(qtbot, document_of(FITTED, other))
    assert [curve.role for curve in page.charts()[0].curves] == ["baseline", "candidate"]


def test_a_hidden_page_waits(qtbot: QtBot) -> None:
    page = LinkagePage(document_of(FITTED))
    qtbot.addWidget(page)
    document(page).edit((*document(page).candidate_path(), *FRONT_END), RockerPushrod())
    page.set_units(METRIC)
    page.set_theme(DARK)
    assert page.place_box.count() == 0
    assert page.charts() == []
    show(qtbot, page)
    assert page.kind_box.currentText() == "Rocker with pushrod"
    assert page.drawing.pixel(LEVER, FRONT) != QPointF()
