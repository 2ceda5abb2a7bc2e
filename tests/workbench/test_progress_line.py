"""How far a command is, on a terminal and elsewhere."""

from __future__ import annotations

from contextlib import suppress

import pytest

from workbench.commands.progress_line import ProgressLine


def test_a_terminal_has_one_line_that_is_cleared(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    with suppress(ValueError), ProgressLine() as line:
        line.tell("a long title " * 20)
        line.tell("12 of 400")
        raise ValueError
    out, err = capsys.readouterr()
    assert (out, "\n" in err) == ("", False)
    long, short, blank, end = err.split("\r")[1:]
    assert long.startswith("a long title a long")
    assert short.rstrip() == "12 of 400"
    assert blank.strip() == end == ""
    assert len(long) == len(short) == len(blank) < 80


def test_a_pipe_gets_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    with ProgressLine() as line:
        line.tell("12 of 400")
    assert not line.shown
    assert capsys.readouterr() == ("", "")
