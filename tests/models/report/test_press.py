"""Reviews made in a process of their own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from models.errors import InputError
from models.fields import replaced
from models.project import Project, ReviewOptions
from models.report.press import Order, Press, make
from models.report.watch import Stopped, Watch


@pytest.fixture(scope="module")
def press() -> Iterator[Press]:
    press = Press()
    yield press
    press.close()


@pytest.fixture
def order(saloon: Project, options: ReviewOptions) -> Order:
    return Order(saloon, replaced(options, ("sections",), ("run", "method")))


def test_the_process_makes_what_this_one_would_make(press: Press, order: Order, tmp_path: Path) -> None:
    here, there = tmp_path / "here", tmp_path / "there"
    told: list[str] = []
    for folder, carry_out in ((here, make), (there, press.make)):
        folder.mkdir()
        wanted = replace(order, pdf=folder / "a.pdf", html=folder / "a.html", figures=folder)
        made = carry_out(wanted, Watch(lambda _share, words: told.append(words)))
        assert all(file.exists() for file in made.files)
    assert sorted(file.name for file in here.iterdir())[:2] == ["a.html", "a.pdf"]
    assert (here / "run-time-pitch.svg").exists()
    for file in here.iterdir():
        assert file.read_bytes() == (there / file.name).read_bytes()
    assert told.count("The run") >= 2


def test_sections_say_where_they_begin(press: Press, order: Order) -> None:
    made = press.make(replace(order, sharpness=20.0))
    assert len(made.pages) >= 2
    assert all(page.startswith(b"\x89PNG") for page in made.pages)
    first = made.sections[0]
    assert (first.key, first.figures, first.page) == ("run", 4, 2)


def test_a_refusal_comes_back_and_the_process_goes_on(press: Press, order: Order, tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"a\.pdf: cannot be written: no such file"):
        press.make(replace(order, pdf=tmp_path / "missing" / "a.pdf"))
    assert press.make(order).sections


def test_it_can_be_stopped_and_begins_anew(press: Press, order: Order) -> None:
    other = replace(order, options=replaced(order.options, ("author",), "x"))
    with pytest.raises(Stopped):
        press.make(other, Watch(stopped=lambda: True))
    assert press.make(order).sections
