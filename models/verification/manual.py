"""The verification manual: a page of Markdown made from what the checks have come to, and nothing else."""

from __future__ import annotations

import platform
from collections.abc import Iterable, Sequence
from itertools import groupby

from models.program import version_of
from models.verification.check import Group, Number, Outcome

__all__ = ["manual_markdown", "manual_page", "shown", "surroundings"]

_GROUPS: dict[Group, tuple[str, str]] = {
    "published": (
        "Published and derived numbers",
        "Examples of books, standards and papers, and numbers computed apart from this program. *Seen* "
        "means that the number was read in the source; *from memory*, that the source is known but was not "
        "at hand; *computed apart*, that no printed answer is known; *closed form*, that a formula or hand "
        "gives it; *common practice*, that it is what the trade takes for granted.",
    ),
    "engine": (
        "Other engines",
        "The same results from libraries that know nothing of this program. An engine that is not installed "
        "is listed as not run.",
    ),
    "invariant": (
        "Laws and symmetries",
        "What holds whatever the numbers are.",
    ),
}
_VERDICTS = {"held": "held", "failed": "**FAILED**", "not run": "not run"}


def manual_markdown(outcomes: Iterable[Outcome]) -> str:
    """The manual as Markdown, its headings from the second level on.

    Args:
        outcomes: of the checks of this package, and of any others that should be told with them.
    """
    known = list(outcomes)
    lines = [
        "This page is written by the checks themselves, as the tests assert them and as `corduroy verify` "
        "runs them on your machine: each number beside what it should be, where that is from, and how much "
        "difference is allowed and why. Where a line stands for several numbers, it shows the one that is "
        "nearest to its limit.",
        "",
        f"Written on {surroundings()}.",
        "",
        *_summary(known),
    ]
    for group, (title, text) in _GROUPS.items():
        those = [outcome for outcome in known if outcome.check.group == group]
        if those:
            lines += ["", f"## {title}", "", text]
        for chapter, inside in groupby(those, key=lambda outcome: outcome.check.chapter):
            lines += ["", f"### {chapter}"]
            for outcome in inside:
                lines += _section(outcome)
    return "\n".join(lines) + "\n"


def manual_page(outcomes: Iterable[Outcome]) -> str:
    """The manual as a page of its own."""
    return f"# Verification manual\n\n{manual_markdown(outcomes)}"


def surroundings() -> str:
    """What the checks ran on: versions of the program and of what computes in it, and the system."""
    parts = [f"{name} {version_of(name)}" for name in ("corduroy", "numpy", "scipy", "numba")]
    return f"{', '.join(parts)}, Python {platform.python_version()}, {platform.system()} {platform.machine()}"


def _summary(outcomes: Sequence[Outcome]) -> list[str]:
    rows = [["Checks", "held", "failed", "not run", "numbers compared"]]
    for group, (title, _) in _GROUPS.items():
        those = [outcome for outcome in outcomes if outcome.check.group == group]
        counts = [sum(one.verdict == verdict for one in those) for verdict in _VERDICTS]
        numbers = sum(number.count for one in those for number in one.numbers)
        rows.append([title, *map(str, counts), str(numbers)])
    return _table(rows, words=1)


def _section(outcome: Outcome) -> list[str]:
    check = outcome.check
    lines = ["", f"#### {_plain(check.title)}", ""]
    if check.text:
        lines += [_plain(check.text), ""]
    lines += [
        f"- Source: {_plain(check.source)} ({check.status})",
        f"- Allowed difference: {_plain(check.reason)}",
        f"- Name: `{check.id}`; verdict: {_VERDICTS[outcome.verdict]}"
        + (f", {_plain(outcome.problem)}" if outcome.problem else ""),
    ]
    if outcome.numbers:
        rows = [["Number", "expected", "computed", "difference", "allowed", ""]]
        lines += ["", *_table([*rows, *map(_row, outcome.numbers)], words=1)]
    return lines


def _row(number: Number) -> list[str]:
    what = number.what if number.count == 1 else f"{number.what} ({number.count} numbers)"
    verdict = _VERDICTS["held" if number.held else "failed"]
    return [_plain(what), *shown(number), verdict]


def shown(number: Number) -> tuple[str, str, str, str]:
    """Expected, computed, difference and allowed as text: numbers as far as their digits matter."""
    # A difference has to be seen in the digits of the computed number, unless it is lost in rounding.
    expected, computed = f"{number.expected:.10g}", f"{number.computed:.10g}"
    return expected, computed, f"{number.difference:.2g}", f"{number.allowed:.2g}"


def _table(rows: Sequence[Sequence[str]], words: int) -> list[str]:
    head, *others = ("| " + " | ".join(row) + " |" for row in rows)
    rule = ["---" if place < words else "---:" for place in range(len(rows[0]))]
    return [head, "| " + " | ".join(rule) + " |", *others]


def _plain(text: str) -> str:
    """Text that Markdown takes as it stands."""
    for sign in "\\`*_{}[]<>|#$^~":
        text = text.replace(sign, f"\\{sign}")
    return text.replace("\n\n", "\0").replace("\n", " ").replace("\0", "\n\n")
