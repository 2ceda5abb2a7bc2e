"""What tests of several pages need."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from workbench.runner import Runner


@pytest.fixture
def runner(qtbot: QtBot) -> Iterator[Runner]:
    runner = Runner()
    yield runner
    runner.stop()
