"""The window: stage on top, editor on the left, plots in the middle, figures on the right."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import (
    QAction,
    QActionGroup,
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QKeySequence,
)
from PySide6.QtWidgets import (
    QApplication,
    QDockWidget,
    QLabel,
    QMainWindow,
    QMenu,
    QProgressBar,
    QPushButton,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from models.analysis import Analysis
from models.charts import Chart
from models.errors import InputError
from models.judge import Figure, key_figures
from models.project import (
    Project,
    duplicate_variant,
    move_variant,
    remove_variant,
    set_baseline,
    set_candidate,
)
from models.run import Run
from models.units import INCH_POUND, METRIC
from workbench import resources
from workbench.cursor import TimeCursor
from workbench.document import Document
from workbench.editor import ParameterEditor, PartForm, commit_input
from workbench.engine import Engine
from workbench.help import anchors
from workbench.help.browse import show_help
from workbench.help.context import place_wanted
from workbench.runner import Runner
from workbench.scrolled import scrolled
from workbench.settings import Settings
from workbench.stage import FilmDialog, StageView, Transport, ViewOptions, ViewTools
from workbench.theme import DARK, LIGHT, Theme, apply_theme, system_theme
from workbench.window.about import show_about
from workbench.window.actions import ACTIONS, MENUS, make_actions, recolour
from workbench.window.all_pages import AllPages
from workbench.window.drive_bar import DriveBar
from workbench.window.drops import Drops, dropped_files
from workbench.window.exporter import FIGURE_FORMS, Exporter
from workbench.window.figures_panel import FiguresPanel
from workbench.window.files import Files
from workbench.window.keyboard import KeyboardPage
from workbench.window.mnemonics import follow_menu
from workbench.window.notice import NoticeBar
from workbench.window.page_tabs import PageTabs
from workbench.window.places import Places
from workbench.window.run_quality import RunQualityLine
from workbench.window.variants_panel import VariantsPanel

__all__ = ["MainWindow"]

#: Editor and figures: share of the width in per cent, and its limits, px.
_SIDES = ((22, 288, 350), (27, 444, 460))

_NOT_TAKEN = (
    "A value that was typed is not taken; the reason stands under its field. Correct it or press Escape "
    "there. To go on without it, do the same again."
)
_CANCELLED = "Cancelled. Plots, stage and figures still show what was computed before the last edit."

#: Entry of the menu "Help" -> place in the handbook.
_HANDBOOK = {
    "contents": anchors.CONTENTS,
    "tutorial": anchors.TUTORIAL,
    "theory": anchors.THEORY,
    "glossary": anchors.GLOSSARY,
    "verification": anchors.VERIFICATION,
}


class MainWindow(QMainWindow):
    """Wires the one document, engine and time cursor to the views; holds no data of its own."""

    def __init__(self, project: Project, settings: Settings) -> None:
        super().__init__()
        self.settings = settings
        _dress_application(self.theme())  # before there are widgets, which would be dressed twice
        self.runner = Runner(self)
        self.document = Document(project, self)
        self.engine = Engine(self.document, self.runner, self)
        self.time_cursor = TimeCursor(self)
        self.files = Files(self.document, settings, self.runner, self)
        self.files.input_taken = self._input_taken
        self._make_views()
        self._make_docks()
        handlers = {key: self._with_input(handler) for key, handler in self._handlers().items()}
        self.places = Places({**self._places(), "notice": lambda: self.notice}, self._bring)
        self.actions_by_key, self._menus = make_actions(self, handlers)
        self._fill_menus()
        self._make_status_bar()
        self.editor.set_target(self.document, self.document.candidate_path)
        self.transport.set_shortcuts({spec.key: spec.shortcut for spec in ACTIONS if spec.shortcut})
        self._connect()
        self.setAcceptDrops(True)
        self._restore_layout()
        self._show_theme()
        self._show_units()
        self._document_opened()

    # -- building ------------------------------------------------------------------------------------

    def _make_views(self) -> None:
        self.stage = StageView(self)
        self.stage.set_cursor(self.time_cursor)
        self.transport = Transport(self.time_cursor, self)
        self.transport.exaggeration_changed.connect(self.stage.set_exaggeration)
        self.view_tools = ViewTools(self.stage, self)
        self.view_tools.film_wanted.connect(self._ask_for_film)
        self.transport.add_tools(self.view_tools)
        self.stage.take_key = self.transport.take_key
        plain = ViewOptions()
        self.stage.options = ViewOptions.from_words(self.settings.choices("stage", plain.words()))
        self.editor = ParameterEditor(self)
        self.run_form = PartForm(Run, self.document, ("run",), "Run")
        self.drive = DriveBar(self.document, self.run_form, self)
        self.pages = AllPages(self.document, self.runner, self.settings, self.time_cursor, self)
        self.plots = self.pages.plots
        self.variants = VariantsPanel(self.document, self)
        self.figures = FiguresPanel(self)
        self.notice = NoticeBar(self)
        self._why_not_standing = self._standing_text = self._offered = ""
        self._baseline_figures: tuple[Analysis | None, tuple[Figure, ...]] = (None, ())
        roads = self.pages.roads
        self._drops = Drops(self._open_recent, roads.import_csv, roads.import_crg, self.notice.say)
        self.exporter = Exporter(self.document, self.settings, self.runner, self)

    def _make_docks(self) -> None:
        self.setDockNestingEnabled(True)
        self.setTabPosition(Qt.DockWidgetArea.AllDockWidgetAreas, QTabWidget.TabPosition.North)
        for corner in (Qt.Corner.TopLeftCorner, Qt.Corner.TopRightCorner):
            self.setCorner(corner, Qt.DockWidgetArea.TopDockWidgetArea)
        self.setCentralWidget(_column(self.notice, self.pages))
        self._docks = {
            "stage": self._dock("Stage", _column(self.stage, self.transport, self.drive), "Top"),
            "car": self._dock("Car", self.editor, "Left"),
            "road": self._dock("Road", scrolled(self.run_form), "Left"),
            "variants": self._dock("Variants", self.variants, "Right"),
            "figures": self._dock("Key figures", self.figures, "Right"),
        }
        self._default_layout()

    def _dock(self, title: str, content: QWidget, area: str) -> QDockWidget:
        dock = QDockWidget(title, self)
        dock.setObjectName(f"dock {title}")
        dock.setWidget(content)
        if area != "Right":  # the stage says what it is, and the tabs name what they show
            dock.setTitleBarWidget(QWidget(dock))
        self.addDockWidget(Qt.DockWidgetArea[f"{area}DockWidgetArea"], dock)
        return dock

    def _default_layout(self) -> None:
        docks = self._docks
        for dock in docks.values():
            dock.setFloating(False)
            dock.show()
        self.addDockWidget(Qt.DockWidgetArea.TopDockWidgetArea, docks["stage"])
        self.addDockWidget(Qt.DockWidgetArea.LeftDockWidgetArea, docks["car"])
        self.tabifyDockWidget(docks["car"], docks["road"])
        self.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, docks["variants"])
        self.splitDockWidget(docks["variants"], docks["figures"], Qt.Orientation.Vertical)
        docks["car"].raise_()
        width, height = self.width(), self.height()
        sides = [min(max(share * width // 100, least), most) for share, least, most in _SIDES]
        self.resizeDocks([docks["car"], docks["figures"]], sides, Qt.Orientation.Horizontal)
        self.resizeDocks([docks["stage"]], [max(height * 33 // 100, 250)], Qt.Orientation.Vertical)
        lower = height * 6 // 10
        self.resizeDocks(
            [docks["variants"], docks["figures"]],
            [lower * 22 // 100, lower * 78 // 100],
            Qt.Orientation.Vertical,
        )

    def _make_status_bar(self) -> None:
        self.statusBar().setSizeGripEnabled(False)
        self.quality = RunQualityLine(self.runner, self)
        self.statusBar().addPermanentWidget(self.quality, 1)
        #: What is being computed; not a message of the status bar, which the tip of a menu entry would clear.
        self.busy = QLabel(self)
        self._progress = QProgressBar(self)
        self._progress.setRange(0, 100)
        self._progress.setFixedWidth(160)
        self._cancel = QPushButton("Cancel", self)
        self._cancel.clicked.connect(self._cancel_work)
        for widget in (self.busy, self._progress, self._cancel):
            widget.hide()
            self.statusBar().addPermanentWidget(widget)

    def _connect(self) -> None:
        self.document.opened.connect(self._document_opened)
        self.document.changed.connect(self._document_changed)
        self.document.path_changed.connect(self._forget_notices)
        self.document.path_changed.connect(self._show_title)
        self.document.undo_stack.cleanChanged.connect(lambda _clean: self._show_title())
        stack = self.document.undo_stack
        for key, able, text in (
            ("undo", stack.canUndoChanged, stack.undoTextChanged),
            ("redo", stack.canRedoChanged, stack.redoTextChanged),
        ):
            action = self.actions_by_key[key]
            action.setEnabled(False)
            able.connect(action.setEnabled)
            text.connect(partial(_show_step, action, action.text()))
        self.engine.results_changed.connect(self._show_results)
        self.engine.failed.connect(lambda text: self.notice.say(f"This car cannot be computed. {text}"))
        self.runner.busy_changed.connect(self._show_busy)
        self.runner.progressed.connect(lambda share: self._progress.setValue(round(100 * share)))
        self.editor.units_changed.connect(self.settings.choose_unit)
        self.editor.export_wanted.connect(self.exporter.ask)
        self._connect_ticks()
        self.run_form.units_changed.connect(self.settings.choose_unit)
        self.stage.options_changed.connect(self._show_stage_options)
        self.pages.units_changed.connect(self.settings.choose_unit)
        self.pages.refused.connect(self.notice.say)
        self.pages.review.made.connect(self._offer_review)
        self.pages.table_wanted.connect(self.exporter.ask_table)
        self.drive.details_wanted.connect(self._docks["road"].raise_)
        self.pages.export_wanted.connect(self.exporter.ask)
        self.pages.packaging.room_wanted.connect(partial(setattr, self.stage, "room_visible"))
        self.settings.units_changed.connect(self._show_units)
        self.settings.theme_changed.connect(self._show_theme)
        self.settings.recent_changed.connect(self._fill_recent)
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._show_theme)
        self.time_cursor.playing_changed.connect(self._show_playing)
        for source in (self.files, self.exporter):
            source.refused.connect(self.notice.say)
            source.done.connect(lambda text: self.statusBar().showMessage(text, 8000))
        self.files.missing.connect(self._offer_to_forget)
        self.pages.currentChanged.connect(self._show_page)
        self.variants.refused.connect(self.notice.say)

    def _connect_ticks(self) -> None:
        """Numbers that are ticked in the editor are those of the chosen study."""
        studies = self.pages.studies
        self.editor.study_ticked.connect(studies.tick_number)
        self.editor.study_wanted.connect(self._study_parameter)
        self.editor.ticking_changed.connect(studies.show_ticking)
        studies.studied.connect(self.editor.show_studied)
        studies.ticking_wanted.connect(self._tick_in_editor)
        studies.tell_studied()

    def _study_parameter(self, place: str) -> None:
        self.pages.setCurrentWidget(self.pages.studies)
        self.pages.studies.study_number(place)

    def _tick_in_editor(self, on: bool) -> None:
        self._docks["car"].raise_()
        self.editor.set_ticking(on)

    def _handlers(self) -> dict[str, Callable[[], object]]:
        return {
            "new": self.files.new,
            "open": self.files.ask_open,
            "save": self.files.save,
            "save_as": self.files.save_as,
            "export_figures": lambda: self.exporter.ask_all(self.pages.charts()),
            **{f"export_all_{form}": partial(self.exporter.ask_figures, form) for form in FIGURE_FORMS},
            "export_data": self.exporter.ask_data,
            "design_review": partial(self.pages.review.make_file, ".pdf", again=True),
            "export_picture": self.exporter.ask_picture,
            "copy_picture": self.exporter.copy_picture,
            "quit": self.close,
            "undo": self.document.undo_stack.undo,
            "redo": self.document.undo_stack.redo,
            "find_parameter": self._find_parameter,
            "duplicate_variant": self._duplicate_variant,
            "rename_variant": self.variants.begin_rename,
            "remove_variant": self._remove_variant,
            "make_baseline": self._make_baseline,
            "move_variant_up": partial(self._move_variant, -1),
            "move_variant_down": partial(self._move_variant, 1),
            "next_variant": partial(self._choose_neighbour, 1),
            "last_variant": partial(self._choose_neighbour, -1),
            "play": self.time_cursor.toggle,
            "step_forward": self.transport.step_forward,
            "step_back": self.transport.step_back,
            "rewind": partial(self.time_cursor.move_to, 0.0),
            "ghost": self._show_ghost,
            "fit": self.plots.fit,
            "metric": partial(self.settings.choose_units, METRIC),
            "inch_pound": partial(self.settings.choose_units, INCH_POUND),
            **{
                f"theme_{name}": partial(setattr, self.settings, "theme", name)
                for name in ("system", "light", "dark")
            },
            "reset_layout": self._default_layout,
            "help": lambda: self._open_handbook(place_wanted()),
            **{f"help_{name}": partial(self._open_handbook, place) for name, place in _HANDBOOK.items()},
            "next_page": partial(self.pages.turn, 1),
            "last_page": partial(self.pages.turn, -1),
            **{f"go_{name}": partial(self._go, name) for name in self._places()},
            "next_place": lambda: self.places.step(1),
            "last_place": lambda: self.places.step(-1),
            "menus": self._enter_menus,
            "shortcuts": self._show_shortcuts,
            "about": partial(show_about, self),
        }

    def _fill_menus(self) -> None:
        before = self.actions_by_key["save"]
        self._recent_menu = QMenu("Recent files", self)
        samples = QMenu("Samples", self)
        for path in resources.sample_projects():
            title = path.stem.replace("_", " ").capitalize()
            samples.addAction(title).triggered.connect(partial(self._open_sample, path))
        for submenu in (self._recent_menu, samples):
            follow_menu(submenu)
            self._menus["File"].insertMenu(before, submenu)
        self._fill_recent()
        for dock in self._docks.values():
            self._menus["View"].insertAction(self.actions_by_key["reset_layout"], dock.toggleViewAction())
        self._fill_pages()
        self._show_stage_options()

    def _fill_pages(self) -> None:
        """One entry per page, the first nine with a key."""
        group = QActionGroup(self)
        self._page_actions = [QAction(title, self, checkable=True) for title in self.pages.titles()]
        for number, action in enumerate(self._page_actions):
            if number < 9:
                action.setShortcut(QKeySequence(f"Ctrl+{number + 1}"))
            action.setStatusTip("Show this page")
            action.triggered.connect(partial(self._turn_to, number))
            group.addAction(action)
        pages = QMenu("Page", self)
        pages.addActions(self._page_actions)
        follow_menu(pages)
        self._menus["Go"].insertMenu(self.actions_by_key["next_page"], pages)
        self._show_page(self.pages.currentIndex())

    def _fill_recent(self) -> None:
        self._recent_menu.clear()
        for number, path in enumerate(self.settings.recent, 1):
            text = f"&{number % 10}  {path}" if "&" not in str(path) else str(path).replace("&", "&&")
            self._recent_menu.addAction(text).triggered.connect(partial(self._open_recent, path))
        self._recent_menu.setEnabled(bool(self.settings.recent))

    # -- showing -------------------------------------------------------------------------------------

    def _document_opened(self) -> None:
        self.time_cursor.move_to(0.0)
        self._show_title()
        self._document_changed()

    def _document_changed(self) -> None:
        project = self.document.project
        self.editor.set_reference(project.variant(project.baseline).vehicle)
        self.editor.set_load(project.load)
        self.stage.set_hardware(
            project.variant(project.candidate).hardware, project.variant(project.baseline).hardware
        )
        self._show_title()

    def _show_results(self) -> None:
        candidate, baseline = self.engine.candidate, self.engine.baseline
        if candidate is None or baseline is None:
            return
        other = None if candidate.vehicle == baseline.vehicle else baseline
        self.time_cursor.set_duration(float(candidate.time.t[-1]))
        self.stage.set_analyses(candidate, other)
        project = self.document.project
        self.pages.show_results(candidate, other, (project.candidate, project.baseline))
        if self._baseline_figures[0] is not baseline:
            self._baseline_figures = (baseline, key_figures(baseline))
        self.figures.show_figures(key_figures(candidate), self._baseline_figures[1])
        self.quality.show_results(candidate, other, (project.candidate, project.baseline))
        self._show_standing(candidate)
        self.notice.take_back(_CANCELLED)

    def _show_standing(self, candidate: Analysis) -> None:
        """Say once why the car does not stand; take it back as soon as it does."""
        reason = candidate.stand.reason
        if reason == self._why_not_standing:
            return
        if reason:
            self._standing_text = f"{self.document.project.candidate} does not stand: {reason}."
            self.notice.say(self._standing_text)
        else:
            self.notice.take_back(self._standing_text)
        self._why_not_standing = reason

    def _forget_notices(self) -> None:
        """What was said of another project or file is past."""
        self.notice.settle()
        self._why_not_standing = ""

    def _show_title(self) -> None:
        path = self.document.path
        place = f" – {path.name}" if path else ""
        title = f"{self.document.project.name}{place}[*] – Corduroy"
        if title != self.windowTitle():
            self.setWindowTitle(title)
            self.setWindowFilePath(str(path) if path else "")
        if self.document.unsaved != self.isWindowModified():
            self.setWindowModified(self.document.unsaved)

    def copy_figure(self, chart: Chart) -> None:
        """Put the figure of a chart on the clipboard; views below find the window by this name."""
        self.exporter.copy(chart)

    def _show_busy(self, title: str) -> None:
        self._progress.setValue(0)
        self.busy.setText(title)
        for widget in (self.busy, self._progress, self._cancel):
            widget.setVisible(bool(title))

    def _cancel_work(self) -> None:
        self.runner.cancel()
        if self.engine.stale:
            self.notice.say(_CANCELLED, {"Compute now": self.engine.update_now})

    def _show_playing(self, playing: bool) -> None:
        action = self.actions_by_key["play"]
        action.setText("Pause" if playing else "Play")

    def _show_stage_options(self) -> None:
        options = self.stage.options
        self.actions_by_key["ghost"].setChecked(options.ghost)
        self.pages.packaging.show_room(options.room)
        self.settings.keep_choices("stage", options.words())

    def _show_ghost(self) -> None:
        self.stage.ghost_visible = self.actions_by_key["ghost"].isChecked()

    def _show_units(self) -> None:
        units = self.settings.units
        for view in (self.editor, self.run_form, self.stage, self.pages, self.figures):
            view.set_units(units)

    def theme(self) -> Theme:
        """Theme in force, by the user's choice or the desktop's."""
        choice = self.settings.theme
        if choice == "system":
            return system_theme()
        return DARK if choice == "dark" else LIGHT

    def _show_theme(self) -> None:
        theme = self.theme()
        _dress_application(theme)
        views = (self.editor, self.run_form, self.stage, self.transport, self.view_tools, self.pages)
        for view in (*views, self.variants, self.figures, self.notice, self.quality):
            view.set_theme(theme)
        recolour(self.actions_by_key, theme)
        for name in ("system", "light", "dark"):
            self.actions_by_key[f"theme_{name}"].setChecked(self.settings.theme == name)

    # -- actions -------------------------------------------------------------------------------------

    def _with_input(self, handler: Callable[[], object]) -> Callable[[], object]:
        """The same action, which first takes what is being typed: a menu or key does not leave a field."""

        def act() -> object:
            self._take_input()
            return handler()

        return act

    def _take_input(self) -> bool:
        self.variants.finish_rename()
        return commit_input()

    def _input_taken(self) -> bool:
        """Whether nothing typed would be lost, or the user goes on though told so."""
        if self._take_input() or (self.notice.isVisible() and self.notice.text.text() == _NOT_TAKEN):
            return True
        self.notice.say(_NOT_TAKEN)
        return False

    def _open_recent(self, path: Path) -> None:
        self._take_input()
        self.files.open(path)

    def _open_sample(self, path: Path) -> None:
        self._take_input()
        self.files.open_sample(path)

    def _ask_for_film(self) -> None:
        self.time_cursor.pause()
        dialog = FilmDialog(self.stage, self.time_cursor.duration, self.files.folder(), self)
        dialog.written.connect(lambda path: self.statusBar().showMessage(f"Wrote {path}", 8000))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()

    def _open_handbook(self, place: str) -> None:
        problem = show_help(place)
        if problem:
            self.notice.say(problem)

    def _offer_to_forget(self, text: str, path: Path) -> None:
        self.notice.say(text, {"Take it off the list": partial(self.settings.forget_recent, path)})

    def _offer_review(self, text: str, answers: Mapping[str, Callable[[], None]]) -> None:
        self.notice.take_back(self._offered)  # an earlier file, not to come back behind this one
        self._offered = text
        self.notice.say(text, answers)

    def _find_parameter(self) -> None:
        self._bring("car")
        self.editor.find_parameter()

    def _duplicate_variant(self) -> None:
        project = self.document.project
        longer = duplicate_variant(project, project.candidate)
        copy = longer.variants[longer.index(project.candidate) + 1].name
        self.document.apply(f"copy of {project.candidate}", set_candidate(longer, copy))

    def _remove_variant(self) -> None:
        project = self.document.project
        try:
            shorter = remove_variant(project, project.candidate)
        except InputError as error:
            self.notice.say(str(error))
        else:
            self.document.apply(f"removal of {project.candidate}", shorter)

    def _make_baseline(self) -> None:
        project = self.document.project
        self.document.apply("choice of baseline", set_baseline(project, project.candidate))

    def _move_variant(self, steps: int) -> None:
        project = self.document.project
        self.document.apply(f"move of {project.candidate}", move_variant(project, project.candidate, steps))

    def _choose_neighbour(self, step: int) -> None:
        project = self.document.project
        names = project.names
        name = names[(names.index(project.candidate) + step) % len(names)]
        self.document.apply(f"choice of {name}", set_candidate(project, name))

    # -- keys and drops ------------------------------------------------------------------------------

    def _places(self) -> dict[str, Callable[[], QWidget]]:
        return {
            "stage": lambda: self.stage,
            "car": lambda: self.editor,
            "road": lambda: self.run_form,
            "page": lambda: self.pages,
            "variants": lambda: self.variants,
            "figures": lambda: self.figures,
        }

    def _bring(self, name: str) -> None:
        if name in self._docks:
            self._docks[name].show()
            self._docks[name].raise_()

    def _go(self, name: str) -> None:
        self.places.go(name)

    def _turn_to(self, number: int) -> None:
        self._take_input()
        self.pages.setCurrentIndex(number)

    def _show_page(self, number: int) -> None:
        self._page_actions[number].setChecked(True)

    def _enter_menus(self) -> None:
        bar = self.menuBar()
        bar.setFocus(Qt.FocusReason.MenuBarFocusReason)
        bar.setActiveAction(bar.actions()[0])

    def _show_shortcuts(self) -> None:
        page = KeyboardPage([self._menus[name] for name in MENUS], self)
        page.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        page.show()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if dropped_files(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        files = dropped_files(event.mimeData())
        event.acceptProposedAction()
        # The program that the file is dragged from waits for the end of the drop, so questions come after.
        QTimer.singleShot(0, self, partial(self._drops.take, files))

    # -- life of the window --------------------------------------------------------------------------

    def _restore_layout(self) -> None:
        # Not larger than the screen, beyond which nothing could be reached.
        self.resize(QSize(1600, 1000).boundedTo(self.screen().availableGeometry().size()))
        geometry, state = self.settings.layout("geometry"), self.settings.layout("docks")
        if geometry is not None:
            self.restoreGeometry(geometry)
        if state is None or not self.restoreState(state):
            QTimer.singleShot(0, self, self._default_layout)
        self.pages.turn_to(self.settings.page)

    def sizeHint(self) -> QSize:
        return QSize(1600, 1000)

    def closeEvent(self, event: QCloseEvent) -> None:
        if not self.files.may_leave():
            event.ignore()
            return
        self.time_cursor.pause()
        self.settings.keep_layout("geometry", self.saveGeometry())
        self.settings.keep_layout("docks", self.saveState())
        self.settings.page = self.pages.tabText(self.pages.currentIndex())
        self.settings.sync()
        self.runner.stop()
        self.pages.studies.close_workers()
        self.pages.review.close_press()
        event.accept()


def _dress_application(theme: Theme) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    apply_theme(app, theme)


def _show_step(action: QAction, verb: str, step: str) -> None:
    """Say in a menu which edit "Undo" or "Redo" is about."""
    action.setText(f"{verb} {step}".strip().replace("&", "&&"))


def _column(*widgets: QWidget) -> QWidget:
    column = QWidget()
    layout = QVBoxLayout(column)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(0)
    for widget in widgets:
        layout.addWidget(widget, 1 if isinstance(widget, (StageView, PageTabs)) else 0)
    return column
