"""Two analyses to draw."""

from __future__ import annotations

import pytest

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.run import Run
from models.vehicle import Vehicle


@pytest.fixture(scope="session")
def candidate() -> Analysis:
    return analyse(Vehicle(), Run())


@pytest.fixture(scope="session")
def baseline() -> Analysis:
    return analyse(replaced(Vehicle(), ("front", "spring", "rate"), 45e3), Run())


@pytest.fixture(scope="session")
def one_sided() -> Analysis:
    return analyse(Vehicle(), replaced(Run(), ("event", "side"), "left"))
