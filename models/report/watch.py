"""How far a review has come, and whether it is still wanted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from models.judge.road_loads import Stopped

__all__ = ["Stopped", "Watch"]


def _nothing(_share: float, _words: str) -> None:
    """Tell nobody."""


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Watch:
    """Who is told, and who may stop the work.

    Attributes:
        progress: told the share that is done, 0 to 1, and what comes next.
        stopped: asked now and then; True ends the work with :class:`Stopped`.
    """

    progress: Callable[[float, str], object] = _nothing
    stopped: Callable[[], bool] = _never

    def tell(self, share: float, words: str) -> None:
        """Tell how far it is; raises :class:`Stopped` where nobody wants the rest."""
        if self.stopped():
            raise Stopped
        self.progress(share, words)

    def part(self, start: float, end: float) -> Watch:
        """Watch of a piece of the work, from ``start`` to ``end`` of the whole."""
        return Watch(lambda share, words: self.progress(start + (end - start) * share, words), self.stopped)
