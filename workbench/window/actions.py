"""Menus are data: one table gives menu, shortcut, tooltip and icon of every action."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu

from workbench.icons import icon
from workbench.theme import Theme
from workbench.window.mnemonics import follow_menu

__all__ = ["ACTIONS", "MENUS", "ActionSpec", "make_actions", "recolour"]


@dataclass(frozen=True, slots=True)
class ActionSpec:
    """One entry of the menus.

    Attributes:
        key: name in the program.
        menu: menu it stands in; a submenu after a slash.
        text: what the user reads.
        tip: what it does, in one line.
        shortcut: key sequence in portable text, or "".
        icon: name of an SVG in the icons folder, or "".
        checkable: whether it is on or off.
        separator_before: whether a line sets it apart from the entry above.
    """

    key: str
    menu: str
    text: str
    tip: str
    shortcut: str = ""
    icon: str = ""
    checkable: bool = False
    separator_before: bool = False


#: Top menus, each with its letter.  The letters differ from those of labels in the window.
_TITLES = ("&File", "&Edit", "&Variant", "&Stage", "V&iew", "&Go", "&Help")
MENUS = tuple(title.replace("&", "") for title in _TITLES)

ACTIONS: tuple[ActionSpec, ...] = (
    ActionSpec("new", "File", "New project", "Start from a plain conventional car", "Ctrl+N", "new"),
    ActionSpec("open", "File", "Open…", "Open a project file", "Ctrl+O", "open"),
    ActionSpec(
        "save", "File", "Save", "Write the project to its file", "Ctrl+S", "save", separator_before=True
    ),
    ActionSpec("save_as", "File", "Save as…", "Write the project to another file", "Ctrl+Shift+S"),
    ActionSpec(
        "export_figures",
        "File/Export",
        "Figures on show…",
        "Write all shown plots and their data into a folder",
        "Ctrl+E",
        "export",
        separator_before=True,
    ),
    *(
        ActionSpec(
            f"export_all_{form}",
            "File/Export",
            f"All figures as {form.upper()}…",
            "Write every figure of the project into a folder, by names that stay the same",
        )
        for form in ("pdf", "svg", "png")
    ),
    ActionSpec(
        "export_data",
        "File/Export",
        "Data…",
        "Write time histories, spectra, responses and speed sweeps as CSV, MAT or MDF",
        "Ctrl+Shift+E",
        separator_before=True,
    ),
    ActionSpec(
        "export_picture",
        "File/Export",
        "Picture of the window…",
        "Write a picture of the window as it is now",
        separator_before=True,
    ),
    ActionSpec(
        "design_review",
        "File",
        "Design review…",
        "Make the review as PDF, as the page Review has it",
        "Ctrl+P",
        separator_before=True,
    ),
    ActionSpec("quit", "File", "Quit", "Close the program", "Ctrl+Q", separator_before=True),
    ActionSpec("undo", "Edit", "Undo", "Take back the last edit", "Ctrl+Z", "undo"),
    ActionSpec("redo", "Edit", "Redo", "Make the edit again that was taken back", "Ctrl+Shift+Z", "redo"),
    ActionSpec(
        "copy_picture",
        "Edit",
        "Copy picture of the window",
        "Put a picture of the window as it is now on the clipboard",
        "Ctrl+Shift+C",
        separator_before=True,
    ),
    ActionSpec(
        "find_parameter",
        "Edit",
        "Find a parameter",
        "Go to the search box of the editor",
        "Ctrl+F",
        separator_before=True,
    ),
    ActionSpec(
        "duplicate_variant",
        "Variant",
        "Duplicate",
        "Copy the candidate to a new variant",
        "Ctrl+D",
        "duplicate",
    ),
    ActionSpec("rename_variant", "Variant", "Rename", "Give the candidate another name", "F2"),
    ActionSpec(
        "remove_variant",
        "Variant",
        "Remove",
        "Take the candidate out of the project",
        "Ctrl+Delete",
        "remove",
    ),
    ActionSpec(
        "make_baseline",
        "Variant",
        "Make it the baseline",
        "Compare all others with the candidate",
        "Ctrl+B",
        "baseline",
        separator_before=True,
    ),
    ActionSpec(
        "move_variant_up", "Variant", "Move up", "List the candidate one place earlier", "Ctrl+Shift+Up"
    ),
    ActionSpec(
        "move_variant_down", "Variant", "Move down", "List the candidate one place later", "Ctrl+Shift+Down"
    ),
    ActionSpec("next_variant", "Variant", "Next variant", "Make the next variant the candidate", "Ctrl+Down"),
    ActionSpec(
        "last_variant", "Variant", "Previous variant", "Make the variant before it the candidate", "Ctrl+Up"
    ),
    ActionSpec("play", "Stage", "Play or pause", "Let the car run, or hold it", "Ctrl+Space", "play"),
    ActionSpec("step_forward", "Stage", "Step forward", "One frame on", "Ctrl+Right", "step-forward"),
    ActionSpec("step_back", "Stage", "Step back", "One frame back", "Ctrl+Left", "step-back"),
    ActionSpec("rewind", "Stage", "Back to the start", "Put the time cursor at zero", "Ctrl+Home"),
    ActionSpec(
        "ghost",
        "Stage",
        "Show the baseline",
        "Draw the baseline as a ghost behind the candidate",
        "Ctrl+G",
        checkable=True,
        separator_before=True,
    ),
    ActionSpec("fit", "View", "Fit all axes", "Set the axes of all plots to their curves", "Ctrl+0"),
    ActionSpec(
        "metric", "View/Units", "Metric", "Show every quantity in metric units", separator_before=True
    ),
    ActionSpec("inch_pound", "View/Units", "Inch and pound", "Show every quantity in inch-pound units"),
    ActionSpec(
        "theme_system", "View/Look", "As the system", "Light or dark as the desktop is", checkable=True
    ),
    ActionSpec("theme_light", "View/Look", "Light", "Paper ground", checkable=True),
    ActionSpec("theme_dark", "View/Look", "Dark", "Slate ground", checkable=True),
    ActionSpec(
        "reset_layout",
        "View",
        "Reset the layout",
        "Put all panels back in their places",
        separator_before=True,
    ),
    ActionSpec("next_page", "Go", "Next page", "Show the page to the right", "Ctrl+PgDown"),
    ActionSpec("last_page", "Go", "Previous page", "Show the page to the left", "Ctrl+PgUp"),
    ActionSpec("go_stage", "Go", "To the stage", "Keys then move the time", "Alt+1", separator_before=True),
    ActionSpec("go_car", "Go", "To the car", "Keys then change its parameters", "Alt+2"),
    ActionSpec("go_road", "Go", "To the road", "Keys then change the run", "Alt+3"),
    ActionSpec("go_page", "Go", "To the page", "Keys then work plots and tables", "Alt+4"),
    ActionSpec("go_variants", "Go", "To the variants", "Keys then choose the candidate", "Alt+5"),
    ActionSpec("go_figures", "Go", "To the key figures", "Keys then scroll through them", "Alt+6"),
    ActionSpec(
        "next_place", "Go", "Next panel", "Take the keys to the next panel", "F6", separator_before=True
    ),
    ActionSpec("last_place", "Go", "Previous panel", "Take the keys to the panel before", "Shift+F6"),
    ActionSpec("menus", "Go", "To the menus", "Take the keys to the menu bar", "F10"),
    ActionSpec(
        "help",
        "Help",
        "Help on this",
        "Open the handbook at what is pointed at, or has the focus",
        "F1",
    ),
    ActionSpec("help_contents", "Help", "Contents", "Open the handbook", separator_before=True),
    ActionSpec("help_tutorial", "Help", "Tutorial", "From a blank car to the review, step by step"),
    ActionSpec("help_theory", "Help", "Theory", "Every equation as the program has it"),
    ActionSpec("help_glossary", "Help", "Glossary", "The terms, with ISO 8855 where it defines them"),
    ActionSpec("help_verification", "Help", "Verification manual", "What results were checked against"),
    ActionSpec("shortcuts", "Help", "Keyboard shortcuts", "List the keys", "Ctrl+F1", separator_before=True),
    ActionSpec("about", "Help", "About Corduroy", "Version and cautions"),
)


def make_actions(
    window: QMainWindow, handlers: Mapping[str, Callable[[], object]]
) -> tuple[dict[str, QAction], dict[str, QMenu]]:
    """Fill the menu bar from the table; gives the actions by key and the menus by name."""
    menus = {name: window.menuBar().addMenu(title) for name, title in zip(MENUS, _TITLES, strict=True)}
    actions: dict[str, QAction] = {}
    for spec in ACTIONS:
        top, _, sub = spec.menu.partition("/")
        if sub and spec.menu not in menus:
            if spec.separator_before:
                menus[top].addSeparator()
            menus[spec.menu] = menus[top].addMenu(sub)
        elif spec.separator_before:
            menus[spec.menu].addSeparator()
        action = QAction(spec.text, window)
        action.setObjectName(spec.key)
        action.setCheckable(spec.checkable)
        if spec.shortcut:
            action.setShortcut(QKeySequence(spec.shortcut))
            action.setShortcutContext(Qt.ShortcutContext.WindowShortcut)
        action.setToolTip(f"{spec.tip} ({spec.shortcut})" if spec.shortcut else spec.tip)
        action.setStatusTip(spec.tip)
        action.triggered.connect(_without_state(handlers[spec.key]))
        menus[spec.menu].addAction(action)
        actions[spec.key] = action
    for menu in menus.values():
        follow_menu(menu)
    return actions, menus


def recolour(actions: Mapping[str, QAction], theme: Theme) -> None:
    """Draw the icons in the ink of the theme."""
    for spec in ACTIONS:
        if spec.icon:
            actions[spec.key].setIcon(icon(spec.icon, theme.ink))


def _without_state(handler: Callable[[], object]) -> Callable[[bool], None]:
    def call(_checked: bool) -> None:
        handler()

    return call
