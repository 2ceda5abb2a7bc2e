"""Reviews made in a process of their own: a window beside it is never held up, and can stop them at once."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import partial
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path

from models.errors import InputError
from models.exports.figures import FigureForm, write_charts
from models.project import Project
from models.project.review import ReviewOptions, SectionKey
from models.report.document import Section
from models.report.figures import Drawings
from models.report.html import to_html
from models.report.inputs import inputs_hash
from models.report.kept import kept_studies
from models.report.review import review
from models.report.watch import Stopped, Watch
from models.units import METRIC, UnitChoice

__all__ = ["Made", "MadeSection", "Maker", "Order", "Press", "make"]

# How often the other process is listened to whether or not it says anything, s.
_PATIENCE = 0.1
# How far it stands back at a core behind the window.
_NICE = 5
# About the share of computing in the whole work.
_COMPUTING = 0.7


@dataclass(frozen=True, slots=True)
class Order:
    """What is wanted.

    Attributes:
        project: what is reviewed.
        options: how.
        file: of the project, beside which results of studies lie; None where it was never saved.
        elsewhere: further folders of results.
        window: units, for options that want those of the window.
        pdf, html: files that are written.
        figures, form: folder into which each figure is written, and its format.
        sharpness: of pictures of the pages, dots per inch; 0 for none.
    """

    project: Project
    options: ReviewOptions
    file: Path | None = None
    elsewhere: tuple[Path, ...] = ()
    window: UnitChoice = field(default_factory=lambda: METRIC)
    pdf: Path | None = None
    html: Path | None = None
    figures: Path | None = None
    form: FigureForm = "svg"
    sharpness: float = 0.0


@dataclass(frozen=True, slots=True)
class MadeSection:
    """What became of a section: its figures, why it could not be computed, and its page in the pictures."""

    key: SectionKey
    figures: int
    problem: str
    page: int = 0


@dataclass(frozen=True, slots=True)
class Made:
    """What came of an order.

    Attributes:
        files: that were written.
        inputs: SHA-256 of what the review is made of.
        sections: in their order.
        pages: pictures of the pages, PNG.
    """

    files: tuple[Path, ...]
    inputs: str
    sections: tuple[MadeSection, ...]
    pages: tuple[bytes, ...] = ()


class Maker:
    """Makes what is ordered, and keeps the last document: after a look at it mostly comes its file."""

    def __init__(self) -> None:
        """Nothing is made yet."""
        self._last: Drawings | None = None

    def make(self, order: Order, watch: Watch | None = None) -> Made:
        """Carry out an order.

        Raises:
            InputError: a study is not known, or a file cannot be written.
            Stopped: the watch said so.
        """
        watch = Watch() if watch is None else watch
        works = _works(order)
        drawings = self._drawings(order, watch.part(0.0, _COMPUTING if works else 1.0))
        step = (1.0 - _COMPUTING) / max(len(works), 1)
        made = Made((), drawings.document.inputs, tuple(map(_made, drawings.document.sections)))
        for number, work in enumerate(works):
            start = _COMPUTING + number * step
            made = work(made, drawings, watch.part(start, start + step))
        watch.tell(1.0, "")
        return made

    def _drawings(self, order: Order, watch: Watch) -> Drawings:
        studies = kept_studies(order.project, order.file, order.options.studies, order.elsewhere)
        inputs = inputs_hash(order.project, order.options, studies, order.window)
        if self._last is None or self._last.document.inputs != inputs:
            self._last = Drawings(review(order.project, studies, order.options, watch, order.window))
        return self._last


def make(order: Order, watch: Watch | None = None) -> Made:
    """Carry out one order here and now; as :meth:`Maker.make`."""
    return Maker().make(order, watch)


_Work = Callable[[Made, Drawings, Watch], Made]


def _works(order: Order) -> list[_Work]:
    """What has to be done with the document; figures are drawn by the first and used by the others."""
    works: list[_Work] = []
    if order.pdf is not None:
        works.append(partial(_write_pdf, order.pdf))
    if order.html is not None:
        works.append(partial(_write_html, order.html))
    if order.figures is not None:
        works.append(partial(_write_figures, order.figures, order.form))
    if order.sharpness:
        works.append(partial(_picture, order.sharpness))
    return works


def _write_pdf(path: Path, made: Made, drawings: Drawings, watch: Watch) -> Made:
    from models.report.pdf import to_pdf  # typesetter and matplotlib load in a second: only when wanted

    to_pdf(drawings.document, path, watch, drawings)
    return replace(made, files=(*made.files, path))


def _write_html(path: Path, made: Made, drawings: Drawings, watch: Watch) -> Made:
    to_html(drawings.document, path, watch, drawings)
    return replace(made, files=(*made.files, path))


def _write_figures(folder: Path, form: FigureForm, made: Made, drawings: Drawings, watch: Watch) -> Made:
    document = drawings.document
    charts, heading = document.charts(), f"{document.title}: {document.subtitle}"
    files = write_charts(
        charts, folder, form, document.units, heading, lambda share: watch.tell(share, "Figures")
    )
    return replace(made, files=(*made.files, *files))


def _picture(sharpness: float, made: Made, drawings: Drawings, watch: Watch) -> Made:
    from models.report.pdf import page_pictures

    pages, begins = page_pictures(drawings.document, sharpness, watch, drawings)
    sections = (replace(one, page=page) for one, page in zip(made.sections, begins, strict=True))
    return replace(made, pages=pages, sections=tuple(sections))


def _made(section: Section) -> MadeSection:
    return MadeSection(section.key, len(section.figures), section.problem)


class Press:
    """A process that makes what is ordered, one order after the other; it begins with the first."""

    def __init__(self) -> None:
        """Begin no process yet."""
        self._process: BaseProcess | None = None
        self._line: Connection | None = None

    def make(self, order: Order, watch: Watch | None = None) -> Made:
        """Have an order carried out.

        Raises:
            InputError: as of :meth:`Maker.make`, or the process broke off.
            Stopped: the watch said so; the process has ended.
        """
        watch = Watch() if watch is None else watch
        try:
            answer = _answer(self._opened(), order, watch)
        except (EOFError, OSError) as error:
            self.close()
            raise InputError.of("review", "", "the review broke off; make it again") from error
        except BaseException:
            self.close()
            raise
        if isinstance(answer, Made):
            return answer
        raise answer

    def close(self) -> None:
        """End the process, whatever it does."""
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.join()
            process.close()
        if self._line is not None:
            self._line.close()
            self._line = None

    def _opened(self) -> Connection:
        if self._line is None or self._process is None or not self._process.is_alive():
            self.close()
            # Spawned and not forked: a fork copies locks that threads of a window hold.
            context = multiprocessing.get_context("spawn")
            self._line, its_end = context.Pipe()
            process = context.Process(target=_serve, args=(its_end,), daemon=True)
            process.start()
            self._process = process
            its_end.close()  # so that the line breaks when the process ends
        return self._line


def _answer(line: Connection, order: Order, watch: Watch) -> Made | Exception:
    """What came of an order; meanwhile the watch is told and asked."""
    line.send(order)
    while True:
        if not line.poll(_PATIENCE):
            if watch.stopped():
                raise Stopped
            continue
        said = line.recv()
        if isinstance(said, (Made, Exception)):
            return said
        watch.tell(*said)


def _serve(line: Connection) -> None:
    """Carry out orders until the line breaks, as it does when the window ends, however it ends."""
    if hasattr(os, "nice"):  # not on Windows
        os.nice(_NICE)
    with suppress(ValueError):
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl+C is for the window
    maker, watch = Maker(), Watch(lambda share, words: line.send((share, words)))
    with suppress(EOFError, OSError):
        while True:
            order = line.recv()
            try:
                line.send(maker.make(order, watch))
            except InputError as error:
                line.send(error)
            except OSError:
                raise
            except Exception as error:
                line.send(RuntimeError(f"The review broke off: {error!r}"))
