"""Words and numbers of the stage."""

from __future__ import annotations

import math

from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter
from pytestqt.qtbot import QtBot

from models.analysis import Analysis
from models.units import INCH_POUND, METRIC
from workbench.stage.pens import Pens
from workbench.stage.readout import attitude_text, draw_heading, heave_text, rest_text, running
from workbench.stage.scene import stage_frame
from workbench.theme import LIGHT


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


def test_heading_of_a_tall_car_stays_in_the_picture(qtbot: QtBot, separate: Analysis) -> None:
    frame = stage_frame(separate, 0.0)

    def ink(foot: float) -> int:
        picture = QImage(300, 80, QImage.Format.Format_Grayscale8)
        picture.fill(255)
        painter = QPainter(picture)
        pens = Pens(LIGHT, 100.0, 1.0, LIGHT.candidate)
        draw_heading(painter, "baseline", frame, QRectF(4.0, 0.0, 290.0, foot), pens, METRIC)
        painter.end()
        return sum(1 for byte in bytes(picture.constBits()) if byte < 200)

    assert ink(8.0) == ink(60.0) > 0
