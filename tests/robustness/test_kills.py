"""Kill -9 in the middle of saving: the old file or the new one is there, whole, and so are the copies."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from models.project import new_project, save
from models.project.safe_write import TEMPORARY
from tests.robustness.apart import output_of

KILLS = int(os.environ.get("CORDUROY_KILLS", "200"))


def after_killing(folder: Path, *how: str) -> dict[str, int]:
    """What was found after the kills, counted."""
    found: dict[str, int] = json.loads(output_of("kill_savers.py", how[0], str(folder), *how[1:]))
    return found


@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
def test_kills_at_random_moments_lose_nothing(tmp_path: Path) -> None:
    found = after_killing(tmp_path, "random", str(KILLS))
    assert found["kills"] == KILLS
    # They did come in the middle: the old file was there at times and the new one at others.
    assert min(found["save 0"], found["save 1"], found["copy"]) > KILLS / 20
    litter = list(tmp_path.glob(TEMPORARY))
    assert len(litter) > KILLS / 20
    # It goes with a save of a later day.
    for file in litter[1:]:
        os.utime(file, times=(1e9, 1e9))
    save(new_project(), tmp_path / "car.corduroy")
    assert list(tmp_path.glob(TEMPORARY)) == litter[:1]


@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
def test_a_kill_at_any_line_of_the_saving_loses_nothing(tmp_path: Path) -> None:
    found = after_killing(tmp_path, "each")
    assert found["kills"] > 40
    assert found["copy"] == found["kills"] + 2
    assert found["save 0"] > 20
    assert found["save 1"] > 2
