"""The page of the design review."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QImage, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSplitter,
    QTabBar,
    QVBoxLayout,
    QWidget,
)

from models.analysis import Analysis
from models.errors import InputError
from models.fields import replaced
from models.project.review import SECTIONS, ReviewOptions
from models.report import SECTION_TITLES
from models.report.press import Made, MadeSection, Order
from models.units import METRIC, UnitChoice
from workbench.document import Document
from workbench.editor import PartForm
from workbench.editor.text_row import TextRow
from workbench.inset import inset
from workbench.pages.review.files import Files, openings
from workbench.pages.review.note_edit import NoteEdit
from workbench.pages.review.printing import Make, Printing
from workbench.pages.review.sheets import SHARPNESS, PageSheets, page_area
from workbench.pages.review.study_states import study_states
from workbench.pages.review.ticked_list import TickedList, Told
from workbench.pages.studies.study_runs import results_folder
from workbench.runner import Job, Runner
from workbench.scrolled import scrolled
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["ReviewPage"]

_LANE = "review look"
_CONTROLS = 330
# Width from which contents and pages have room beside each other, px.
_ROOMY = 860
_NO_STUDIES = "The project has no studies. Those added on the page Studies can be shown here."
_NO_PAGES = (
    "No pages yet\n\n“Preview” shows the review as it will be printed; “Make PDF…” writes the file at once."
)
_STALE = "The pages show an earlier state. “Preview” makes them anew."
_ORDERING = "Drag, or Alt+Up and Alt+Down, to put in order; a section that is chosen is shown in the pages."


class ReviewPage(QWidget):
    """Options of the review, which are part of the project, its pages, and the files made of it.

    Signals:
        refused(str): something was refused while it could not be told here.
        made(str, object): a file was written: in words, and what may be done with it.
    """

    refused = Signal(str)
    made = Signal(str, object)

    def __init__(
        self, document: Document, runner: Runner, parent: QWidget | None = None, make: Make | None = None
    ) -> None:
        """Show the options.

        Args:
            document: whose review it is.
            runner: waits for the work.
            parent: of the page.
            make: carries orders out; by default a process of its own.
        """
        super().__init__(parent)
        self._document, self._runner = document, runner
        self._theme, self._units = LIGHT, dict[str, str](METRIC)
        self._shown: Order | None = None
        self._begins: dict[str, int] = {}
        self.printing = Printing(runner, make, self)
        self.files = Files(document, self)
        self.form = PartForm(
            ReviewOptions, document, ("review",), only=("author", "date", "paper", "units"), parent=self
        )
        self.note = NoteEdit(3, self)
        self.sections, self.studies = TickedList("Sections", self), TickedList("Studies", self)
        self.no_studies, self.ordering = QLabel(_NO_STUDIES, self), QLabel(_ORDERING, self)
        self.message, self.state = QLabel(self), QLabel(self)
        self.pdf, self.html = QPushButton("Make PDF…", self), QPushButton("Make HTML…", self)
        self.figures, self.preview = QPushButton("Figures…", self), QPushButton("Preview", self)
        self.stop, self.progress = QPushButton("Stop", self), QProgressBar(self)
        self.sheets, self.empty = PageSheets(self), QLabel(_NO_PAGES, self)
        self.area = page_area(self.sheets)
        self.sides, self._body = QTabBar(self), QSplitter(self)
        self._build()
        self._connect()
        self._follow()
        self._show_running()
        self.set_theme(LIGHT)

    # -- building ------------------------------------------------------------------------------------

    def _build(self) -> None:
        for label in (self.no_studies, self.ordering, self.message, self.state, self.empty):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setMargin(30)
        for label in (self.state, self.ordering):
            label.setFont(small_font(self.font()))
        self.message.hide()
        self._halves = (self._options(), self._pages())
        for side in self._halves:
            self._body.addWidget(side)
        self._body.setStretchFactor(1, 1)
        self._body.setChildrenCollapsible(False)
        self._body.setSizes([_CONTROLS + 60, 2 * _CONTROLS])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self._buttons())
        column.addLayout(inset(self.message))
        column.addWidget(self._body, 1)

    def _buttons(self) -> QHBoxLayout:
        tips = {
            self.pdf: "Write the review as PDF",
            self.html: "Write the review as one HTML file that needs nothing beside it",
            self.figures: "Write every figure of the review as SVG, by names that stay the same",
            self.preview: "Show the review as it will be printed",
            self.stop: "Stop the work",
        }
        row = QHBoxLayout()
        row.setContentsMargins(10, 4, 8, 4)
        self.sides.addTab("Contents")
        self.sides.addTab("Pages")
        self.sides.setDrawBase(False)
        self.sides.setAccessibleName("Contents or pages")
        row.addWidget(self.sides)
        for button, tip in tips.items():
            button.setToolTip(tip)
            row.addWidget(button)
        self.progress.setRange(0, 1000)
        self.progress.setAccessibleName("Progress of the review")
        self.progress.setMinimumWidth(60)
        row.addWidget(self.progress, 1)
        row.addStretch(0)
        return row

    def _options(self) -> QWidget:
        content = QWidget(self)
        column = QVBoxLayout(content)
        column.setContentsMargins(0, 0, 4, 6)
        column.setSpacing(2)
        column.addWidget(self.form)
        note = QLabel("Revision note", self)
        self.note.setAccessibleName("Revision note")
        self.note.setToolTip("What is new in this issue; on the cover")
        date_row = self.form.row("date")
        assert isinstance(date_row, TextRow)
        date_row.text.setPlaceholderText("the day on which it is made")
        sections, studies = QLabel("Sections", self), QLabel("Studies", self)
        for label, widget in ((note, self.note), (sections, self.sections), (studies, self.studies)):
            label.setContentsMargins(0, 6, 0, 0)
            column.addLayout(inset(label, 0))
            column.addLayout(inset(widget, 0))
            if widget is self.sections:
                column.addLayout(inset(self.ordering, 0))
        column.addLayout(inset(self.no_studies, 0))
        column.addStretch(1)
        return scrolled(content, _CONTROLS)

    def _pages(self) -> QWidget:
        side = QWidget(self)
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(inset(self.state))
        column.addWidget(self.area, 1)
        column.addWidget(self.empty, 1)
        return side

    def _connect(self) -> None:
        self.sections.chosen.connect(partial(self._edit, "sections"))
        self.studies.chosen.connect(partial(self._edit, "studies"))
        self.note.committed.connect(partial(self._edit, "revision"))
        self.pdf.clicked.connect(lambda: self.make_file(".pdf"))
        self.html.clicked.connect(lambda: self.make_file(".html"))
        self.figures.clicked.connect(self.make_figures)
        self.preview.clicked.connect(self.show_preview)
        self.stop.clicked.connect(self.printing.stop)
        self.printing.told.connect(self._tell)
        self.printing.made.connect(self._take)
        self.printing.failed.connect(self._refuse)
        self.printing.running_changed.connect(self._show_running)
        self.sections.currentRowChanged.connect(self._show_section)
        self.sides.currentChanged.connect(self._turn)
        self._document.changed.connect(self._follow)
        self._document.opened.connect(self._open)
        self._document.path_changed.connect(self.files.forget)

    # -- what the window asks ------------------------------------------------------------------------

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """The review computes its own results."""

    def set_units(self, units: UnitChoice) -> None:
        """Take the units of the window, which the review may want."""
        self._units = dict(units)
        self._show_state()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        self.form.set_theme(theme)
        for part in (self.sections, self.studies, self.sheets):
            part.set_theme(theme)
        self.message.setStyleSheet(f"color: {theme.mark};")
        for label in (self.no_studies, self.ordering, self.empty):
            label.setStyleSheet(f"color: {theme.faint};")
        self._show_state()

    def close_press(self) -> None:
        """Let go of the process, at the end of the program."""
        self.printing.close()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    # -- making --------------------------------------------------------------------------------------

    def make_file(self, suffix: str, again: bool = False) -> None:
        """Write a file, ".pdf" or ".html"; with ``again`` the user is asked for it the first time only."""
        try:
            path = (self.files.last(suffix) if again else None) or self.files.ask(suffix)
        except InputError as error:
            self._refuse(str(error))
            return
        if path is not None:
            self._start(lambda order: replace(order, **{suffix[1:]: path}))  # type: ignore[arg-type]

    def make_figures(self) -> None:
        """Write every figure of the review into a folder that the user names."""
        folder = self.files.ask_folder()
        if folder is not None:
            self._start(lambda order: replace(order, figures=folder))

    def show_preview(self) -> None:
        """Show the pages as they will be printed."""
        self.sides.setCurrentIndex(1)
        self._start(lambda order: replace(order, sharpness=SHARPNESS))

    def order(self) -> Order:
        """The review as it stands, with no file wanted yet."""
        project, path = self._document.project, self._document.path
        options = project.review
        if not options.date:
            options = replaced(options, ("date",), date.today().isoformat())
        units = self._units if options.units == "as in the window" else METRIC
        return Order(project, options, path, (results_folder(None),), units)

    def _start(self, wanted: Callable[[Order], Order]) -> None:
        self.note.commit()
        self._say("")
        self.progress.setValue(0)
        self.progress.setFormat("starting…")
        self.printing.start(wanted(self.order()))

    def _tell(self, share: float, words: str) -> None:
        if self.printing.running:
            self.progress.setValue(round(1000 * share))
            self.progress.setFormat(words.replace("%", "%%"))

    def _take(self, order: Order, made: Made, pages: tuple[QImage, ...]) -> None:
        if order.sharpness:
            self._shown = replace(order, sharpness=0.0)
            self._begins = {section.key: section.page for section in made.sections}
            self.sheets.show_pages(pages)
            self.area.verticalScrollBar().setValue(0)
        self.sections.tell({section.key: _told(section) for section in made.sections})
        self._show_state()
        files = made.files
        if order.figures is not None:
            self.made.emit(f"Wrote {len(files)} figures to {order.figures}", openings(order.figures))
        elif files:
            self.made.emit(f"Wrote the design review to {files[0]}", openings(files[0]))

    def _refuse(self, words: str) -> None:
        if self.isVisible():
            self._say(words)
        else:
            self.refused.emit(words)

    # -- showing -------------------------------------------------------------------------------------

    def _open(self) -> None:
        """Another project: what was said and shown was of the one before."""
        self.printing.stop()
        self.files.forget()
        self._shown = None
        self.sheets.show_pages(())
        self.sections.tell({})
        self._say("")
        self._follow()

    def _follow(self) -> None:
        """Show the options as they are; what is kept of studies is looked up while the page is in sight."""
        project = self._document.project
        titles: dict[str, str] = {key: SECTION_TITLES[key] for key in SECTIONS}
        self.sections.show_choice(titles, project.review.sections)
        names = {study.name: study.name for study in project.studies}
        self.studies.show_choice(names, [name for name in project.review.studies if name in names])
        self.note.display(project.review.revision)
        self.studies.setVisible(bool(names))
        self.no_studies.setVisible(not names)
        if self.isVisible():
            self._show_state()
            self._look()

    def _look(self) -> None:
        project, path = self._document.project, self._document.path
        if not project.studies:
            return
        folders = (results_folder(path), results_folder(None))

        def work(_job: Job) -> dict[str, Told]:
            return study_states(project, folders)

        self._runner.start(_LANE, "", work, self.studies.tell, lambda error: self._refuse(str(error)))

    def _show_state(self) -> None:
        stale = self._shown is not None and self._shown != self.order()
        for widget in (self.area, self.state):
            widget.setVisible(self._shown is not None)
        self.empty.setVisible(self._shown is None)
        count = "1 page" if self.sheets.count == 1 else f"{self.sheets.count} pages"
        self.state.setText(_STALE if stale else f"{count}, as they will be printed.")
        self.state.setStyleSheet(f"color: {self._theme.mark if stale else self._theme.faint};")

    def _show_running(self) -> None:
        running = self.printing.running
        for widget in (self.stop, self.progress):
            widget.setVisible(running)
        for button in (self.pdf, self.html, self.figures, self.preview):
            button.setVisible(not running)

    def _show_section(self, row: int) -> None:
        """Bring the page into sight on which a section begins."""
        page = self._begins.get(self.sections.keys[row]) if row >= 0 else None
        if page is not None and self._shown is not None:
            self.area.verticalScrollBar().setValue(self.sheets.top(page))

    def _turn(self) -> None:
        """Show contents or pages, and there the section that was chosen among the contents."""
        self._arrange()
        QTimer.singleShot(0, self, lambda: self._show_section(self.sections.currentRow()))  # when laid out

    def _arrange(self) -> None:
        """Contents and pages beside each other where there is room, else one at a time."""
        narrow = self.width() < _ROOMY
        self.sides.setVisible(narrow)
        for number, side in enumerate(self._halves):
            side.setVisible(not narrow or number == self.sides.currentIndex())

    def _edit(self, field: str, value: object) -> None:
        self._say("")
        try:
            self._document.edit(("review", field), value)
        except InputError as error:
            self._say(str(error))
        self._follow()

    def _say(self, words: str) -> None:
        self.message.setText(words)
        self.message.setVisible(bool(words))


def _told(section: MadeSection) -> Told:
    """What became of a section."""
    if section.problem:
        return Told(f"not computed: {section.problem}", warns=True)
    page = f"page {section.page}" if section.page else ""
    count = {0: "", 1: "1 figure"}.get(section.figures, f"{section.figures} figures")
    return Told(", ".join(filter(None, (page, count))))
