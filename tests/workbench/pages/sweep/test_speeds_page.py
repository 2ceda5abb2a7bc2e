"""The page of the speeds: live curves, choice of the figure, words; the road off the GUI thread."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.judge import Figure, key_figures
from models.judge.event_sweep import event_speeds, event_values, run_at
from models.judge.speed_sweep import SPEEDS, Sweep, speed_sweep
from models.roads import RandomRoad
from models.run import Run
from models.units import INCH_POUND, METRIC
from models.vehicle import Side, TorsionCoupling, Vehicle
from workbench.pages.sweep import SpeedsPage
from workbench.pages.sweep.event_runs import refining
from workbench.pages.sweep.panel import SweepPanel
from workbench.pages.sweep.words import Swept, better_spans, sweep_words
from workbench.runner import Runner
from workbench.settings import Settings
from workbench.theme import DARK

JOINED = Vehicle(left=Side(coupling=TorsionCoupling(bar_rate=1200.0)))


def analysis(vehicle: Vehicle, run: Run | None = None) -> Analysis:
    return analyse(vehicle, run or Run(duration=0.5), compiled=False)


class Bench:
    def __init__(self, qtbot: QtBot, settings: Settings) -> None:
        self.qtbot = qtbot
        self.runner = Runner()
        self.page = SpeedsPage(self.runner, settings)
        qtbot.addWidget(self.page)
        self.page.resize(1100, 650)

    def first(self) -> None:
        with self.qtbot.waitSignal(self.page.shown):
            self.page.show()
            self.page.show_results(analysis(JOINED), analysis(Vehicle()), ("Joined", "Plain"))


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(str(tmp_path / "settings.ini"))


@pytest.fixture
def bench(qtbot: QtBot, settings: Settings) -> Iterator[Bench]:
    made = Bench(qtbot, settings)
    yield made
    made.runner.stop()


def choose(qtbot: QtBot, panel: SweepPanel, label: str) -> None:
    """By keyboard: the combo box takes the letters of its entries."""
    place = panel.combo.findText(label)
    panel.combo.setFocus()
    while panel.combo.currentIndex() != place:
        before = panel.combo.currentIndex()
        qtbot.keyClick(panel.combo, Qt.Key.Key_Down if before < place else Qt.Key.Key_Up)
        assert panel.combo.currentIndex() != before


def test_curves_of_both_variants_with_the_speed_of_the_run_marked(bench: Bench) -> None:
    bench.first()
    chart = bench.page.panels[0].chart
    assert chart is not None
    assert [(curve.variant, curve.role) for curve in chart.curves] == [
        ("Plain", "baseline"),
        ("Joined", "candidate"),
    ]
    np.testing.assert_array_equal(chart.curves[1].x, SPEEDS)
    expected = speed_sweep(analysis(JOINED)).values["pitch_share"]
    np.testing.assert_array_equal(chart.curves[1].y, expected)
    assert [mark.x for mark in chart.marks] == [Run().speed]
    words = bench.page.panels[0].words.text()
    assert words.startswith("At 80.0 km/h ")
    assert "The candidate is better at" in words


def test_the_page_says_that_it_computes_while_there_is_nothing_to_see(bench: Bench) -> None:
    bench.page.show()
    with bench.qtbot.waitSignal(bench.page.shown):
        bench.page.show_results(analysis(JOINED), None, ("Joined", "Joined"))
        assert bench.page.caption.text().startswith("Computing")
    assert "Class C surface" in bench.page.caption.text()


def test_an_edit_shows_at_once_when_the_road_is_known(bench: Bench) -> None:
    bench.first()
    softer = replaced(JOINED, ("front", "spring", "rate"), 9e3)
    with bench.qtbot.waitSignal(bench.page.shown, timeout=0):
        bench.page.show_results(analysis(softer), analysis(Vehicle()), ("Joined", "Plain"))
    chart = bench.page.panels[0].chart
    assert chart is not None
    np.testing.assert_array_equal(chart.curves[1].y, speed_sweep(analysis(softer)).values["pitch_share"])


def test_a_new_wheelbase_is_computed_in_the_worker_and_a_stale_one_dropped(bench: Bench) -> None:
    bench.first()
    shown: list[float] = []
    bench.page.shown.connect(lambda: shown.append(bench.page.panels[0].chart.curves[-1].y[0]))
    cars = [analysis(replaced(JOINED, ("wheelbase",), length)) for length in (3.0, 3.1)]
    for car in cars:
        bench.page.show_results(car, None, ("Joined", "Plain"))
    assert not shown
    bench.qtbot.waitUntil(lambda: bool(shown))
    assert shown == [speed_sweep(cars[1]).values["pitch_share"][0]]


def test_the_figure_is_chosen_and_remembered(bench: Bench, settings: Settings) -> None:
    bench.first()
    choose(bench.qtbot, bench.page.panels[1], "RMS travel rear")
    bench.page.panels[1].combo.activated.emit(bench.page.panels[1].combo.currentIndex())
    chart = bench.page.panels[1].chart
    assert chart is not None
    assert chart.title == "RMS travel rear · speed"
    assert settings.choices("speed figures", []) == ["pitch_share", "rms_travel_rear"]
    again = SpeedsPage(bench.runner, settings)
    bench.qtbot.addWidget(again)
    assert again.panels[1].choice == "rms_travel_rear"


def test_hidden_page_computes_nothing_until_it_is_shown(bench: Bench) -> None:
    bench.page.show_results(analysis(JOINED), None, ("Joined", ""))
    assert bench.page.panels[0].chart is None
    with bench.qtbot.waitSignal(bench.page.shown):
        bench.page.show()
    assert bench.page.panels[0].chart is not None


def test_a_half_car_offers_no_roll(bench: Bench) -> None:
    bench.first()
    combo = bench.page.panels[0].combo
    assert combo.findText("RMS roll angle") >= 0
    half = analysis(JOINED, Run(duration=0.5, model="half car"))
    bench.page.show_results(half, None, ("Joined", ""))
    assert combo.findText("RMS roll angle") < 0
    assert combo.currentText() == "Pitch share"


def test_units_and_theme(bench: Bench) -> None:
    bench.first()
    bench.page.set_units(INCH_POUND)
    bench.page.set_theme(DARK)
    assert "mph" in bench.page.panels[0].words.text()
    assert bench.page.panels[0].view.units["speed"] == "mph"


@pytest.mark.parametrize(
    ("gain", "spans"),
    [
        ([1, 1, 1, 1], [(10, 40)]),
        ([-1, -1, 0, -1], []),
        ([1, 1, -1, -1], [(10, 25)]),
        ([-1, 3, 3, -1], [(12.5, 37.5)]),
        ([1, -1, -1, 1], [(10, 15), (35, 40)]),
    ],
)
def test_speeds_at_which_the_candidate_is_better(gain: list[float], spans: list[tuple[float, float]]) -> None:
    assert better_spans(np.array([10.0, 20.0, 30.0, 40.0]), np.array(gain, dtype=float)) == spans


def test_words_say_by_how_much_and_at_which_speeds() -> None:
    """Figures by hand: the candidate crosses the baseline half way between 20 and 30 m/s, at 90 km/h."""
    speeds = np.array([10.0, 20.0, 30.0])
    candidate, baseline = (
        Sweep(speeds, {"pitch_share": np.array(v)}) for v in ([0.8, 0.9, 1.2], [1.0, 1.0, 1.1])
    )
    figure = Figure("pitch_share", "Pitch share", 0.9, "ratio", "", "lower")
    swept = Swept(candidate, baseline, ("soft", "hard"), 20.0)
    assert sweep_words(figure, swept, METRIC) == (
        "At 72.0 km/h 0.900 against 1.00 (−10 %); most 1.20 at 108 km/h. "
        "The candidate is better at 36.0 – 90.0 km/h."
    )
    alone = Swept(candidate, None, ("soft", "soft"), 20.0)
    assert sweep_words(figure, alone, METRIC) == "At 72.0 km/h 0.900; most 1.20 at 108 km/h."


# -- figures of the time run ---------------------------------------------------------------------------


def driven(bench: Bench, *keys: str) -> None:
    with bench.qtbot.waitSignal(bench.page.runs_shown, timeout=20000):
        for panel, key in zip(bench.page.panels, keys, strict=False):
            panel.combo.setCurrentIndex(panel.combo.findData(key))
            panel.combo.activated.emit(panel.combo.currentIndex())


def values(panel: SweepPanel, variant: str) -> tuple[list[float], list[float]]:
    assert panel.chart is not None
    curve = next(curve for curve in panel.chart.curves if curve.variant == variant)
    return curve.x.tolist(), curve.y.tolist()


def test_figures_of_the_event_come_from_a_run_per_speed(bench: Bench) -> None:
    bench.first()
    driven(bench, "peak_pitch", "event_vibration_dose")
    for panel, key in zip(bench.page.panels, ("peak_pitch", "event_vibration_dose"), strict=True):
        for name, vehicle in (("Joined", JOINED), ("Plain", Vehicle())):
            speeds, found = values(panel, name)
            assert speeds == event_speeds(Run().speed).tolist()
            own = {figure.key: figure.value for figure in key_figures(analysis(vehicle))}
            assert found[speeds.index(Run().speed)] == own[key]
            assert found[4] == event_values(analysis(vehicle), speeds[4])[key]
        words = panel.words.text()
        assert words.startswith("At 80.0 km/h ")
        assert words.endswith("the 1-cos bump, linear: the same road, and behind it as long as in the run.")


def test_a_nonlinear_run_is_nonlinear_at_every_speed(bench: Bench) -> None:
    car = analyse(JOINED, Run(duration=0.5))
    with bench.qtbot.waitSignal(bench.page.shown):
        bench.page.show()
        bench.page.show_results(car, None, ("Joined", ""))
    driven(bench, "minimum_tyre_load")
    speeds, found = values(bench.page.panels[0], "Joined")
    there = analyse(JOINED, run_at(car.run, speeds[-1], car.model.wheelbase))
    assert there.nonlinear is not None
    assert found[-1] == there.tyre_load.min()
    assert "1-cos bump, nonlinear:" in bench.page.panels[0].words.text()


def test_runs_are_drawn_as_they_come_and_can_be_cancelled(bench: Bench) -> None:
    bench.first()
    counts: list[int] = []

    def look() -> None:
        counts.append(len(values(bench.page.panels[0], "Joined")[0]))
        if len(counts) == 3:
            bench.runner.cancel()

    bench.page.panels[0].choose("peak_pitch")
    assert bench.page.panels[0].chart.curves == ()
    bench.page.panels[0].choose("pitch_share")
    bench.page.panels[0].choose("peak_pitch")
    assert bench.page.panels[0].words.text().endswith("So far 0 of 31 speeds.")
    bench.page.runs.came.connect(lambda: bench.page.runs.progress[0] >= 3 and look())
    bench.qtbot.waitUntil(lambda: len(counts) == 3 and not bench.page.runs.running)
    assert counts == [3, 4, 5]
    assert bench.runner.idle
    assert bench.page.panels[0].words.text().endswith("So far 5 of 31 speeds.")
    # Looking again goes on where it stopped.
    bench.page.hide()
    with bench.qtbot.waitSignal(bench.page.runs_shown, timeout=20000):
        bench.page.show()
    assert counts[3] == 6
    assert len(values(bench.page.panels[0], "Joined")[0]) == 31


def test_newer_cars_make_runs_stale_and_what_was_driven_is_kept(bench: Bench) -> None:
    bench.first()
    bench.page.panels[0].choose("peak_pitch")
    softer = analysis(replaced(JOINED, ("front", "spring", "rate"), 9e3))
    plain = analysis(Vehicle())
    with bench.qtbot.waitSignal(bench.page.runs_shown, timeout=20000):
        bench.page.show_results(softer, plain, ("Softer", "Plain"))
    speeds, found = values(bench.page.panels[0], "Softer")
    assert found[7] == event_values(softer, speeds[7])["peak_pitch"]
    with bench.qtbot.waitSignal(bench.page.runs_shown, timeout=20000):
        bench.page.show_results(analysis(JOINED), plain, ("Joined", "Plain"))
    with bench.qtbot.waitSignal(bench.page.runs_shown, timeout=0):  # known
        bench.page.show_results(softer, plain, ("Softer", "Plain"))
    assert values(bench.page.panels[0], "Softer") == (speeds, found)


def test_no_time_run_is_made_for_figures_of_the_random_road(bench: Bench) -> None:
    bench.first()
    assert not bench.page.runs.running
    bench.page.panels[0].choose("peak_pitch")
    assert bench.page.runs.running
    bench.page.panels[0].choose("rms_pitch")
    assert not bench.page.runs.running


def test_a_measured_or_random_road_offers_rms_values_of_the_run(bench: Bench) -> None:
    bench.first()
    combo = bench.page.panels[0].combo
    assert combo.findData("run_rms_pitch") < 0
    car = analysis(JOINED, Run(duration=0.5, event=RandomRoad()))
    bench.page.show_results(car, None, ("Joined", ""))
    driven(bench, "run_rms_pitch")
    speeds, found = values(bench.page.panels[0], "Joined")
    assert found[0] == event_values(car, speeds[0])["run_rms_pitch"]
    assert bench.page.panels[0].words.text().endswith("the random road, linear, the same stretch at each.")


def test_a_figure_that_a_car_has_not_says_so(bench: Bench) -> None:
    bench.first()
    driven(bench, "jounce_margin_front")
    assert bench.page.panels[0].words.text().startswith("No value at any speed.")


def test_a_figure_is_shown_on_request_before_the_page_was_ever_seen(bench: Bench) -> None:
    bench.page.show_figure("peak_pitch")
    bench.first()
    assert bench.page.panels[0].combo.currentText() == "Peak pitch angle"
    bench.page.show_figure("rms_weighted_seat_acceleration")  # the lower one has it
    assert [panel.choice for panel in bench.page.panels] == ["peak_pitch", "rms_weighted_seat_acceleration"]


def test_any_first_part_of_the_speeds_shows_all_of_the_curve() -> None:
    assert refining([1.0, 2.0, 3.0, 4.0, 5.0, 6.0], 2.0) == (2.0, 1.0, 6.0, 4.0, 3.0, 5.0)
    assert refining([3.0], 3.0) == (3.0,)
