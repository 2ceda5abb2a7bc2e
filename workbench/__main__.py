"""The command ``corduroy``: a window by default, the same work without a screen by subcommand."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from workbench import cli

__all__ = ["main"]


def main(argv: Sequence[str] | None = None) -> int:
    """Start what the arguments ask for; gives the exit code."""
    arguments = list(sys.argv[1:] if argv is None else argv)
    if arguments and arguments[0] in cli.COMMANDS:
        return cli.main(arguments)
    from workbench.app import run  # Qt is loaded only for a window

    return run(arguments)


if __name__ == "__main__":
    sys.exit(main())
