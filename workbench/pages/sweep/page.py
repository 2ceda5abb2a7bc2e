"""The page "Speeds"."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QLabel, QSplitter, QVBoxLayout, QWidget

from models.analysis import Analysis
from models.charts import Chart
from models.judge import Figure, key_figures
from models.judge.event_sweep import event_figures
from models.judge.speed_sweep import Sweep, speed_sweep
from models.roads import RoughSurface, road_class
from models.units import UnitChoice
from workbench.pages.sweep.event_runs import EventRuns
from workbench.pages.sweep.panel import SweepPanel
from workbench.pages.sweep.words import Swept, runs_words
from workbench.runner import Runner
from workbench.settings import Settings
from workbench.theme import LIGHT, Theme, small_font

__all__ = ["DEFAULT_FIGURES", "SpeedsPage"]

#: How level, and how soft.
DEFAULT_FIGURES = ["pitch_share", "rms_weighted_seat_acceleration"]

_LANE = "speeds"
_NOTE = (
    "The wheelbase filters the road over speed, so one speed alone can mislead. Figures of the random road "
    "are live; those of the time run take a run per speed."
)

# The speed of the run and both ends of the range.
_LEAST_RUNS = 3

_Road = tuple[RoughSurface, float, float]


class SpeedsPage(QWidget):
    """Two figures against speed, live.

    A sweep takes a millisecond or two once the road over frequency is known for the wheelbase and the tracks,
    and is then computed at once; the road itself takes longer than a frame and goes to the worker thread,
    where a newer edit makes it stale.  Figures of the event come from time runs, one per speed, in the worker
    thread, and are drawn as they come.  Nothing is computed while the page is hidden.

    Signals:
        shown: fresh curves of the random road are on the screen.
        runs_shown: curves of all time runs are on the screen.
        export_wanted(object): the chart that the user wants as a file.
        failed(str): a sweep could not be made.
    """

    shown = Signal()
    runs_shown = Signal()
    export_wanted = Signal(object)
    failed = Signal(str)

    def __init__(self, runner: Runner, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._runner, self._settings = runner, settings
        self._results: tuple[Analysis, Analysis | None, tuple[str, str]] | None = None
        self._stale = False
        self._known: set[_Road] = set()
        self._figures: dict[str, Figure] = {}
        self._event = ""
        self.runs = EventRuns(runner, self)
        self.runs.came.connect(self._show_runs)
        self.runs.failed.connect(self.failed)
        chosen = settings.choices("speed figures", DEFAULT_FIGURES)
        chosen = chosen if len(chosen) == len(DEFAULT_FIGURES) else DEFAULT_FIGURES
        self.panels = tuple(SweepPanel(key, self) for key in chosen)
        self.caption = QLabel(self)
        self.caption.setFont(small_font(self.font()))
        self.caption.setTextFormat(Qt.TextFormat.PlainText)
        self.caption.setWordWrap(True)
        self.caption.setContentsMargins(9, 4, 9, 2)
        split = QSplitter(Qt.Orientation.Vertical, self)
        for panel in self.panels:
            split.addWidget(panel)
            panel.choice_changed.connect(self._keep_choices)
            panel.export_wanted.connect(self.export_wanted)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.caption)
        column.addWidget(split, 1)
        self.set_theme(LIGHT)

    def charts(self) -> list[Chart]:
        """Charts on show."""
        return [panel.chart for panel in self.panels if panel.chart is not None]

    def show_results(self, candidate: Analysis, baseline: Analysis | None, names: tuple[str, str]) -> None:
        """Sweep these cars on the surface and in the load case of their analyses."""
        self._results = candidate, baseline, names
        self._stale = True
        if self.isVisible():
            self._sweep()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.caption.setStyleSheet(f"color: {theme.faint}")
        for panel in self.panels:
            panel.set_theme(theme)

    def set_units(self, units: UnitChoice) -> None:
        """Show in these units."""
        for panel in self.panels:
            panel.set_units(units)

    def show_figure(self, key: str) -> None:
        """Show a figure, in the panel that has it already or else in the upper one."""
        panel = next((panel for panel in self.panels if panel.choice == key), self.panels[0])
        panel.choose(key)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._sweep()
        self._drive()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.runs.stop()

    def _sweep(self) -> None:
        if self._results is None or not self._stale:
            return
        self._stale = False
        candidate, baseline, _ = results = self._results
        cars = [car for car in (candidate, baseline) if car is not None]
        roads = {_road(car) for car in cars}
        if roads <= self._known:
            self._runner.cancel(_LANE)
            self._show(results, [speed_sweep(car) for car in cars])
            return

        def done(sweeps: list[Sweep]) -> None:
            self._known = roads
            self._show(results, sweeps)

        if not self._figures:
            self.caption.setText("Computing the figures over the speeds…")
        self._runner.start(
            _LANE,
            "Computing the speeds",
            lambda _job: [speed_sweep(car) for car in cars],
            done,
            lambda error: self.failed.emit(f"The speeds could not be computed. {error}"),
        )

    def _show(self, results: tuple[Analysis, Analysis | None, tuple[str, str]], sweeps: list[Sweep]) -> None:
        candidate, baseline, names = results
        # A car without roll has fewer figures, and a road without shocks has more.
        if sweeps[0].values.keys() != self._figures.keys() or candidate.run.event.kind != self._event:
            self._event = candidate.run.event.kind
            of_runs = {figure.key: figure for figure in event_figures(candidate)}
            known = {figure.key: figure for figure in key_figures(candidate)}
            # In the order in which the figures are read elsewhere.
            self._figures = {key: figure for key, figure in known.items() if key in sweeps[0].values}
            for panel in self.panels:
                panel.set_figures(self._figures, of_runs)
        other = sweeps[1] if baseline is not None else None
        swept = Swept(sweeps[0], other, names, candidate.run.speed)
        surface = candidate.run.surface
        self.caption.setText(f"{_NOTE} Class {road_class(surface.roughness)} surface, {candidate.load.name}.")
        for panel in self.panels:
            panel.show_sweeps(swept)
        self._drive()
        self.shown.emit()

    def _drive(self) -> None:
        """Have the time runs made that a panel shows figures of."""
        if self._results is None or not self._figures or not self.isVisible():
            return
        if not any(panel.wants_runs for panel in self.panels):
            self.runs.stop()
            return
        candidate, baseline, _ = self._results
        self.runs.want((candidate,) if baseline is None else (candidate, baseline))
        self._show_runs()

    def _show_runs(self) -> None:
        assert self._results is not None
        candidate, baseline, names = self._results
        if self.runs.cars != ((candidate,) if baseline is None else (candidate, baseline)):
            return  # of cars that are about to be exchanged
        done, of = self.runs.progress
        swept = None
        if done >= _LEAST_RUNS:
            own, *others = self.runs.sweeps()
            swept = Swept(own, others[0] if others else None, names, candidate.run.speed)
        note = runs_words(candidate, done, of)
        for panel in self.panels:
            panel.show_runs(swept, note)
        if done == of:
            self.runs_shown.emit()

    def _keep_choices(self, _choice: str) -> None:
        self._drive()
        self._settings.keep_choices("speed figures", [panel.choice for panel in self.panels])


def _road(car: Analysis) -> _Road:
    """All that the road over frequency depends on."""
    return car.run.surface, car.model.wheelbase, sum(car.model.track) / 2
