"""What is said of the packaging, on the page and without a screen, in the user's units."""

from __future__ import annotations

from collections.abc import Iterable
from math import isnan

from models.figure_text import unit_text
from models.judge.packaging import Checked, PackagingReport
from models.judge.trim_tolerance import TrimStack
from models.units import KINDS, UnitChoice, format_value

__all__ = ["check_tip", "limit_words", "number", "reasons", "verdict", "with_unit", "yield_words"]


def number(value: float, kind: str, units: UnitChoice, digits: int = 3) -> str:
    """Value without its unit; a dash where there is none."""
    return format_value(value, units[kind], KINDS[kind].si, digits).replace("-", "−")


def with_unit(value: float, kind: str, units: UnitChoice, digits: int = 3) -> str:
    """Value with its unit."""
    return f"{number(value, kind, units, digits)} {unit_text(kind, units)}".rstrip()


def limit_words(check: Checked, units: UnitChoice) -> str:
    """ "≤ 70.0" or "≥ 100"; nothing without a limit."""
    if isnan(check.limit):
        return ""
    sign = "≥" if check.sense == "at least" else "≤"
    return f"{sign} {number(check.limit, check.figure.kind, units)}"


def check_tip(check: Checked, units: UnitChoice) -> str:
    """Name, unit, formula, and how the limit is kept."""
    kind = check.figure.kind
    lines = [check.figure.explained(units[kind])]
    if check.met is not None:
        limit, room = with_unit(check.limit, kind, units), with_unit(abs(check.margin), kind, units)
        lines.append(f"{check.sense.capitalize()} {limit}: {room} {'left' if check.met else 'missing'}.")
    return "\n".join(lines)


def verdict(checks: Iterable[Checked]) -> str:
    """How many of the checks that have a limit miss it."""
    met = [check.met for check in checks if not isnan(check.limit)]
    missed, unknown = met.count(False), met.count(None)
    known = len(met) - unknown
    if missed:
        text = f"{missed} of {known} checks with a limit {'is' if missed == 1 else 'are'} missed"
    elif unknown:
        text = f"{known} checks are met"
    else:
        text = f"All {known} checks with a limit are met"
    return f"{text}; {unknown} cannot be made." if unknown else f"{text}."


def reasons(report: PackagingReport) -> str:
    """Where there are no numbers, and why."""
    told = [*zip(report.envelope.cases, report.envelope.reasons, strict=True)]
    if len(told) > 1 and all(reason for _, reason in told):
        return f"The car stands in none of the load cases; {told[0][0]}, {told[0][1]}."
    lines = [f"“{case}”: does not stand, {reason}." for case, reason in told if reason]
    if isnan(report.envelope.jounce[0]):
        lines.append("The car of the run does not stand, so the run tells nothing of its room.")
    elif report.in_run is None and report.vehicle.packaging.points:
        lines.append("The model of this run has no pitch: clearance is told at rest only.")
    return "\n".join(lines)


def yield_words(stack: TrimStack, units: UnitChoice) -> str:
    """Share of the cars within the allowed height, and how sure that is."""
    low, high = stack.within_limits()
    draws = len(stack.draws)
    lost = draws - len(stack.standing)
    text = (
        f"{_share(stack.within)} % of {draws:,} drawn cars stand within "
        f"±{with_unit(stack.tolerances.height_limit, 'travel', units)} at all four corners "
        f"(95 % confidence: {_share(low)} to {_share(high)} %)."
    )
    if lost:
        text += f" {lost:,} of them found no balance and count as outside."
    return text


def _share(value: float) -> str:
    return number(value, "share", {"share": "%"})
