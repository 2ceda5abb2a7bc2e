"""How far a long command is, on one line of a terminal; into a file or a pipe it writes nothing."""

from __future__ import annotations

import sys
from typing import Self

__all__ = ["ProgressLine"]

_WIDTH = 78


class ProgressLine:
    """One line of the standard error that is written over and over, and cleared at the end of the block."""

    def __init__(self) -> None:
        """Nothing is written yet."""
        self.shown = sys.stderr is not None and sys.stderr.isatty()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_error: object) -> None:
        self._write(f"\r{'':{_WIDTH}}\r")

    def tell(self, text: str) -> None:
        """Write over what stands there."""
        self._write(f"\r{text[:_WIDTH]:{_WIDTH}}")

    def _write(self, text: str) -> None:
        if self.shown:
            print(text, end="", file=sys.stderr, flush=True)
