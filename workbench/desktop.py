"""The program among the applications of a Linux desktop: entry, icon and type of its files.

After the specifications of freedesktop.org: desktop entries, icon theme, shared MIME-info database.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from models.project import SUFFIX
from workbench.resources import folder

__all__ = ["COMMAND", "HELP", "install", "main", "remove"]

COMMAND = "install-desktop"
HELP = "put the program among the applications of a Linux desktop"

_MIME = "application/x-corduroy-project"
_ENTRY = """[Desktop Entry]
Type=Application
Name=Corduroy
GenericName=Suspension workbench
Comment=Tune the suspension of a soft car that stays level
Exec={program} %f
Icon=corduroy
Terminal=false
Categories=Science;Engineering;
MimeType={mime};
Keywords=suspension;ride;pitch;spring;damper;
StartupWMClass=corduroy
"""
_TYPE = """<?xml version="1.0" encoding="UTF-8"?>
<mime-info xmlns="http://www.freedesktop.org/standards/shared-mime-info">
  <mime-type type="{mime}">
    <comment>Corduroy project</comment>
    <sub-class-of type="application/json"/>
    <icon name="corduroy"/>
    <glob pattern="*{suffix}"/>
  </mime-type>
</mime-info>
"""
_FILES = {
    "entry": Path("applications/corduroy.desktop"),
    "type": Path("mime/packages/corduroy.xml"),
    "icon": Path("icons/hicolor/scalable/apps/corduroy.svg"),
}


def main(argv: Sequence[str]) -> int:
    """Run the command; gives the exit code."""
    parser = argparse.ArgumentParser(
        prog=f"corduroy {COMMAND}",
        description="Put Corduroy among the applications of this user's Linux desktop, with its icon and its "
        "type of file.",
    )
    parser.add_argument("--remove", action="store_true", help="take it away again")
    options = parser.parse_args(argv)
    if not sys.platform.startswith("linux"):
        print(f"corduroy: {COMMAND} is for Linux only", file=sys.stderr)
        return 2
    home = _data_home()
    try:
        files = remove(home) if options.remove else install(home, _program())
    except OSError as error:
        print(f"corduroy: {error.filename}: {error.strerror}", file=sys.stderr)
        return 2
    for file in files:
        print(f"{'Removed' if options.remove else 'Wrote'} {file}")
    return 0


def install(home: Path, program: Path) -> list[Path]:
    """Write entry, type and icon below the data home; gives the files.

    Args:
        home: data home of the user.
        program: what the entry starts.
    """
    texts = {
        "entry": _ENTRY.format(program=_quoted(str(program)), mime=_MIME),
        "type": _TYPE.format(mime=_MIME, suffix=SUFFIX),
        "icon": (folder("icons") / "corduroy.svg").read_text(encoding="utf-8"),
    }
    files = []
    for key, place in _FILES.items():
        file = home / place
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(texts[key], encoding="utf-8")
        files.append(file)
    _tell_desktop(home)
    return files


def remove(home: Path) -> list[Path]:
    """Take away what :func:`install` wrote; gives the files that were there."""
    files = [home / place for place in _FILES.values() if (home / place).exists()]
    for file in files:
        file.unlink()
    _tell_desktop(home)
    return files


def _data_home() -> Path:
    named = os.environ.get("XDG_DATA_HOME", "")
    return Path(named) if os.path.isabs(named) else Path.home() / ".local" / "share"


def _program() -> Path:
    """What starts this program: itself where it is built, else the script beside the interpreter."""
    if getattr(sys, "frozen", False):
        return Path(sys.executable)
    beside = Path(sys.executable).with_name("corduroy")
    return beside if beside.exists() else Path(shutil.which("corduroy") or beside)


def _quoted(path: str) -> str:
    """Argument of an Exec line: quoted, and escaped once as argument and once as text of the file."""
    for sign in '\\"`$':
        path = path.replace(sign, f"\\{sign}")
    return '"' + path.replace("\\", "\\\\").replace("%", "%%") + '"'


def _tell_desktop(home: Path) -> None:
    """Renew the caches; a desktop without these tools reads the files themselves."""
    for tool, place in (("update-mime-database", "mime"), ("update-desktop-database", "applications")):
        command = shutil.which(tool)
        if command and (home / place).is_dir():
            subprocess.run([command, str(home / place)], capture_output=True, timeout=60, check=False)
