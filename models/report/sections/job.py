"""What the car is to do, and how far it does."""

from __future__ import annotations

from collections.abc import Iterator

from models.figure_text import unit_text
from models.judge.scorecard import Row as CardRow
from models.judge.scorecard_text import label_of, margin_words, target_words, value_words, verdict_words
from models.report.bench import Bench
from models.report.document import Block, Note, Paragraph, Row, Tone
from models.report.words import row, run_words, table

__all__ = ["job", "target_cells", "verdict_sentence"]


def job(bench: Bench) -> Iterator[Block]:
    """Notes of the user, the run, and the targets with their margins."""
    project = bench.project
    if project.note.strip():
        yield Paragraph(project.note.strip())
    for role, car in zip(("Candidate", "Baseline"), bench.cars, strict=False):
        note = f": {car.variant.note.strip()}" if car.variant.note.strip() else "."
        yield Paragraph(f"{role}, “{car.variant.name}”{note}")
    if bench.baseline is None:
        yield Paragraph("The candidate is its own baseline: nothing is compared.")
    yield Paragraph(run_words(project.run, project.load.name, bench.units))
    rows = targets(bench)
    if not rows:
        yield Note("The project sets no targets; the scorecard shows all figures.")
        return
    yield table(
        "Targets",
        ("Figure", "Unit"),
        ("Target", "Candidate", "Margin", "", *bench.heads[1:2]),
        (_target_row(bench, one) for one in rows),
    )
    yield Paragraph(verdict_sentence(bench))


def targets(bench: Bench) -> list[CardRow]:
    """Rows of the scorecard that have a target of the user."""
    return [row for row in bench.card.rows if row.target is not None and row.of_project]


def verdict_sentence(bench: Bench) -> str:
    """How many targets the candidate meets, and which ones it misses."""
    rows = targets(bench)
    verdicts = [row.cells[0].verdict for row in rows]
    met = sum(verdict is not None and verdict.passed for verdict in verdicts)
    open_ = sum(verdict is None for verdict in verdicts)
    if not rows:
        return "The project sets no targets."
    text = f"The candidate meets {met} of {len(rows)} targets"
    missed = [
        label_of(row, bench.units)
        for row, verdict in zip(rows, verdicts, strict=True)
        if verdict is not None and not verdict.passed
    ]
    text += f" and misses: {'; '.join(missed)}" if missed else ""
    return f"{text}; {open_} cannot be judged." if open_ else f"{text}."


def target_cells(one: CardRow, bench: Bench) -> list[str | tuple[str, Tone]]:
    """Target, value, margin and verdict of the candidate."""
    cell = one.cells[0]
    verdict = verdict_words(cell)
    tone: Tone = "bad" if verdict == "miss" else "good" if verdict else ""
    return [
        target_words(one, bench.units),
        value_words(one, cell, bench.units),
        _margin(one, bench),
        (verdict, tone),
    ]


def _margin(one: CardRow, bench: Bench) -> str:
    """Margin without its unit, which stands in its own column."""
    text, unit = margin_words(one, one.cells[0], bench.units), unit_text(one.figure.kind, bench.units)
    return text.replace(f" {unit}", "", 1) if unit and unit != "%" else text


def _target_row(bench: Bench, one: CardRow) -> Row:
    others = [value_words(one, cell, bench.units) for cell in one.cells[1:]]
    label = f"{label_of(one, bench.units)}{f' ({one.problem})' if one.problem else ''}"
    return row(label, unit_text(one.figure.kind, bench.units), *target_cells(one, bench), *others)
