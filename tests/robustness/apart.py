"""Programs of their own, for what a process of tests should not do: fork, or watch itself for good."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

__all__ = ["ROOT", "output_of"]

ROOT = Path(__file__).parents[2]


def output_of(program: str, *arguments: str) -> str:
    """Last line that a program of this folder prints; it has to end in order."""
    ended = subprocess.run(
        [sys.executable, str(Path(__file__).with_name(program)), *arguments],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=600,
        check=False,
    )
    assert ended.returncode == 0, ended.stderr
    return ended.stdout.splitlines()[-1]
