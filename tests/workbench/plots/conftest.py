"""Simple charts to draw."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from models.charts import Axis, Chart, Curve
from models.charts.chart import Place, Role

ChartMaker = Callable[..., Chart]


@pytest.fixture
def pitch_chart() -> ChartMaker:
    """Pitch over 4 s of one or two variants; ``amplitude`` in rad."""

    def make(
        amplitude: float = 0.02,
        points: int = 201,
        roles: tuple[Role, ...] = ("baseline", "candidate"),
        places: tuple[Place, ...] = ("body",),
        duration: float = 4.0,
    ) -> Chart:
        t = np.linspace(0.0, duration, points)
        curves = [
            Curve(
                role.title(),
                "" if place == "body" else place,
                t,
                amplitude * (1 + 0.5 * number) * np.sin(2 * np.pi * t / 4),
                role,
                place,
            )
            for role in roles
            for number, place in enumerate(places)
        ]
        axis = Axis("Pitch angle", "angle", sign="nose down +")
        return Chart("time-pitch", "Pitch angle · time", Axis("Time", "time"), axis, tuple(curves))

    return make


@pytest.fixture
def spectrum() -> Chart:
    """A smooth resonance on two log axes."""
    frequency = np.geomspace(0.1, 50.0, 400)
    curve = Curve("Candidate", "", frequency, 1.0 / (0.1 + (frequency - 1.2) ** 2))
    y = Axis("Heave acceleration PSD", "acceleration", form="psd", log=True)
    return Chart("psd", "Spectrum", Axis("Frequency", "frequency", log=True), y, (curve,))
