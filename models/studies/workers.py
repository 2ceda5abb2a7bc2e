"""Where a study is computed: any executor of ``concurrent.futures``, local processes or a cluster."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from contextlib import suppress
from types import TracebackType
from typing import Any, TypeVar

from models.errors import InputError

__all__ = ["InThisThread", "Workers", "cluster_workers", "local_workers", "this_thread"]

T = TypeVar("T")

# How often a cluster tries a piece of work again whose worker was lost.
_RETRIES = 3
_PATIENCE = "10s"
# What an executor takes on Windows, and more than there is work for.
_MOST_PROCESSES = 61


class Workers:
    """An executor, how many pieces of work it does at once, and how to open another one if it breaks.

    A context manager; on leaving, work that runs is left to end by itself.
    """

    def __init__(
        self,
        open_executor: Callable[[], Executor],
        at_once: int,
        close: Callable[[], None] | None = None,
        alive: Callable[[], bool] = lambda: True,
    ) -> None:
        """Open no executor yet.

        Args:
            open_executor: gives an executor of its own at each call.
            at_once: pieces of work that run side by side.
            close: called at the end beside the shutting down of the executor.
            alive: whether work still comes back; where it does not, there is nothing to wait for.
        """
        self._open, self._close = open_executor, close
        self.at_once, self.alive = max(at_once, 1), alive
        self._executor: Executor | None = None
        self._opening = threading.Lock()
        #: Counts the executors that were let go.
        self.generation = 0

    def submit(self, work: Callable[..., T], *arguments: Any) -> Future[T]:
        """Hand over a piece of work, from any thread.

        Raises:
            BrokenExecutor: the executor has broken.
        """
        with self._opening:
            if self._executor is None:
                self._executor = self._open()
            executor = self._executor
        return executor.submit(work, *arguments)

    def renew(self) -> None:
        """Let go of a broken executor; the next piece of work opens another one."""
        with self._opening:
            executor, self._executor = self._executor, None
            self.generation += 1
        if executor is not None:
            executor.shutdown(wait=False)

    def close(self) -> None:
        """End; what runs may come to its end, and is dropped."""
        self.renew()
        if self._close is not None:
            self._close()

    def __enter__(self) -> Workers:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


class InThisThread(Executor):
    """An executor that computes at once where it is called: for small studies and for tests."""

    def submit(self, fn: Callable[..., T], /, *args: Any, **kwargs: Any) -> Future[T]:
        future: Future[T] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as error:
            future.set_exception(error)
        return future


def this_thread() -> Workers:
    """Everything in the calling thread."""
    return Workers(InThisThread, 1)


def local_workers(count: int | None = None) -> Workers:
    """Processes of this machine, one per core by default.

    Raises:
        InputError: there are to be none.
    """
    if count is not None and not 1 <= count <= _MOST_PROCESSES:
        reason = f"{count} processes are outside the allowed range (1 to {_MOST_PROCESSES})"
        raise InputError.of("workers", str(count), reason)
    count = min(count or os.cpu_count() or 1, _MOST_PROCESSES)
    return Workers(lambda: _processes(count), count)


def cluster_workers(address: str) -> Workers:
    """Workers of a Dask cluster.

    The machines of the cluster need this program in the same version, and to give the same bits, the same
    numerical libraries on the same kind of processor.  Work and answers travel pickled: use a cluster that
    you trust.

    Args:
        address: of its scheduler, such as ``tcp://192.168.1.20:8786``.

    Raises:
        InputError: the extra ``cluster`` is not installed, or nothing answers at the address.
    """
    try:
        from distributed import Client
        from distributed.comm.addressing import get_address_host_port
    except ImportError as error:
        reason = "a cluster needs the extra 'cluster': pip install 'corduroy[cluster]'"
        raise InputError.of("cluster", address, reason) from error
    try:
        get_address_host_port(address)  # a client that is given what is none ends after a long while only
        client = Client(address, timeout=_PATIENCE, set_as_default=False)
    except (OSError, ValueError, TypeError) as error:
        reason = (
            f"no scheduler answers at '{address[:80]}' ({str(error)[:80]}); it looks like tcp://HOST:8786"
        )
        raise InputError.of("cluster", address, reason) from error
    threads = sum(worker["nthreads"] for worker in client.scheduler_info(n_workers=-1)["workers"].values())
    return Workers(
        lambda: client.get_executor(pure=False, retries=_RETRIES),
        threads,
        client.close,
        # A client looks for its scheduler for a while, and then closes and answers nothing any more.
        alive=lambda: client.status not in ("closing", "closed"),
    )


def _processes(count: int) -> ProcessPoolExecutor:
    # Pools of BLAS threads in each process would only wait for each other; a child reads this at its start.
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    # Spawned and not forked: a fork copies locks that threads of a window hold.
    return ProcessPoolExecutor(count, multiprocessing.get_context("spawn"), _begin_process)


def _begin_process() -> None:
    """Leave Ctrl+C and the first turn at a core to the parent, and end with it however it ends."""
    if hasattr(os, "nice"):  # not on Windows
        os.nice(10)
    with suppress(ValueError):
        signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
