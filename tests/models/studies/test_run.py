"""Running: the same to the bit by any workers, cancelled at once, gone on with, lost workers made good."""

from __future__ import annotations

import os
import signal
import time
from concurrent.futures import BrokenExecutor, Executor, Future, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from typing import Any

import numpy as np
import pytest

from models.errors import InputError
from models.fields import replaced
from models.studies import (
    COMPUTED,
    MISSING,
    REFUSED,
    Progress,
    StudyResult,
    Watch,
    Workers,
    ask,
    built_cars,
    cost,
    front,
    local_workers,
    run_study,
    sobol_shares,
    study_size,
    this_thread,
)
from models.studies.ledger import CHUNK, Stopped
from models.studies.task import Answer
from models.study import (
    GlobalSensitivity,
    Parameter,
    Sweep,
    Tolerance,
    ToleranceDraw,
)
from tests.study_cases import FRONT, RATE, REAR, SEARCH, Array, project, same

SWEEP = Sweep(parameter=RATE, points=3 * CHUNK + 5, metrics=("front_ride_frequency",))


def squares(rows: Array) -> Answer:
    return Answer(rows[:, :1, None] ** 2, {})


def lost(workers: Workers) -> None:
    """Wait until the loss of a process is known, so that it falls into the study."""
    while True:
        try:
            workers.submit(os.getpid).result()
        except BrokenExecutor:
            return


@pytest.fixture(scope="module")
def alone() -> StudyResult:
    return run_study(ask(project(), SEARCH))


def test_processes_give_the_same_bits_even_where_one_is_killed(alone: StudyResult) -> None:
    victims: list[int] = []

    with local_workers(2) as workers:

        def kill(progress: Progress) -> None:
            if not victims:
                victims.append(workers.submit(os.getpid).result())
                os.kill(victims[0], signal.SIGKILL)
                lost(workers)

        assert same(run_study(ask(project(), SEARCH), workers, watch=Watch(progress=kill)), alone)
        assert workers.generation == 1
    assert victims[0] != os.getpid()


def test_any_executor_will_do() -> None:
    asked = ask(project(), SWEEP)
    plain = run_study(asked, task=squares)
    with Workers(lambda: ThreadPoolExecutor(3), 3) as threads:
        assert same(run_study(asked, threads, task=squares), plain)


def test_progress_goes_up_to_the_end() -> None:
    told: list[Progress] = []
    parts: list[StudyResult] = []
    watch = Watch(progress=told.append, part=parts.append, every=0.0)
    result = run_study(ask(project(), SWEEP), task=squares, watch=watch)
    assert [one.done for one in told] == [64, 128, 192, 197]
    assert {one.total for one in told} == {197}
    assert told[0].remaining is None
    assert told[-1].remaining == 0.0
    assert told[1].remaining is not None
    # A part stays as it was when it came.
    assert [part.columns.done for part in parts] == [64, 128, 192, 197]
    assert not any(part.finished for part in parts)
    assert result.finished


def test_cancelled_in_the_middle_and_gone_on_with() -> None:
    asked, told = ask(project(), SEARCH), list[Progress]()

    def counted(rows: Array) -> Answer:
        computed.append(len(rows))
        share = rows / 32e3
        return Answer(np.repeat((share[:, :1] - share[:, 1:] ** 2)[:, None], len(asked.metrics), axis=2), {})

    computed: list[int] = []
    whole = run_study(asked, task=counted)
    assert sum(computed) == 2 * (CHUNK + 6)
    computed.clear()
    watch = Watch(progress=told.append, cancelled=lambda: bool(told))
    part = run_study(asked, task=counted, watch=watch)
    assert not part.finished
    assert not part.problem
    assert 0 < part.columns.done < len(whole.columns.rows)
    assert (part.columns.state == MISSING).any()
    rest = run_study(asked, task=counted, earlier=part)
    assert same(rest, whole)
    assert sum(computed) == len(whole.columns.rows)  # of both runs together
    # All is there: nothing is computed again.
    computed.clear()
    assert same(run_study(asked, task=counted, earlier=whole), whole)
    assert not computed


def test_cancelling_does_not_wait_for_the_work() -> None:
    """Work that never ends is left behind at once."""
    never: Future[Any] = Future()

    class Stuck(ThreadPoolExecutor):
        def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
            return never

    began = time.monotonic()
    result = run_study(
        ask(project(), SWEEP),
        Workers(Stuck, 1),
        watch=Watch(cancelled=lambda: time.monotonic() - began > 0.05),
    )
    assert time.monotonic() - began < 1.0  # a tenth of a second, and much for a busy machine
    assert not result.finished
    assert result.columns.done == 0


def test_a_result_of_other_inputs_is_not_gone_on_with() -> None:
    other = run_study(ask(project(), replaced(SWEEP, ("points",), 3)), task=squares)
    with pytest.raises(InputError, match="of another car, run or definition"):
        run_study(ask(project(), SWEEP), earlier=other)


def test_workers_that_are_lost_again_and_again_end_the_study() -> None:
    class Broken(ThreadPoolExecutor):
        def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
            future: Future[Any] = Future()
            future.set_exception(BrokenProcessPool("a child has died"))
            return future

    result = run_study(ask(project(), SWEEP), Workers(lambda: Broken(1), 2))
    assert not result.finished
    assert result.problem == "the workers were lost 3 times in a row"


def test_an_error_of_the_program_is_no_lost_worker() -> None:
    def wrong(rows: Array) -> Answer:
        raise KeyError("a mistake")

    with pytest.raises(KeyError, match="a mistake"):
        run_study(ask(project(), SWEEP), task=wrong)


def test_cars_that_are_refused_are_counted_and_the_study_goes_on() -> None:
    """A spring rate far below 0 is out of range; a car of a rigid tyre of rate 0 does not stand."""
    draw = ToleranceDraw(
        tolerances=(Tolerance(place=FRONT, kind="rate", plus_minus=60e3, distribution="uniform"),),
        draws=40,
        exact_draws=0,
        metrics=("front_wheel_rate",),
    )
    result = run_study(ask(project(), draw))
    refused = result.columns.rows[:, 0] < 0
    assert 5 < refused.sum() < 35
    assert (result.columns.state == np.where(refused, REFUSED, COMPUTED)).all()
    assert np.isnan(result.columns.values[refused]).all()
    assert set(result.columns.reasons) == set(np.flatnonzero(refused).tolist())
    assert all("Spring rate" in reason and "N/mm" in reason for reason in result.columns.reasons.values())
    assert [(kind.cars, kind.only) for kind in result.refusals()] == [(refused.sum(), False)]
    assert built_cars(result).whole.cars == 40
    assert built_cars(result).whole.passed == 40 - refused.sum()


def test_a_car_that_does_not_stand_says_so() -> None:
    study = Sweep(
        parameter=Parameter(place="body.mass", kind="mass", low=500.0, high=1800.0),
        points=2,
        metrics=("heave_rate",),
    )
    sagging = replaced(project(), ("variants", 0, "vehicle", "front", "spring", "rate"), 0.0)
    result = run_study(ask(sagging, study))
    assert result.columns.state.tolist() == [REFUSED, REFUSED]
    assert all("does not stand" in reason for reason in result.columns.reasons.values())


def test_indices_without_the_refused_cars() -> None:
    study = GlobalSensitivity(
        parameters=(RATE, Parameter(place=REAR, kind="rate", low=20e3, high=32e3)),
        samples=32,
        metrics=("heave_rate",),
    )

    def task(rows: Array) -> Answer:
        return Answer(rows.sum(axis=1)[:, None, None] * 2, {2: "too soft"})

    result = run_study(ask(project(), study), task=task)
    assert result.columns.refused == 2  # of each chunk the third
    shares = sobol_shares(result)
    assert shares.samples == 16
    # A plain sum: half for each, and no interaction.
    assert shares.total[:, 0, 0] == pytest.approx([0.5, 0.5], abs=0.2)


def test_cost_before_the_start() -> None:
    asked = ask(project(), SEARCH)
    told = cost(asked, this_thread())
    assert told.cars == study_size(asked) == 2 * (CHUNK + 6)
    assert told.judgements == told.cars
    assert 0.001 < told.seconds < 4  # some 0.15 ms per car on one core; much for a busy machine


def test_an_estimate_that_nobody_wants_ends_at_once() -> None:
    never = Workers(Never, 1)
    with pytest.raises(Stopped):
        cost(ask(project(), SEARCH), never, lambda: True)


class Never(Executor):
    """Takes work and does nothing of it."""

    def submit(self, fn: Any, /, *args: object, **kwargs: object) -> Future[Any]:
        return Future()


def test_front_of_a_part(alone: StudyResult) -> None:
    first = StudyResult(alone.asked, alone.columns, alone.total, False)
    assert (front(first).rows == front(alone).rows).all()


def test_this_thread_is_an_executor() -> None:
    with this_thread() as workers:
        assert workers.submit(sum, (1, 2)).result() == 3
