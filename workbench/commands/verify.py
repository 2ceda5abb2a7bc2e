"""``corduroy verify``: is this installation computing right?"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from models.errors import InputError
from models.project.write_file import write_file
from models.verification import Check, Number, Outcome, manual_page, run_all, shown
from models.verification.manual import surroundings
from models.verification.runner import Tell
from workbench.commands.command import FINDINGS, FINE, Answer, Command
from workbench.commands.options import add_json_option
from workbench.commands.progress_line import ProgressLine
from workbench.commands.text import finite, table_lines

__all__ = ["COMMAND"]

_TITLE, _SOURCE = 58, 40


def _add_options(command: argparse.ArgumentParser) -> None:
    add_json_option(command)
    command.add_argument(
        "--markdown", type=Path, metavar="OUT", help="also write the verification manual to this file"
    )


def _run(options: argparse.Namespace) -> Answer:
    """Run all checks; finds something where one has failed.

    Raises:
        InputError: the manual cannot be written.
    """
    outcomes = _outcomes(options)
    failed = any(outcome.verdict == "failed" for outcome in outcomes)
    return Answer(_data(outcomes) if options.json else _text(outcomes), FINDINGS if failed else FINE)


def _outcomes(options: argparse.Namespace) -> tuple[Outcome, ...]:
    """Run all checks, telling of it on the standard error, and write the manual if it is asked for.

    Raises:
        InputError: the manual cannot be written.
    """
    if options.markdown is not None and not options.markdown.absolute().parent.is_dir():
        folder = options.markdown.absolute().parent
        raise InputError.of("markdown", str(options.markdown), f"there is no folder {folder}")
    with ProgressLine() as line:
        outcomes = run_all(tell=_teller(line))
    if options.markdown is not None:
        write_file(options.markdown, manual_page(outcomes).encode())
    return outcomes


def _teller(line: ProgressLine) -> Tell:
    """Writes each check on one line of a terminal; elsewhere each chapter on a line of its own."""
    last = ""

    def tell(done: int, total: int, check: Check) -> None:
        nonlocal last
        if line.shown:
            line.tell(f"{done + 1} of {total}: {check.title}")
        elif check.chapter != last:
            print(f"{done + 1} of {total}: {check.chapter}", file=sys.stderr, flush=True)
        last = check.chapter

    return tell


def _text(outcomes: Sequence[Outcome]) -> str:
    """One line per check, with the number that is nearest to its limit; then what has failed, in full."""
    rows = [["Check", "Source", "Expected", "Computed", "Difference", "Allowed", "Verdict"]]
    rows += [_row(outcome) for outcome in outcomes]
    counts = Counter(outcome.verdict for outcome in outcomes)
    numbers = sum(number.count for outcome in outcomes for number in outcome.numbers)
    seconds = sum(outcome.seconds for outcome in outcomes)
    lines = [
        surroundings(),
        "",
        *table_lines(rows, 2),
        "",
        "Of several numbers, the one that is nearest to its limit; --json and --markdown tell all.",
        *_failures(outcomes),
        *_not_run(outcomes),
        "",
        f"{counts['held']} checks held, {counts['failed']} failed, {counts['not run']} not run; "
        f"{numbers} numbers compared in {seconds:.0f} s.",
    ]
    if counts["failed"]:
        lines.append("This installation does not compute as it should: do not use its results.")
    return "\n".join(lines)


def _row(outcome: Outcome) -> list[str]:
    words = [_cut(outcome.check.title, _TITLE), _cut(outcome.check.source, _SOURCE)]
    numbers = shown(outcome.worst) if outcome.worst is not None else ("", "", "", "")
    return [*words, *numbers, outcome.verdict.upper() if outcome.verdict == "failed" else outcome.verdict]


def _cut(text: str, length: int) -> str:
    return text if len(text) <= length else text[: length - 1].rstrip() + "…"


def _failures(outcomes: Sequence[Outcome]) -> list[str]:
    lines = []
    for outcome in outcomes:
        if outcome.verdict == "failed":
            lines += ["", f"FAILED: {outcome.check.title} ({outcome.check.id}): {outcome.check.source}"]
            for number in outcome.numbers:
                if not number.held:
                    expected, computed, difference, allowed = shown(number)
                    lines.append(
                        f"  {number.what}: expected {expected}, computed {computed}, "
                        f"difference {difference}, allowed {allowed}"
                    )
            if outcome.problem:
                lines.append(f"  {outcome.problem}")
    return lines


def _not_run(outcomes: Sequence[Outcome]) -> list[str]:
    missing = Counter(outcome.problem for outcome in outcomes if outcome.verdict == "not run")
    if not missing:
        return []
    lines = [f"Not run ({count}): {problem}" for problem, count in missing.items()]
    return ["", *lines, "The other engines come with the extra of the tests: pip install 'corduroy[test]'"]


def _data(outcomes: Sequence[Outcome]) -> dict[str, Any]:
    """Every check with every number; infinities are null."""
    counts = Counter(outcome.verdict for outcome in outcomes)
    return {
        "surroundings": surroundings(),
        "held": counts["held"],
        "failed": counts["failed"],
        "not_run": counts["not run"],
        "checks": [
            {
                "id": outcome.check.id,
                "group": outcome.check.group,
                "chapter": outcome.check.chapter,
                "title": outcome.check.title,
                "text": outcome.check.text,
                "source": outcome.check.source,
                "status": outcome.check.status,
                "reason_of_allowed": outcome.check.reason,
                "verdict": outcome.verdict,
                "problem": outcome.problem,
                "seconds": round(outcome.seconds, 3),
                "numbers": [_number(number) for number in outcome.numbers],
            }
            for outcome in outcomes
        ],
    }


def _number(number: Number) -> dict[str, Any]:
    return {
        "what": number.what,
        "expected": finite(number.expected),
        "computed": finite(number.computed),
        "difference": finite(number.difference),
        "allowed": finite(number.allowed),
        "count": number.count,
        "held": number.held,
    }


COMMAND = Command(
    help="tell whether this installation computes right",
    description="Compute published examples, the same results from other engines that are installed, and "
    "laws that always hold, and print each beside what it should be, with the number nearest to its limit.",
    example="--markdown verification.md",
    add_options=_add_options,
    run=_run,
)
