"""The command line, as it tells of itself."""

from __future__ import annotations

import contextlib
import io
import os
from collections.abc import Iterator
from unittest import mock

from workbench import cli, desktop
from workbench.__main__ import main as start
from workbench.help.reference.markdown import page, section

__all__ = ["commands_page"]

_LEAD = """The command `corduroy` opens the window; with a project file behind it, that project. With one of
the words below as its first it does the same work without a screen and prints to the terminal. The examples
work as they stand, in this order and in one folder."""


def commands_page() -> str:
    """One section per command."""
    overview = f"```text\n{cli.overview()}\n```"
    sections = [
        section(f"command-{name}", f"corduroy {name}", f"```text\n{_help_of(name)}\n```")
        for name in (*cli.COMMANDS, desktop.COMMAND)
    ]
    return page("Command line", _LEAD, overview, *sections)


def _help_of(command: str) -> str:
    told = io.StringIO()
    stopped = contextlib.suppress(SystemExit)  # as argparse ends
    with _of_width("80"), contextlib.redirect_stdout(told), stopped:
        start([command, "--help"])
    return told.getvalue().strip()


@contextlib.contextmanager
def _of_width(columns: str) -> Iterator[None]:
    """The help is as wide as the terminal says that it is."""
    with mock.patch.dict(os.environ, {"COLUMNS": columns, "NO_COLOR": "1"}):
        yield
