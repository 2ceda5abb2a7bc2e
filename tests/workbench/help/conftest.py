"""The built handbook, once for all tests that read it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.workbench.help.pages import Pages


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder of the built pages."""
    folder = tmp_path_factory.mktemp("handbook") / "site"
    # In a process of its own, as a user builds it: what Sphinx warns its extensions of is no matter here.
    built = subprocess.run(
        [sys.executable, "-m", "workbench.help.build", "--without-checks", str(folder)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert built.returncode == 0, built.stderr  # 1 with any warning, such as a link that leads nowhere
    return folder


@pytest.fixture(scope="session")
def pages(site: Path) -> Pages:
    """Anchors, links and loads of all built pages."""
    return Pages(site)
