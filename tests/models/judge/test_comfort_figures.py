from __future__ import annotations

import pytest

from models.analysis import analyse
from models.comfort.assessment import comfort
from models.judge import key_figures
from models.run import Run
from tests.cars import EVERYTHING


def test_figures_are_those_of_the_assessment() -> None:
    analysis = analyse(EVERYTHING, Run(laws="linear"))
    found, felt = {figure.key: figure for figure in key_figures(analysis)}, comfort(analysis)
    for key, expected in {
        "rms_weighted_seat_acceleration": felt.rms["seat z"],
        "rms_weighted_head_acceleration": felt.rms["head x"],
        "rms_seat_vibration_total": felt.seat_total,
        "rms_vibration_total": felt.overall_total,
        "motion_sickness_dose": felt.sickness_dose,
        "event_vibration_dose": felt.event.dose,
        "event_crest_factor": felt.event.crest_factor,
        "event_transient_value": felt.event.mtvv,
    }.items():
        assert found[key].value == pytest.approx(expected), key
    assert felt.seat_total >= felt.rms["seat z"]


def test_comfort_follows_the_plain_accelerations_and_words_say_what_the_total_means() -> None:
    figures = key_figures(analyse(EVERYTHING, Run(laws="linear")))
    keys = [figure.key for figure in figures]
    assert keys.index("rms_weighted_seat_acceleration") == keys.index("rms_seat_acceleration") + 1
    meaning = figures[keys.index("rms_vibration_total")].meaning
    assert "Up to 0.315 not uncomfortable; 0.315–0.63 a little; 0.5–1 fairly" in meaning
    assert "over 2 extremely. These words are information, no limits (annex C, from memory)." in meaning
    assert "from memory" in figures[keys.index("motion_sickness_dose")].meaning
