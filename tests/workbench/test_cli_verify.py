"""``corduroy verify`` from the command line."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from models.verification import catalogue
from models.verification.published import springs
from workbench import cli

Verify = Callable[..., tuple[int, str, str]]
#: Chapters of a hundredth of a second.
CHAPTERS = ("springs/", "pitch-plane/", "units/")


@pytest.fixture
def verify(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Verify:
    """Runs the command on a few of the checks; gives exit code, stdout and stderr."""
    few = tuple(check for check in catalogue.CHECKS if check.id.startswith(CHAPTERS))
    assert len(few) > 20
    monkeypatch.setattr(catalogue, "CHECKS", few)

    def command(*arguments: str) -> tuple[int, str, str]:
        code = cli.main(["verify", *arguments])
        return code, *capsys.readouterr()

    return command


def test_an_installation_that_computes_right(verify: Verify) -> None:
    code, out, err = verify()
    assert code == 0
    head = next(line for line in out.splitlines() if line.startswith("Check"))
    assert head.split() == ["Check", "Source", "Expected", "Computed", "Difference", "Allowed", "Verdict"]
    row = next(line for line in out.splitlines() if line.startswith("Coils of Barton and Fieldhouse"))
    assert row.split()[-5:] == ["6.1", "6.096179087", "-0.0038", "0.005", "held"]
    assert " checks held, 0 failed, 0 not run;" in out
    assert "Springs and bars in steel" in err  # progress


def broken(monkeypatch: pytest.MonkeyPatch) -> None:
    """As if a library raised numbers to the third power in place of the fourth."""
    right = springs.coil_rate
    monkeypatch.setattr(springs, "coil_rate", lambda coil: right(coil) / coil.wire_diameter)


def test_one_that_does_not_is_seen(verify: Verify, monkeypatch: pytest.MonkeyPatch) -> None:
    broken(monkeypatch)
    code, out, _ = verify()
    assert code == 1
    row = next(line for line in out.splitlines() if line.startswith("Coils of Barton and Fieldhouse"))
    assert row.endswith("FAILED")
    assert "FAILED: Coils of Barton and Fieldhouse (springs/barton-coils): D. C. Barton" in out
    assert "  coils of the hard spring: expected 6.1, computed 480.0" in out
    assert " 3 failed, 0 not run;" in out
    assert "do not use its results" in out


def test_one_that_breaks_off_is_seen(verify: Verify, monkeypatch: pytest.MonkeyPatch) -> None:
    def gone(*_: object) -> float:
        raise OSError("cannot load the library")

    monkeypatch.setattr(springs, "leaf_rate", gone)
    code, out, _ = verify()
    assert code == 1
    assert "  OSError: cannot load the library" in out


def test_an_engine_that_is_not_installed_is_no_fault(verify: Verify, monkeypatch: pytest.MonkeyPatch) -> None:
    absent = tuple(replace(check, needs=("no_such_engine",)) for check in catalogue.CHECKS[:2])
    monkeypatch.setattr(catalogue, "CHECKS", (*absent, *catalogue.CHECKS[2:]))
    code, out, _ = verify()
    assert code == 0
    assert " 0 failed, 2 not run;" in out
    assert "Not run (2): no_such_engine is not installed" in out
    assert [check["verdict"] for check in json.loads(verify("--json")[1])["checks"]].count("not run") == 2


def test_json_tells_every_number(verify: Verify, monkeypatch: pytest.MonkeyPatch) -> None:
    code, out, _ = verify("--json")
    answer = json.loads(out)
    assert code == 0
    assert (answer["failed"], answer["held"]) == (0, len(answer["checks"]))
    one = next(check for check in answer["checks"] if check["id"] == "springs/no-buckling")
    assert one["numbers"][0]["expected"] is None  # never is infinity, which JSON has not
    assert one["numbers"][0]["held"] is True
    broken(monkeypatch)
    code, out, _ = verify("--json")
    failed = [check["id"] for check in json.loads(out)["checks"] if check["verdict"] == "failed"]
    assert code == 1
    assert failed == ["springs/bhandari-coils", "springs/barton-coils", "springs/shigley-coil"]


def test_the_manual_is_written(verify: Verify, tmp_path: Path) -> None:
    path = tmp_path / "verification.md"
    assert verify("--markdown", str(path))[0] == 0
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# Verification manual")
    assert all(f"`{check.id}`" in text for check in catalogue.CHECKS)


def test_a_manual_that_cannot_be_written_is_refused_before_the_work(verify: Verify, tmp_path: Path) -> None:
    code, out, err = verify("--markdown", str(tmp_path / "nowhere" / "verification.md"))
    assert (code, out) == (2, "")
    assert f"there is no folder {tmp_path / 'nowhere'}" in err
    code, out, err = verify("--markdown", str(tmp_path))
    assert (code, out) == (2, "")
    assert "corduroy: " in err


def test_unknown_words_are_refused(verify: Verify) -> None:
    assert verify("--fast")[0] == 2
