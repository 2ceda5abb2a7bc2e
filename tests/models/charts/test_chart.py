"""Axes of charts: units, signs and scales of values, spectra and gains."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from models.charts import Axis, Chart, Curve
from models.units import INCH_POUND, METRIC


def test_value_has_the_unit_of_its_kind_and_its_sign_in_words() -> None:
    axis = Axis("Pitch angle", "angle", sign="nose down +")
    assert axis.title(METRIC) == "Pitch angle (deg, nose down +)"
    assert axis.display(METRIC) == (pytest.approx(pi / 180, rel=1e-15), "deg")


def test_spectrum_has_the_squared_unit_per_hertz() -> None:
    assert Axis("", "angle", form="psd").display(METRIC) == (pytest.approx((pi / 180) ** 2), "deg²/Hz")
    assert Axis("", "acceleration", form="psd").display(METRIC) == (1.0, "(m/s²)²/Hz")
    scale, unit = Axis("", "acceleration", form="psd").display(INCH_POUND)
    assert (scale, unit) == (pytest.approx(0.3048**2, rel=1e-15), "(ft/s²)²/Hz")


def test_gain_has_the_unit_of_output_per_input() -> None:
    scale, unit = Axis("", "angle", form="gain", per="travel").display(METRIC)
    assert (scale, unit) == (pytest.approx(pi / 180 / 1e-3, rel=1e-15), "deg/mm")
    assert Axis("", "acceleration", form="gain", per="travel").display(METRIC)[1] == "(m/s²)/mm"
    scale, unit = Axis("", "travel", form="gain", per="travel").display(INCH_POUND)
    assert (scale, unit) == (1.0, "in/in")


def _chart(y: list[float], log: bool = False) -> Chart:
    curve = Curve("A", "", np.arange(1.0, len(y) + 1), np.array(y))
    return Chart("key", "Title", Axis("Time", "time"), Axis("Force", "force", log=log), (curve,))


def test_extent_leaves_out_what_cannot_be_drawn() -> None:
    assert _chart([3.0, np.nan, -2.0, np.inf]).extent("y") == (-2.0, 3.0)
    assert _chart([3.0, 0.0, -2.0, 0.5], log=True).extent("y") == (0.5, 3.0)
    assert _chart([np.nan]).extent("y") == (0.0, 0.0)
    assert _chart([0.0], log=True).extent("y") == (1.0, 1.0)


def test_same_curves_of_other_numbers_are_the_same_curve_set() -> None:
    first, second = _chart([1.0, 2.0]), _chart([5.0, 7.0, 9.0])
    assert first.curve_set == second.curve_set
    assert first.subject == second.subject
    assert first.subject != _chart([1.0], log=True).subject
