"""Theme, units, models of another kind, and what a reader of screens hears."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QImage
from PySide6.QtWidgets import QAbstractScrollArea, QLabel, QMessageBox, QTabBar, QWidget
from pytestqt.qtbot import QtBot

from tests.gui.hands import Hands
from workbench.theme import DARK, LIGHT
from workbench.window.about import about_text
from workbench.window.main_window import MainWindow


def edge(image: QImage) -> int:
    """Lightness of the ground in the lower right corner, 0 to 255."""
    return image.pixelColor(image.width() - 2, image.height() - 2).lightness()


def test_a_theme_reaches_every_view(window: MainWindow, hands: Hands, qtbot: QtBot) -> None:
    views: list[QWidget] = [
        window.stage,
        window.transport,
        window.editor,
        window.run_form,
        window.variants,
        window.figures,
        *window.plots.panels,
    ]
    light = [view.grab().toImage() for view in views]
    hands.choose("theme_dark")
    qtbot.waitUntil(lambda: edge(window.transport.grab().toImage()) < 128)
    dark = [view.grab().toImage() for view in views]
    for view, before, after in zip(views, light, dark, strict=True):
        assert before != after, view
        assert edge(before) > 128 > edge(after), view
    assert window.theme() is DARK
    hands.choose("theme_light")
    assert window.theme() is LIGHT
    assert [
        action.isChecked() for key, action in window.actions_by_key.items() if key.startswith("theme_")
    ] == [
        False,
        True,
        False,
    ]
    qtbot.waitUntil(lambda: all(edge(view.grab().toImage()) > 128 for view in views))


def test_units_reach_every_view(window: MainWindow, hands: Hands) -> None:
    frequency, rate = hands.figure("Bounce frequency"), hands.number("Heave rate")
    stage = window.stage.grab().toImage()
    hands.choose("inch_pound")
    row = hands.at_hand("Front spring rate")
    assert row.unit_button.text() == "lbf/in"
    assert float(row.number.text()) == pytest.approx(6.852, abs=1e-3)  # 1.2 N/mm
    assert hands.figure("Heave rate", "Unit") == "lbf/in"
    assert hands.number("Heave rate") == pytest.approx(rate / 0.1751268, rel=5e-3)  # three digits shown
    assert hands.figure("Bounce frequency") == frequency
    assert window.plots.panels[1].view.units["acceleration"] == "ft/s²"
    assert "ft/s²" in window.plots.panels[1].view.readout
    assert window.drive.speed.unit_button.text() == "mph"  # type: ignore[attr-defined]
    assert window.stage.grab().toImage() != stage
    hands.choose("metric")
    assert hands.number("Heave rate") == rate
    assert not window.document.unsaved


def test_a_half_car_has_no_roll(window: MainWindow, hands: Hands) -> None:
    labels = [window.figures.model.item(row, 0).text() for row in range(window.figures.model.rowCount())]
    assert any("oll" in label for label in labels)
    sample = next(one for one in hands.submenu("File", "Samples").actions() if "Half car" in one.text())
    sample.trigger()
    hands.settle()
    labels = [window.figures.model.item(row, 0).text() for row in range(window.figures.model.rowCount())]
    assert "RMS pitch angle" in labels
    assert not any("roll" in label.lower() or "warp" in label.lower() for label in labels)
    assert window.engine.candidate is not None
    assert window.engine.candidate.run.model == "half car"


def test_every_figure_explains_itself(window: MainWindow) -> None:
    model = window.figures.model
    for row in range(model.rowCount()):
        tip = model.item(row, 0).toolTip()
        assert tip.splitlines()[0].startswith(model.item(row, 0).text())  # the unit follows
        assert len(tip.splitlines()[1]) > 10


def test_whatever_takes_the_focus_has_a_name(window: MainWindow) -> None:
    def named(widget: QWidget) -> bool:
        labels = (label for label in window.findChildren(QLabel) if label.buddy() is widget)
        own = widget.property("text") or widget.property("title")
        return bool(widget.accessibleName() or own or any(labels))

    def inner(widget: QWidget) -> bool:
        """Insides of Qt's own widgets: the widget around them speaks for them, or their tabs do."""
        around = widget.parent()
        viewport = isinstance(around, QAbstractScrollArea) and around.viewport() is widget
        return viewport or widget.window() is not window or isinstance(widget, QTabBar)

    for number in range(window.pages.count()):  # some are filled when they are first seen
        window.pages.setCurrentIndex(number)
    outer = [
        widget
        for widget in window.findChildren(QWidget)
        if widget.focusPolicy() != Qt.FocusPolicy.NoFocus and not inner(widget)
    ]
    assert len(outer) > 100
    nameless = [f"{type(w).__name__} in {type(w.parent()).__name__}" for w in outer if not named(w)]
    assert nameless == []


def test_about(window: MainWindow, hands: Hands) -> None:
    hands.choose("about")
    box = next(w for w in window.findChildren(QMessageBox) if w.isVisible())
    assert "Before you rely on a result" in about_text()
    assert 200 < box.width() < 900
    assert box.height() < 900
    box.close()


def test_the_look_follows_the_desktop(
    window: MainWindow, hands: Hands, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands.choose("theme_system")
    assert window.theme() is LIGHT  # this desktop does not say
    monkeypatch.setattr("workbench.window.main_window.system_theme", lambda: DARK)
    QGuiApplication.styleHints().colorSchemeChanged.emit(Qt.ColorScheme.Dark)
    qtbot.waitUntil(lambda: edge(window.transport.grab().toImage()) < 128)
    hands.choose("theme_light")
    QGuiApplication.styleHints().colorSchemeChanged.emit(Qt.ColorScheme.Dark)
    assert window.theme() is LIGHT  # the user's own choice holds
    qtbot.waitUntil(lambda: edge(window.transport.grab().toImage()) > 128)
