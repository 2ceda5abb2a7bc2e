"""The tolerance stack as rows to be read: each tolerance, then what they do together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from models.judge.figure import Figure
from models.judge.trim_tolerance import OUTPUTS, GroupRow, TrimStack

__all__ = ["COLUMNS", "StackRow", "left_out", "method", "stack_rows"]

#: What is told of each row, numbers in :data:`OUTPUTS`: front height, rear height, pitch.
COLUMNS = tuple(
    number for number, one in enumerate(OUTPUTS) if one.key in ("height_front", "height_rear", "pitch")
)

_EFFECT = (
    "√Σ (K⁻¹ ∂F/∂p · tolerance)² over its parts, with the forces F and the stiffness K where the car stands"
)
_SHARE = "Σ effect² of its parts / Σ effect² of all parts."
_TOGETHER = (
    (
        "nominal",
        "Nominal car",
        "",
        "Where the car without errors stands in this load case, from design trim.",
    ),
    ("rss", "All by chance, RSS", "±", "√Σ effect², by the slopes."),
    ("worst", "All the wrong way", "±", "Σ |effect|, by the slopes: the worst case."),
    ("linear", "Deviation σ, linear", "", ""),
    (
        "drawn",
        "Deviation σ, drawn",
        "",
        "Of the drawn cars, each solved in full: √(Σ (x - mean)² / (N - 1)).",
    ),
    ("p2", "2.5 % of cars below", "", "2.5 % of the drawn cars stand lower, or nose higher."),
    (
        "p50",
        "Median of the cars",
        "",
        "Half of the drawn cars stand lower, or nose higher; off 0 by curvature.",
    ),
    ("p97", "97.5 % of cars below", "", "97.5 % of the drawn cars stand lower, or nose higher."),
)


@dataclass(frozen=True, slots=True)
class StackRow:
    """One line of the stack.

    Attributes:
        key: group of tolerances, or what is told of all together.
        label: name for a reader.
        tolerance: of the group; None for all together.
        change: front height, rear height and pitch.
        share: of the variance of each; empty for all together.
        detail: the group with its effect on all outputs; None for all together.
    """

    key: str
    label: str
    tolerance: Figure | None
    change: tuple[Figure, ...]
    share: tuple[Figure, ...] = ()
    detail: GroupRow | None = None


def stack_rows(stack: TrimStack) -> tuple[StackRow, ...]:
    """Groups of tolerances in their order, then all of them together."""
    return (*map(_group, stack.groups), *_together(stack))


def method(stack: TrimStack) -> str:
    """How the numbers come about, in words."""
    parts = (
        "the tolerance is three standard deviations"
        if stack.tolerances.distribution == "normal"
        else "every value within the tolerance is alike"
    )
    return (
        "Effects: slopes of the equilibrium times each tolerance, left and right added by chance. "
        f"Cars: {stack.tolerances.distribution} errors ({parts}), each part on its own, and the equilibrium "
        "of each car solved in full, stops and lever angles included."
    )


def left_out() -> str:
    """What the numbers do not tell, in words."""
    return (
        "Left out: batches whose parts are all off the same way, friction that holds a car off its height, "
        "settling of springs and bushes, places of joints, and levelling, which would take the error out. "
        "A torsion bar as corner spring counts as a spring."
    )


def _group(row: GroupRow) -> StackRow:
    change, share = [], []
    for column in COLUMNS:
        one = OUTPUTS[column]
        change.append(
            Figure(
                f"{row.group}_{one.key}",
                f"{row.label}: {one.label} ±",
                row.effect[column],
                one.kind,
                f"{_EFFECT}.",
                "lower",
            )
        )
        share.append(
            Figure(
                f"{row.group}_{one.key}_share",
                f"{row.label}: share in the variance of {one.label.lower()}",
                row.share[column],
                "share",
                _SHARE,
            )
        )
    tolerance = Figure(row.group, f"{row.label} ±", row.tolerance, row.kind, "As entered.")
    return StackRow(row.group, row.label, tolerance, tuple(change), tuple(share), row)


def _together(stack: TrimStack) -> Iterator[StackRow]:
    normal = stack.tolerances.distribution == "normal"
    values = {
        "nominal": stack.rest,
        "rss": stack.rss,
        "worst": stack.worst,
        "linear": stack.linear_deviation,
        "drawn": stack.deviation,
        "p2": stack.percentile(2.5),
        "p50": stack.percentile(50.0),
        "p97": stack.percentile(97.5),
    }
    for key, label, sign, meaning in _TOGETHER:
        words = meaning or f"RSS / {'3, of normal errors' if normal else '√3, of uniform errors'}."
        change = tuple(
            Figure(
                f"stack_{key}_{OUTPUTS[column].key}",
                f"{label}: {OUTPUTS[column].label} {sign}".rstrip(),
                float(values[key][column]),
                OUTPUTS[column].kind,
                words,
            )
            for column in COLUMNS
        )
        yield StackRow(key, label, None, change)
