"""The ledger of a running study: rows go in, figures come out, and everything is written down.

A kind of study calls it with rows and gets their figures.  Behind the call rows are cut into chunks; those
that an earlier run has answered are taken from there, the others go to the workers.  As every kind asks for
the same rows in the same order each time, a study is resumed by running it again.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, CancelledError, Future, wait
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.studies.columns import COMPUTED, MISSING, REFUSED, Columns
from models.studies.task import Answer, Task
from models.studies.workers import Workers

__all__ = ["CHUNK", "LOOK_UP", "Ledger", "Progress", "Stopped", "WorkersLost"]

Array = NDArray[np.float64]

#: Rows of one piece of work.  It never depends on the workers, so that a study is cut alike everywhere.
CHUNK = 64

# Chunks per worker that are handed over: enough that none waits, few enough that little is left to end
# when the study is cancelled.
_AHEAD = 2
#: How long a cancellation may go unseen, s.
LOOK_UP = 0.05
_MOST_LOSSES = 3


class Stopped(Exception):  # noqa: N818 - it is a way to stop, not an error
    """The study was cancelled."""


class WorkersLost(Exception):  # noqa: N818 - it says what became of the workers
    """The workers were lost again and again."""


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a study is.

    Attributes:
        done: rows that are computed or refused.
        total: rows in all; of a search the most that there may be.
        refused: rows of those done whose car was refused.
        remaining: estimate of the time left, s; None until there is something to go by.
    """

    done: int
    total: int
    refused: int
    remaining: float | None


class Ledger:
    """Answers rows by the workers and keeps the answers."""

    def __init__(
        self,
        task: Task,
        workers: Workers,
        shape: tuple[int, int, int],
        *,
        total: int,
        earlier: Columns | None = None,
        cancelled: Callable[[], bool] = lambda: False,
        told: Callable[[Ledger], None] = lambda ledger: None,
    ) -> None:
        """Begin with no rows.

        Args:
            task: answers rows.
            workers: compute it.
            shape: number of parameters, situations and figures.
            total: rows that are expected.
            earlier: answers of an earlier run of the same study.
            cancelled: asked all the time; the study ends at once when it says so.
            told: called after each chunk.
        """
        self.columns = Columns.empty(*shape)
        self._task, self._workers, self._total = task, workers, total
        self._earlier, self._cancelled, self._told = earlier, cancelled, told
        self._losses = 0
        # Rows computed now and not taken from an earlier run, and when the first of them came.
        self._fresh, self._first = 0, (0.0, 0)

    def __call__(self, rows: Array) -> Array:
        """Figures (n, S, K) of rows (n, P), NaN of refused ones.

        Raises:
            Stopped: the study was cancelled.
            WorkersLost: the workers were lost several times in a row before anything came of them.
        """
        start = len(self.columns.rows)
        self.columns = self.columns.with_missing(np.asarray(rows, dtype=float))
        self._reuse(start)
        chunks = [
            slice(first, min(first + CHUNK, len(self.columns.rows)))
            for first in range(start, len(self.columns.rows), CHUNK)
        ]
        self._compute([chunk for chunk in chunks if (self.columns.state[chunk] == MISSING).any()])
        return self.columns.values[start:]

    @property
    def progress(self) -> Progress:
        """How far it is."""
        done, remaining = self.columns.done, None
        began, before = self._first
        if self._fresh > before:
            remaining = (time.monotonic() - began) / (self._fresh - before) * max(self._total - done, 0)
        return Progress(done, max(self._total, done), self.columns.refused, remaining)

    def _reuse(self, start: int) -> None:
        """Take over what an earlier run answered to the same rows at the same place."""
        if self._earlier is None:
            return
        end = min(len(self.columns.rows), len(self._earlier.rows))
        if end <= start or not np.array_equal(self._earlier.rows[start:end], self.columns.rows[start:end]):
            return
        self.columns.values[start:end] = self._earlier.values[start:end]
        self.columns.state[start:end] = self._earlier.state[start:end]
        taken = self._earlier.reasons.items()
        self.columns.reasons.update({row: reason for row, reason in taken if start <= row < end})

    def _compute(self, chunks: list[slice]) -> None:
        waiting, running = chunks[::-1], dict[Future[Answer], tuple[slice, int]]()
        try:
            while waiting or running:
                if self._cancelled():
                    raise Stopped
                if not self._workers.alive():
                    raise WorkersLost("the cluster does not answer any more")
                self._hand_over(waiting, running)
                done, _ = wait(running, timeout=LOOK_UP, return_when=FIRST_COMPLETED)
                for future in sorted(done, key=lambda one: running[one][0].start):
                    self._settle(future, *running.pop(future), waiting)
        finally:
            for future in running:
                future.cancel()

    def _hand_over(self, waiting: list[slice], running: dict[Future[Answer], tuple[slice, int]]) -> None:
        while waiting and len(running) < _AHEAD * self._workers.at_once:
            chunk, generation = waiting.pop(), self._workers.generation
            try:
                future = self._workers.submit(self._task, self.columns.rows[chunk])
            except BrokenExecutor as error:
                waiting.append(chunk)
                self._lose(generation, error)
            else:
                running[future] = chunk, generation

    def _settle(self, future: Future[Answer], chunk: slice, generation: int, waiting: list[slice]) -> None:
        """Write down the answer to a chunk; one whose worker was lost is asked for again."""
        try:
            answer = future.result()
        except (BrokenExecutor, CancelledError) as error:
            waiting.append(chunk)
            self._lose(generation, error)
            return
        state = np.full(chunk.stop - chunk.start, COMPUTED, dtype=np.uint8)
        state[list(answer.refused)] = REFUSED
        self.columns.values[chunk] = answer.values
        self.columns.state[chunk] = state
        self.columns.reasons.update({chunk.start + row: reason for row, reason in answer.refused.items()})
        self._losses, self._fresh = 0, self._fresh + len(state)
        if self._fresh == len(state):
            self._first = time.monotonic(), self._fresh
        self._told(self)

    def _lose(self, generation: int, error: BaseException) -> None:
        """Go on with another executor; what breaks with one that has gone already is no other loss."""
        if generation != self._workers.generation:
            return
        self._losses += 1
        if self._losses > _MOST_LOSSES:
            raise WorkersLost(f"the workers were lost {_MOST_LOSSES} times in a row") from error
        self._workers.renew()
