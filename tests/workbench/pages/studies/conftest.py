"""Results of studies go into a folder of each test."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.pages.studies import study_runs as runs_module


@pytest.fixture(autouse=True)
def state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(runs_module, "state_folder", lambda: tmp_path / "state")
    return tmp_path / "state"
