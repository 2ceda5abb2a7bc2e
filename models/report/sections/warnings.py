"""What a reader of the review has to know."""

from __future__ import annotations

from collections.abc import Iterator

from models.cautions import CAUTIONS, HARDWARE_CAUTIONS
from models.report.bench import Bench
from models.report.document import Block, Cautions

__all__ = ["warnings"]


def warnings(_bench: Bench) -> Iterator[Block]:
    """All cautions of the program."""
    yield Cautions(CAUTIONS)
    yield Cautions(HARDWARE_CAUTIONS)
