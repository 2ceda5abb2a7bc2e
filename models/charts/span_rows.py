"""Spans arranged in rows: one row and one text per label."""

from __future__ import annotations

from dataclasses import dataclass

from models.charts.chart import Role, Span

__all__ = ["SpanRow", "span_rows"]


@dataclass(frozen=True, slots=True)
class SpanRow:
    """One label and its spans, SI, of each role."""

    label: str
    spans: tuple[tuple[Role, float, float], ...]


def span_rows(spans: tuple[Span, ...]) -> tuple[SpanRow, ...]:
    """Rows from the top down, in the order in which the labels occur."""
    rows: dict[str, list[tuple[Role, float, float]]] = {}
    for span in spans:
        rows.setdefault(span.label, []).append((span.role, span.start, span.end))
    return tuple(SpanRow(label, tuple(parts)) for label, parts in rows.items())
