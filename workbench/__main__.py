"""The command ``corduroy``: a window by default, the same work without a screen by subcommand."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from multiprocessing import freeze_support

# numpy and scipy each bring a pool of BLAS threads, and for matrices as small as these the pools only wait
# for each other; it has to be said before numpy is imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from workbench import cli, desktop

__all__ = ["main"]


def main(argv: Sequence[str] | None = None) -> int:
    """Start what the arguments ask for; gives the exit code."""
    freeze_support()  # a built program is started anew for each worker of a study
    arguments = list(sys.argv[1:] if argv is None else argv)
    if arguments and arguments[0] in cli.COMMANDS:
        return cli.main(arguments)
    if arguments and arguments[0] == desktop.COMMAND:
        return desktop.main(arguments[1:])
    from workbench.app import run  # Qt is loaded only for a window

    return run(arguments)


if __name__ == "__main__":
    sys.exit(main())
