"""Our icons: one style, one colour, and each can be drawn."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest
from PySide6.QtGui import QColor, QIcon
from pytestqt.qtbot import QtBot

from workbench.icons import app_icon, icon
from workbench.resources import folder
from workbench.theme import DARK, LIGHT

FILES = sorted(path for path in folder("icons").glob("*.svg") if path.stem != "corduroy")


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_icon_is_drawn_in_the_colour_asked_for(qtbot: QtBot, path: Path) -> None:
    root = ElementTree.parse(path).getroot()
    assert root.get("viewBox") == "0 0 24 24"
    assert root.get("stroke") == "currentColor"
    assert root.get("stroke-width") == "1.6"
    for theme in (LIGHT, DARK):
        image = icon(path.stem, theme.ink).pixmap(48, 48).toImage()
        seen = {
            image.pixelColor(x, y).name()
            for x in range(image.width())
            for y in range(image.height())
            if image.pixelColor(x, y).alpha() == 255
        }
        assert seen == {QColor(theme.ink).name()}


def test_a_disabled_icon_is_paler(qtbot: QtBot) -> None:
    image = icon("save", LIGHT.ink).pixmap(24, 24, QIcon.Mode.Disabled).toImage()
    strongest = max(image.pixelColor(x, y).alpha() for x in range(24) for y in range(24))
    assert 0 < strongest < 130


def test_unknown_icon_is_refused(qtbot: QtBot) -> None:
    with pytest.raises(FileNotFoundError):
        icon("no such icon", LIGHT.ink)


def test_the_program_has_its_mark(qtbot: QtBot) -> None:
    assert not app_icon().pixmap(64, 64).isNull()
