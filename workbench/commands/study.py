"""``corduroy study FILE``: answer the studies of a project, keep the results beside it, and print them."""

from __future__ import annotations

import argparse
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from models.cautions import CAUTIONS
from models.errors import InputError
from models.project import study_of
from models.studies import (
    Asked,
    Progress,
    StudyResult,
    Watch,
    Workers,
    ask,
    cluster_workers,
    file_name,
    folder_of,
    load_result,
    local_workers,
    run_study,
    save_result,
    this_thread,
)
from models.study import Study
from workbench.commands.command import Answer, Command
from workbench.commands.options import STDIN, add_project_options, project_of, units_of
from workbench.commands.progress_line import ProgressLine
from workbench.commands.study_json import study_json
from workbench.commands.study_text import study_text

__all__ = ["COMMAND"]

# How often what has come is written to disk, s.
_KEPT_EVERY = 5.0


def _add_options(command: argparse.ArgumentParser) -> None:
    add_project_options(command)
    command.add_argument(
        "--study", action="append", metavar="NAME", help="only this study; may be given more than once"
    )
    command.add_argument("--out", type=Path, metavar="FILE", help="file of the results, of a single study")
    command.add_argument("--resume", action="store_true", help="go on from the results that are there")
    command.add_argument(
        "--workers", type=int, metavar="N", help="processes of this machine; 0: none beside this one"
    )
    command.add_argument(
        "--cluster",
        metavar="ADDRESS",
        help="scheduler of a Dask cluster that you trust, such as tcp://HOST:8786",
    )


def _run(options: argparse.Namespace) -> Answer:
    """Run the studies and give what is to be printed.

    Raises:
        InputError: file, study or options are refused, or a study did not come to its end.
    """
    project = project_of(options)
    if not project.studies:
        raise InputError.of(
            "studies", "none", "the project has no studies; add them on the page Studies or in the file"
        )
    studies = (
        [study_of(project, name) for name in dict.fromkeys(options.study)]
        if options.study
        else project.studies
    )
    if options.out is not None and len(studies) > 1:
        raise InputError.of("out", str(options.out), "one file takes one study; choose it with --study")
    if options.out is None and options.file == STDIN:
        raise InputError.of("out", "none", "a project from the standard input needs --out for its results")
    asked = [ask(project, study) for study in studies]
    with _workers(options) as workers, _interrupted() as stopped:
        results = [_answered(one, options, workers, stopped) for one in asked]
    if options.json:
        found = [study_json(*one) for one in results]
        return Answer({"project": project.name, "studies": found, "cautions": list(CAUTIONS)})
    texts = [study_text(*one, units_of(options)) for one in results]
    return Answer("\n\n".join([project.name, *texts, "Cautions: " + " ".join(CAUTIONS)]))


def _workers(options: argparse.Namespace) -> Workers:
    if options.cluster is not None:
        return cluster_workers(options.cluster)
    return this_thread() if options.workers == 0 else local_workers(options.workers)


def _answered(
    asked: Asked, options: argparse.Namespace, workers: Workers, stopped: threading.Event
) -> tuple[StudyResult, Path]:
    """Run one study and write its results, what has come every few seconds and all at the end."""
    path: Path = options.out or folder_of(options.file) / file_name(asked)
    earlier = load_result(path) if options.resume and path.exists() else None

    def keep(result: StudyResult) -> None:
        save_result(result, path)

    def tell(progress: Progress) -> None:
        line.tell(_words(asked.study, progress))

    with ProgressLine() as line:
        watch = Watch(tell, keep, stopped.is_set, _KEPT_EVERY)
        result = run_study(asked, workers, earlier=earlier, watch=watch)
    keep(result)
    if not result.finished:
        reason = result.problem or "it was stopped"
        done = f"{result.columns.done} of {result.total} cars are kept in {path}"
        raise InputError.of(
            "study",
            asked.study.name,
            f"'{asked.study.name}' is not finished, {reason}; {done}; go on with --resume",
        )
    return result, path


def _words(study: Study, progress: Progress) -> str:
    left = "" if progress.remaining is None else f", {progress.remaining:.0f} s left"
    refused = f", {progress.refused} refused" if progress.refused else ""
    return f"{study.name[:30]}: {progress.done} of {progress.total}{refused}{left}"


@contextmanager
def _interrupted() -> Iterator[threading.Event]:
    """An event that Ctrl+C sets, in place of ending the program before the results are kept."""
    stopped = threading.Event()
    if threading.current_thread() is not threading.main_thread():
        yield stopped
        return
    before = signal.signal(signal.SIGINT, lambda number, frame: stopped.set())
    try:
        yield stopped
    finally:
        signal.signal(signal.SIGINT, before)


COMMAND = Command(
    help="answer the studies of a project",
    description="Compute the studies of a project, keep the results in a folder beside it and print them. "
    "What is stopped by Ctrl+C, or by force, goes on with --resume.",
    example="my_car.corduroy --study 'Bar rate' --out bar_rate.npz --workers 2",
    add_options=_add_options,
    run=_run,
)
