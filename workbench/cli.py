"""The same work without a screen: ``corduroy COMMAND``; the commands stand in ``workbench.commands``."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable, Sequence
from importlib import import_module

from models.errors import InputError
from workbench.commands.command import REFUSED, Command, as_json

__all__ = ["COMMANDS", "main"]

#: First words of a command line that need no window.  A new command is a module of that name in
#: ``workbench.commands`` with its ``COMMAND``, and its name here, in the order of the list in the help.
COMMANDS = (
    "figures",
    "parts",
    "life",
    "packaging",
    "study",
)

_EXIT_CODES = "Exit codes: 0 all is well; 1 something was found; 2 file, arguments or values are refused."


def main(argv: Sequence[str]) -> int:
    """Run one command; results go to stdout, errors to stderr.

    Returns:
        exit code: 0; 1 where a command that checks has found something; 2 where the arguments, the file or a
        value are refused.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # a console of few letters must not stop a table
            stream.reconfigure(errors="replace")
    asked = [name for name in COMMANDS if [name] == list(argv[:1])]
    try:
        options = _parser(asked or COMMANDS).parse_args(argv)
    except SystemExit as stop:  # argparse has said why
        return int(stop.code or 0)
    return _run(options.name, options.command, options)


def _run(name: str, command: Command, options: argparse.Namespace) -> int:
    try:
        answer = command.run(options)
    except InputError as error:
        print(f"corduroy: {error}", file=sys.stderr)
        return REFUSED
    content = answer.content
    try:
        print(content if isinstance(content, str) else as_json(name, command.version, content), flush=True)
    except BrokenPipeError:  # the reader has seen enough; a second flush at exit must not fail either
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return answer.code


def _parser(names: Iterable[str]) -> argparse.ArgumentParser:
    """Parser of these commands; those that are not asked for are not even loaded."""
    parser = argparse.ArgumentParser(prog="corduroy", epilog=_EXIT_CODES, allow_abbrev=False)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for name in names:
        command: Command = import_module(f"workbench.commands.{name}").COMMAND
        own = commands.add_parser(
            name,
            help=command.help,
            description=command.description,
            epilog=f"Example: corduroy {name} {command.example} — {_EXIT_CODES} {' '.join(command.cautions)}",
            allow_abbrev=False,
        )
        own.set_defaults(name=name, command=command)
        command.add_options(own)
    return parser
