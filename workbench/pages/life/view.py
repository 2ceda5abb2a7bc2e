"""How long the parts in steel live over the road mix."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from models.analysis import Analysis
from models.cautions import HARDWARE_CAUTIONS
from models.charts import Chart
from models.charts.fatigue import damage_chart, exceedance_chart, sn_chart
from models.fields import Path
from models.hardware import Hardware
from models.hardware.fatigue import NOT_COVERED
from models.hardware.life_target import LifeTarget
from models.judge.mix import run_of_mix
from models.judge.steel_life import fatigue_parts, left_out
from models.project import Variant
from models.units import UnitChoice
from workbench.document import Document
from workbench.editor import PartForm
from workbench.folded_notes import FoldedNotes
from workbench.pages.life.line_form import LineForm
from workbench.pages.life.lives import Driven, Lives, part_lives
from workbench.pages.life.mix_runs import Drive, MixRuns
from workbench.pages.life.road_legend import RoadLegend
from workbench.pages.life.table import LifeTable
from workbench.plots import TitledChart
from workbench.runner import Job, Runner
from workbench.scrolled import scrolled
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["LifeView"]

_LANE = "part lives"
# Edits of a drag come faster than the roads are driven, ms.
_PAUSE = 500
_WIDTH = 300
# Width from which the forms have room beside the table, and three charts beside each other, px.
_ROOMY, _CHART_HEIGHT = 900, 230
# Charts, and whether they name the roads in a legend of their own.
_TITLES = (
    ("Exceedance of the stress range", False),
    ("Share of the damage by road", False),
    ("S–N line and target life", True),
)
_NO_STEEL = (
    "No steel to stress yet",
    "Describe springs and bars under “Sizes” on this page. Their stress then follows from the forces in the "
    "car as it drives over the road mix.",
)
_NO_MIX = (
    "No road mix yet",
    "Lives are reckoned over the road mix of the project: make one on the Roads page, under “Road mix”, with "
    "the share of the distance that the car spends on each road.",
)
_NOTHING = ("No part to reckon", "The car carries no load in the parts described.")


class LifeView(QWidget):
    """Table of parts and lives, charts of the chosen part, S–N line, target, and what is left out.

    The roads are driven in the worker thread while the view is in sight, and again when edits of car, load
    case or mix have settled.  Edits of the steel only stress the parts anew.

    Signals:
        units_changed(str, str): the user chose a unit: name of the kind of quantity, unit.
        export_wanted(object): the chart that the user wants as a file.
        shown: lives of the project as it stands are on the screen, or the reason why there are none.
    """

    units_changed = Signal(str, str)
    export_wanted = Signal(object)
    shown = Signal()

    def __init__(self, document: Document, runner: Runner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._runner = document, runner
        self._theme = LIGHT
        self._trouble = ""
        self._assessed: tuple[Hardware, ...] = ()
        self._variants: tuple[Variant, ...] = ()
        self._wanted: Drive | None = None
        self._job: Job | None = None
        self.lives: Lives | None = None
        self.runs = MixRuns(runner, self)
        self.table = LifeTable(self)
        self.status, self.missing, self.empty = (QLabel(self) for _ in range(3))
        self.again = QPushButton("Drive the road mix", self)
        self.target_form = PartForm(LifeTarget, document, self._target_path, "Target")
        self.line_form = LineForm(document, self)
        self.not_covered = FoldedNotes("What a life leaves out", NOT_COVERED, self)
        self.cautions = FoldedNotes("Cautions", HARDWARE_CAUTIONS, self)
        self.roads = RoadLegend(self)
        self.charts_on_show = tuple(TitledChart(title, self, name_others=whole) for title, whole in _TITLES)
        self._stack = QStackedWidget(self)
        self._due = QTimer(self, singleShot=True, interval=_PAUSE)
        self._build()
        self._clear()
        self._connect()
        self.set_theme(LIGHT)

    # -- building ------------------------------------------------------------------------------------

    def _build(self) -> None:
        for label in (self.status, self.missing, self.empty):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            label.setContentsMargins(10, 4, 6, 4)
        self.status.setFont(small_font(self.font()))
        self.missing.setFont(small_font(self.font()))
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setMargin(40)
        self.again.setToolTip("Drive the roads of the mix with the car as it is now")
        self.again.hide()
        head = QHBoxLayout()
        head.setContentsMargins(0, 2, 6, 0)
        head.addWidget(self.status, 1)
        head.addWidget(self.again)
        column = QVBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(head)
        column.addWidget(self.table)
        column.addWidget(self.missing)
        self._notes, self._charts, self._sides = (QBoxLayout(QBoxLayout.Direction.LeftToRight) for _ in "nco")
        for note in (self.not_covered, self.cautions):
            self._notes.addWidget(note, 1)
        for chart in self.charts_on_show:
            chart.setMinimumHeight(_CHART_HEIGHT)
            chart.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Ignored)
            self._charts.addWidget(chart, 1)
        column.addLayout(self._notes)
        column.addWidget(self.roads)
        column.addLayout(self._charts, 1)
        content = QWidget(self)
        content.setLayout(self._sides)
        self._sides.setContentsMargins(0, 0, 0, 0)
        self._sides.addWidget(self._forms())
        self._sides.addLayout(column, 1)
        for widget in (self.empty, scrolled(content)):
            self._stack.addWidget(widget)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._stack)

    def _forms(self) -> QWidget:
        forms = self._form_column = QWidget(self)
        column = QVBoxLayout(forms)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.target_form)
        column.addWidget(self.line_form)
        column.addStretch(1)
        return forms

    def _connect(self) -> None:
        self._document.changed.connect(self._follow)
        self._document.opened.connect(self._start_anew)
        self._due.timeout.connect(self._drive)
        self.again.clicked.connect(self._drive)
        self.table.picked.connect(self._show_chosen)
        self.runs.came.connect(self._road_came)
        self.runs.failed.connect(self._failed)
        self._runner.busy_changed.connect(lambda _title: self._say())  # it may have been cancelled
        for form in (self.target_form, self.line_form):
            form.units_changed.connect(self.units_changed)
        for chart in self.charts_on_show:
            chart.export_wanted.connect(self.export_wanted)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        """All beside each other where there is room, else below each other, to be scrolled."""
        roomy = self.width() >= _ROOMY
        across, down, up = (
            QBoxLayout.Direction.LeftToRight,
            QBoxLayout.Direction.TopToBottom,
            QBoxLayout.Direction.BottomToTop,
        )
        self._sides.setDirection(across if roomy else up)
        for row in (self._notes, self._charts):
            row.setDirection(across if roomy else down)
        self._form_column.setMinimumWidth(_WIDTH if roomy else 0)
        self._form_column.setMaximumWidth(_WIDTH if roomy else 16777215)

    # -- showing -------------------------------------------------------------------------------------

    def charts(self) -> list[Chart]:
        """Charts on show."""
        found = [view.chart for view in self.charts_on_show]
        return [chart for chart in found if chart is not None and self._stack.currentIndex() == 1]

    def show_results(self, _candidate: Analysis, _baseline: Analysis | None, _names: tuple[str, str]) -> None:
        """Results of the run do not change a life; the view follows the project."""

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        for part in self._parts():
            part.set_units(units)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        for part in (*self._parts(), self.not_covered, self.cautions, self.roads):
            part.set_theme(theme)
        self.empty.setStyleSheet(f"color: {theme.faint};")
        self.missing.setStyleSheet(f"color: {theme.faint};")
        self._say()

    def _parts(self) -> tuple[LifeTable | PartForm | LineForm | TitledChart, ...]:
        return (self.table, self.target_form, self.line_form, *self.charts_on_show)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow()
        self._drive()  # at once, as nobody is in the midst of an edit; or on from where it was left

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self._due.stop()
        self.runs.stop()

    # -- following the project -----------------------------------------------------------------------

    @property
    def driven(self) -> Driven | None:
        """What the roads do to the candidate as it is, the car and its parts; None until they are driven."""
        project, drive, loads = self._document.project, self.runs.drive, self.runs.loads(0)
        variant = project.variant(project.candidate)
        wanted = (variant.vehicle, run_of_mix(project.run), project.load, project.road_mix)
        if drive is None or loads is None or (drive.cars[0], drive.run, drive.load, drive.mix) != wanted:
            return None
        return loads, variant.vehicle, variant.hardware

    @property
    def stale(self) -> bool:
        """Whether the roads have been driven by another car, or not at all."""
        return self.runs.drive != self._wanted

    def _read(self) -> None:
        """Candidate, the baseline where it has a part to compare, and what they are to drive."""
        project = self._document.project
        candidate, baseline = project.variant(project.candidate), project.variant(project.baseline)
        own, other = (
            {part.place for part in fatigue_parts(variant.vehicle, variant.hardware)}
            for variant in (candidate, baseline)
        )
        self._variants = (candidate, baseline) if baseline is not candidate and own & other else (candidate,)
        cars = tuple(variant.vehicle for variant in self._variants)
        self._wanted = Drive(cars, run_of_mix(project.run), project.load, project.road_mix)

    def _target_path(self) -> Path:
        return (*self._document.candidate_path()[:-1], "hardware", "life_target")

    def _start_anew(self) -> None:
        self._clear()
        self._follow()
        if self.isVisible():
            self._drive()

    def _clear(self) -> None:
        self.lives, self._assessed = None, ()
        self.table.show_lives(Lives((), ()))
        for widget in (self.missing, self.table, self.roads, *self.charts_on_show):
            widget.hide()

    def _follow(self) -> None:
        """Drive or stress anew what has changed, once the view is in sight."""
        if not self.isVisible():
            return
        self._read()
        lacking = self._lacking()
        if lacking is not None:
            self._say_empty(*lacking)
            return
        self._stack.setCurrentIndex(1)
        if self.stale:
            self._due.start()
        elif self._hardware() != self._assessed or (self._job is not None and self._job.cancelled):
            self._assess()
        self._say()

    def _lacking(self) -> tuple[str, str] | None:
        project = self._document.project
        candidate = project.variant(project.candidate)
        if not fatigue_parts(candidate.vehicle, candidate.hardware):
            reasons = left_out(candidate.vehicle, candidate.hardware)
            return (_NOTHING[0], "\n".join((_NOTHING[1], *reasons))) if reasons else _NO_STEEL
        if not any(road.share > 0 for road in project.road_mix):
            return _NO_MIX
        return None

    def _say_empty(self, title: str, advice: str) -> None:
        self._wanted = None
        self._due.stop()
        self.runs.stop()
        self._runner.cancel(_LANE)
        self._clear()
        self.empty.setText(f"{title}\n\n{advice}")
        self._stack.setCurrentIndex(0)
        self.shown.emit()

    def _drive(self) -> None:
        self._due.stop()
        if self._wanted is not None:
            self._trouble = ""
            self.runs.want(self._wanted)
            self._say()

    def _road_came(self) -> None:
        done, of = self.runs.progress
        # The candidate's lives do not wait for the baseline.
        if not self.stale and done in (of // len(self._variants), of):
            self._assess()
        self._say()

    def _failed(self, reason: str) -> None:
        self._trouble = reason
        self._say()
        self.shown.emit()

    # -- stressing -----------------------------------------------------------------------------------

    def _hardware(self) -> tuple[Hardware, ...]:
        return tuple(variant.hardware for variant in self._variants)

    def _assess(self) -> None:
        """Lay what the roads have done to the parts against their S–N lines, in the worker thread."""
        driven: list[Driven] = []
        for number, variant in enumerate(self._variants):
            loads = self.runs.loads(number)
            if loads is not None:
                driven.append((loads, variant.vehicle, variant.hardware))
        if driven:
            self._assessed = self._hardware()
            self._job = self._runner.start(
                _LANE, "", lambda _job: part_lives(*driven), self._show, self._broken
            )

    def _broken(self, error: Exception) -> None:
        self._assessed = ()
        self._failed(str(error))

    def _show(self, lives: Lives) -> None:
        self.lives = lives
        self.missing.setText("\n".join(lives.left_out))
        self.missing.setVisible(bool(lives.left_out))
        self.table.show_lives(lives)
        for widget in (self.table, self.roads, *self.charts_on_show):
            widget.show()
        self._show_chosen()
        self._say()
        done, of = self.runs.progress
        if done == of and not self.stale:
            self.shown.emit()

    def _show_chosen(self) -> None:
        chosen, project = self.table.chosen, self._document.project
        if chosen is None:
            return
        exceedance, damage, line = self.charts_on_show
        names = project.candidate, project.baseline
        exceedance.set_chart(exceedance_chart(chosen.life, chosen.baseline, names))
        self.roads.show_roads([road.name for road in chosen.life.roads])
        damage.set_chart(damage_chart(chosen.life))
        line.set_chart(sn_chart(chosen.life))
        self.line_form.show_part(chosen.part.name, (*self._target_path()[:-1], *chosen.part.line_path))

    def _say(self) -> None:
        """What the lives are of, and how far they have come."""
        if self._stack.currentIndex() == 0:
            return
        done, of = self.runs.progress
        going, stale = self.runs.running or self._due.isActive(), self.stale
        finished = not stale and self.runs.loads(0) is not None
        if self._trouble:
            text = f"Not driven. {self._trouble}"
        elif stale and self.lives is not None:
            text = "Lives from before the last edits" + ("; the roads are driven again …" * going)
        elif finished:
            text = self._subject() + (" The baseline is driven for comparison …" * (going and done < of))
        elif going:
            text = f"Driving the road mix: {done} of {of} roads …"
        else:
            text = "The road mix has not been driven to its end."
        self.status.setText(text)
        marked = self._trouble or (stale and self.lives is not None)
        self.status.setStyleSheet(f"color: {self._theme.mark if marked else self._theme.faint};")
        self.table.set_stale(stale and self.lives is not None)
        self.again.setVisible(not going and (bool(self._trouble) or stale or done < of))

    def _subject(self) -> str:
        """What lives these are."""
        project = self._document.project
        roads = sum(road.share > 0 for road in project.road_mix)
        share = 100 * self._variants[0].hardware.life_target.reliability
        return (
            f"Lives that {share:.4g} % of the parts reach over the "
            f"{'one road' if roads == 1 else f'{roads} roads'} of the mix: "
            f"{project.candidate}, {project.load.name}."
        )
