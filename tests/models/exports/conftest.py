"""One run, shared: nothing here changes it."""

from __future__ import annotations

import pytest

from models.analysis import Analysis, analyse
from models.exports import About, about_of
from models.roads import OneMinusCosine
from models.run import Run
from models.vehicle import Vehicle


@pytest.fixture(scope="session")
def analysis() -> Analysis:
    return analyse(Vehicle(), Run(duration=0.6, event=OneMinusCosine(side="left")))


@pytest.fixture(scope="session")
def about(analysis: Analysis) -> About:
    return about_of('A "rough" one, <&>', "=1+1, soft", analysis)
