"""Words and numbers of the stage."""

from __future__ import annotations

import math

from models.units import INCH_POUND, METRIC
from workbench.stage.readout import attitude_text, heave_text, rest_text, running


def test_pitch_is_told_in_words() -> None:
    assert attitude_text(math.radians(-0.4), METRIC) == "nose up 0.40 deg"
    assert attitude_text(math.radians(0.4), METRIC) == "nose down 0.40 deg"
    assert attitude_text(1e-5, METRIC) == "level 0.00 deg"
    assert attitude_text(0.004, {**METRIC, "angle": "mrad"}) == "nose down 4.0 mrad"


def test_heave_is_told_in_words() -> None:
    assert heave_text(-0.0031, METRIC) == "body down 3.1 mm"
    assert heave_text(0.0254, INCH_POUND) == "body up 1.00 in"
    assert heave_text(0.0, METRIC) == "body 0.0 mm"


def test_running_numbers_keep_their_decimals() -> None:
    assert running(0.5, "time", METRIC) == "0.500 s"
    assert running(12.0, "length", METRIC) == "12.00 m"
    assert running(math.radians(2.3), "angle", METRIC, sign=True, resolution=1e-3) == "+2.3 deg"
    assert running(-1e-6, "travel", METRIC, sign=True) == "0.0 mm"
    assert running(-0.002, "travel", METRIC) == "−2.0 mm"


def test_how_a_car_stands_is_told_where_it_is_off_its_trim() -> None:
    assert rest_text(-0.0213, math.radians(-0.3), METRIC) == "stands nose up 0.30 deg, 21.3 mm low"
    assert rest_text(0.004, 0.0, METRIC) == "stands 4.0 mm high"
    assert rest_text(1e-6, 1e-6, METRIC) == ""
