"""The same work without a screen: ``corduroy COMMAND``; the commands stand in ``workbench.commands``."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable, Mapping, Sequence
from importlib import import_module
from shutil import get_terminal_size
from textwrap import fill

from models.errors import InputError
from workbench import desktop
from workbench.commands.command import REFUSED, Answer, Command, as_json

__all__ = ["COMMANDS", "main", "overview"]

#: First words of a command line that need no window.  A new command is a module of that name in
#: ``workbench.commands`` with its ``COMMAND``, and its name here, in the order of the list in the help.
COMMANDS = (
    "new",
    "check",
    "figures",
    "compare",
    "time",
    "spectrum",
    "parts",
    "life",
    "packaging",
    "study",
    "export",
    "review",
    "verify",
    "schema",
)

_EXIT_CODES = {
    "0": "all is well",
    "1": "something was found: faults by check, a target that is missed by compare --judge, a failure by "
    "verify",
    "2": "the file, the arguments or a value are refused; standard error says why",
}
# Text is not set wider than this however wide the terminal is.
_WIDEST = 100


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
    return _run(options.asked, options.command, options)


def _run(name: str, command: Command, options: argparse.Namespace) -> int:
    try:
        answer = command.run(options)
    except InputError as error:
        print(f"corduroy: {error}", file=sys.stderr)
        return REFUSED
    try:
        print(_printed(name, command, options, answer), flush=True)
    except BrokenPipeError:  # the reader has seen enough; a second flush at exit must not fail either
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return answer.code


def _printed(name: str, command: Command, options: argparse.Namespace, answer: Answer) -> str:
    if isinstance(answer.content, str):
        return answer.content
    by_hand = {"settings": options.set or []} if "set" in options else {}
    return as_json(name, command.version, by_hand | dict(answer.content))


def _parser(names: Iterable[str]) -> argparse.ArgumentParser:
    """Parser of these commands; those that are not asked for are not even loaded."""
    parser = argparse.ArgumentParser(prog="corduroy", allow_abbrev=False)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for name in names:
        command = _command(name)
        own = commands.add_parser(
            name,
            help=command.help,
            description=_filled(command.description),
            epilog="\n".join(_ending(name, command)),
            formatter_class=argparse.RawDescriptionHelpFormatter,
            allow_abbrev=False,
        )
        own.set_defaults(asked=name, command=command)
        command.add_options(own)
    return parser


def overview() -> str:
    """The commands and the exit codes, for the help of the program."""
    told = {name: _command(name).help for name in COMMANDS} | {desktop.COMMAND: desktop.HELP}
    head = "commands, which need no window (corduroy COMMAND --help says more):"
    return "\n".join([head, *_listed(told), "", *_exit_codes()])


def _exit_codes() -> Iterable[str]:
    return ("exit codes:", *_listed(_EXIT_CODES), "")


def _listed(told: Mapping[str, str]) -> Iterable[str]:
    """Names with what is told of them, lines of the terminal's width."""
    width = max(map(len, told))
    return [_filled(words, f"  {name:{width}}  ", " " * (width + 4)) for name, words in told.items()]


def _filled(text: str, first: str = "", others: str = "") -> str:
    width = min(_WIDEST, get_terminal_size().columns)
    return fill(text, width, initial_indent=first, subsequent_indent=others)


def _command(name: str) -> Command:
    command: Command = import_module(f"workbench.commands.{name}").COMMAND
    return command


def _ending(name: str, command: Command) -> Iterable[str]:
    yield f"example:\n  corduroy {name} {command.example}\n"
    yield from _exit_codes()
    if command.cautions:
        yield "cautions:"
        yield _filled(" ".join(command.cautions), "  ", "  ")
