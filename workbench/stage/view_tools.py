"""Buttons for what the stage shows, in a row with the controls of the time."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, QSize, Signal
from PySide6.QtGui import QActionGroup
from PySide6.QtWidgets import QHBoxLayout, QMenu, QToolButton, QWidget

from workbench.icons import icon
from workbench.stage.stage_view import StageView
from workbench.stage.view_options import FORCES
from workbench.theme import LIGHT, Theme

__all__ = ["ViewTools"]

_ICON_SIZE = QSize(20, 20)
_FORCE_WORDS = {
    "none": "No forces",
    "change": "Change of the forces from rest",
    "whole": "Whole forces, the static ones too",
}
#: Button -> name, tip and icon.
_BUTTONS = {
    "behind": (
        "Baseline behind",
        "Let the baseline drive behind the candidate, instead of as a ghost over it",
        "stage-behind",
    ),
    "horizon": (
        "Horizon",
        "Show the horizon in both windscreens, seen from the driver's eye",
        "stage-horizon",
    ),
    "trace": ("Path of the seat", "Draw the path of the seat point over the last seconds", "stage-trace"),
    "forces": ("Forces", "Draw the forces of tyres, springs, dampers and bars as arrows", "stage-forces"),
    "room": (
        "Travel and clearance",
        "Show the travel left to the stops, the ground clearance of the points under the body, and the "
        "angles of levers and links",
        "stage-room",
    ),
    "film": ("Film", "Write the stage to a film: animated GIF or MP4", "film"),
}
_TOGGLES = ("behind", "horizon", "trace", "room")


class ViewTools(QWidget):
    """Works the options of one stage, and follows them.

    Signals:
        film_wanted(): the user asks for the film dialog.
    """

    film_wanted = Signal()

    def __init__(self, stage: StageView, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._stage = stage
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2)
        self._buttons = {key: self._button(key) for key in _BUTTONS}
        for button in self._buttons.values():
            row.addWidget(button)
        for key in _TOGGLES:
            self._buttons[key].setCheckable(True)
            self._buttons[key].toggled.connect(lambda _on: self._take())
        self._forces = self._force_menu()
        self._buttons["film"].clicked.connect(self.film_wanted)
        stage.options_changed.connect(self._show)
        self.set_theme(LIGHT)
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Draw the icons in the ink of a theme."""
        for key, button in self._buttons.items():
            button.setIcon(icon(_BUTTONS[key][2], theme.ink))

    def _button(self, key: str) -> QToolButton:
        name, tip, _ = _BUTTONS[key]
        button = QToolButton(self)
        button.setAccessibleName(name)
        button.setToolTip(tip)
        button.setAutoRaise(True)
        button.setIconSize(_ICON_SIZE)
        return button

    def _force_menu(self) -> QActionGroup:
        button = self._buttons["forces"]
        button.setCheckable(True)  # with a menu of its own, a press only opens that
        menu = QMenu(button)
        group = QActionGroup(menu)
        for key in FORCES:
            action = menu.addAction(_FORCE_WORDS[key])
            action.setCheckable(True)
            action.setData(key)
            group.addAction(action)
        group.triggered.connect(lambda action: setattr(self._stage, "forces", action.data()))
        button.setMenu(menu)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        return group

    def _take(self) -> None:
        on = {key: self._buttons[key].isChecked() for key in _TOGGLES}
        self._stage.options = replace(
            self._stage.options,
            arrangement="behind" if on["behind"] else "overlaid",
            horizon=on["horizon"],
            trace=on["trace"],
            room=on["room"],
        )

    def _show(self) -> None:
        options = self._stage.options
        for key, on in (
            ("behind", options.arrangement == "behind"),
            ("horizon", options.horizon),
            ("trace", options.trace),
            ("room", options.room),
        ):
            with QSignalBlocker(self._buttons[key]):
                self._buttons[key].setChecked(on)
        for action in self._forces.actions():
            action.setChecked(action.data() == options.forces)
        self._buttons["forces"].setChecked(options.forces != "none")
        self._buttons["behind"].setEnabled(options.ghost)
