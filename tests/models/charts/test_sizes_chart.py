"""Chart of the sizes that fit."""

from __future__ import annotations

from dataclasses import replace
from math import inf, radians

import numpy as np

from models.charts.figure import figure_bytes
from models.charts.sizes import sizes_chart
from models.hardware import BarWish, CoilSpring, CoilWish, TorsionBar, bar_sizes, coil_sizes
from models.units import METRIC

BARS = bar_sizes(TorsionBar(), BarWish(1000.0, 900.0, 2.0, radians(90))).found


def test_a_curve_for_each_bore_from_light_to_heavy() -> None:
    chart = sizes_chart(BARS)
    assert chart is not None
    names = {curve.variant for curve in chart.curves}
    assert names <= {"solid", "40 %", "50 %", "60 %", "70 %"}
    for curve in chart.curves:
        share = 0.0 if curve.variant == "solid" else float(curve.variant.split()[0]) / 100
        own = [size for size in BARS if abs(size.part.bore / size.part.diameter - share) < 0.004]
        assert list(curve.x) == [size.mass for size in own]
        assert list(curve.y) == [size.stress for size in own]
        assert np.all(np.diff(curve.x) > 0)
    assert figure_bytes(chart, "svg", METRIC).startswith(b"<?xml")


def test_lives_take_the_place_of_stress_where_they_are_known() -> None:
    known = tuple(replace(size, life=1e9 * size.mass) for size in BARS)
    chart = sizes_chart(known)
    assert chart is not None
    assert chart.key == "steel-size-life"
    assert chart.y.log
    endless = sizes_chart(tuple(replace(size, life=inf) for size in BARS))
    assert endless is not None
    assert endless.key == "steel-size-stress"


def test_coils_by_their_mean_diameter_and_nothing_for_a_few() -> None:
    found = coil_sizes(CoilSpring(), CoilWish(26e3, 4000.0, 6000.0, 0.25, 0.16)).found
    chart = sizes_chart(found)
    assert chart is not None
    assert all(curve.variant.endswith(" mm") for curve in chart.curves)
    assert sizes_chart(found[:1]) is None
    assert sizes_chart(()) is None
