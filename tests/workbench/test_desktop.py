"""The program as an application of a Linux desktop."""

from __future__ import annotations

import shutil
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

from workbench.__main__ import main
from workbench.desktop import install, remove

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="a desktop of freedesktop.org")


@linux
def test_the_command_installs_and_removes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert main(["install-desktop"]) == 0
    entry = tmp_path / "applications" / "corduroy.desktop"
    lines = dict(line.split("=", 1) for line in entry.read_text().splitlines() if "=" in line)
    program = lines["Exec"].removesuffix(" %f").strip('"')
    assert Path(program).is_file()
    assert lines["MimeType"] == "application/x-corduroy-project;"
    icon = tmp_path / "icons" / "hicolor" / "scalable" / "apps" / f"{lines['Icon']}.svg"
    assert ElementTree.parse(icon).getroot().tag.endswith("svg")
    assert main(["install-desktop", "--remove"]) == 0
    assert not entry.exists()
    assert not icon.exists()
    assert list((tmp_path / "mime" / "packages").iterdir()) == []


def test_the_type_is_that_of_project_files(tmp_path: Path) -> None:
    install(tmp_path, Path("/opt/corduroy"))
    root = ElementTree.parse(tmp_path / "mime" / "packages" / "corduroy.xml").getroot()
    space = {"": "http://www.freedesktop.org/standards/shared-mime-info"}
    assert root.find("mime-type", space).get("type") == "application/x-corduroy-project"
    assert root.find("mime-type/glob", space).get("pattern") == "*.corduroy"
    if shutil.which("update-mime-database"):
        globs = (tmp_path / "mime" / "globs2").read_text()
        assert "application/x-corduroy-project:*.corduroy" in globs


def test_a_path_with_signs_of_the_shell_is_quoted(tmp_path: Path) -> None:
    """Desktop Entry Specification, Exec key: escaped as a quoted argument, and the escapes as text again."""
    install(tmp_path, Path('/opt/a "b" $c 100%/corduroy'))
    entry = (tmp_path / "applications" / "corduroy.desktop").read_text()
    assert r'Exec="/opt/a \\"b\\" \\$c 100%%/corduroy" %f' in entry


@pytest.mark.skipif(shutil.which("desktop-file-validate") is None, reason="needs desktop-file-utils")
def test_the_entry_is_valid(tmp_path: Path) -> None:
    install(tmp_path, Path("/opt/my programs/corduroy"))
    command = ["desktop-file-validate", str(tmp_path / "applications" / "corduroy.desktop")]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (0, "")


def test_removing_what_is_not_there_is_no_fault(tmp_path: Path) -> None:
    assert remove(tmp_path) == []
