"""A Dask cluster: a real scheduler and two workers on loopback."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator

import pytest

from models.errors import InputError
from models.studies import Progress, StudyResult, Watch, ask, cluster_workers, run_study
from tests.study_cases import SEARCH, project, same

distributed = pytest.importorskip("distributed")


@pytest.fixture(scope="module")
def cluster() -> Iterator[object]:
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, host="127.0.0.1", dashboard_address=None
    ) as cluster:
        yield cluster


@pytest.fixture(scope="module")
def alone() -> StudyResult:
    return run_study(ask(project(), SEARCH))


def test_the_same_bits_even_where_a_worker_is_killed(cluster: object, alone: StudyResult) -> None:
    killed: list[int] = []

    with cluster_workers(cluster.scheduler_address) as workers:

        def kill(progress: Progress) -> None:
            if not killed:
                killed.append(workers.submit(os.getpid).result())
                os.kill(killed[0], signal.SIGKILL)

        assert workers.at_once == 2
        result = run_study(ask(project(), SEARCH), workers, watch=Watch(progress=kill))
    assert same(result, alone)
    assert killed
    assert killed[0] != os.getpid()


def test_where_no_scheduler_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("models.studies.workers._PATIENCE", "200ms")
    with pytest.raises(InputError, match="no scheduler answers at"):
        cluster_workers("tcp://127.0.0.1:9")
    with pytest.raises(InputError, match="no scheduler answers"):
        cluster_workers("not an address")
