"""A report as plain data: sections of paragraphs, tables and charts.  Set in type elsewhere, as HTML or PDF.

All text is for a reader, in the units of the document; a chart keeps its numbers in SI and is drawn in them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from models.charts import Chart
from models.exports.names import unique_stems
from models.project.review import Paper, SectionKey
from models.units import UnitChoice

__all__ = [
    "Block",
    "Cautions",
    "Cell",
    "ChartFigure",
    "Column",
    "Document",
    "Fact",
    "Facts",
    "Note",
    "Paragraph",
    "Row",
    "Section",
    "Subheading",
    "Table",
    "Tone",
]

Tone = Literal["", "good", "bad", "strong"]


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text; line breaks of the user are kept."""

    text: str


@dataclass(frozen=True, slots=True)
class Note:
    """An explanation in small type."""

    text: str


@dataclass(frozen=True, slots=True)
class Cautions:
    """Sentences that a reader must not miss."""

    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Subheading:
    """Title inside a section."""

    text: str


@dataclass(frozen=True, slots=True)
class Fact:
    """A name and what it is."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and values under a title, in two columns where there are many."""

    title: str
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """Head of a column.

    Attributes:
        head: what is in it, with its unit.
        number: whether its cells are numbers, which stand to the right and are not broken.
    """

    head: str
    number: bool = False


@dataclass(frozen=True, slots=True)
class Cell:
    """Text of one cell; a verdict has a tone, which words say too, for a print in grey."""

    text: str
    tone: Tone = ""


@dataclass(frozen=True, slots=True)
class Row:
    """Cells, one for each column; or a single one, which is the title of the rows below it."""

    cells: tuple[Cell, ...]

    @property
    def is_title(self) -> bool:
        """Whether it stands over the rows below it."""
        return len(self.cells) == 1


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose head is repeated on each page; a table of one column has no title rows."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class ChartFigure:
    """A chart with its caption; two small ones in a row share the width.

    Attributes:
        chart, caption, small: what is shown, and how.
        name: among the figures of its section, where files are made of them; by default the key of the chart.
    """

    chart: Chart
    caption: str
    small: bool = False
    name: str = ""


Block = Paragraph | Note | Cautions | Subheading | Facts | Table | ChartFigure


@dataclass(frozen=True, slots=True)
class Section:
    """A numbered part of the document.

    Attributes:
        key, title: which it is.
        blocks: what stands in it.
        problem: why it could not be computed, which its blocks say too; empty where it could.
    """

    key: SectionKey
    title: str
    blocks: tuple[Block, ...]
    problem: str = ""

    @property
    def figures(self) -> tuple[ChartFigure, ...]:
        """Its figures, in their order."""
        return tuple(block for block in self.blocks if isinstance(block, ChartFigure))


@dataclass(frozen=True, slots=True)
class Document:
    """A whole report.

    Attributes:
        kind: what it is: "Design review".
        title: of the cover.
        subtitle: below it.
        running: what stands at the head of each page, left and right.
        cover: facts on the cover.
        summary: sentences on the cover.
        sections: in their order.
        program: name and version of the program.
        inputs: SHA-256 of all that the document was made of.
        paper, units: how it is printed.
    """

    kind: str
    title: str
    subtitle: str
    running: tuple[str, str]
    cover: tuple[Fact, ...]
    summary: tuple[str, ...]
    sections: tuple[Section, ...]
    program: str
    inputs: str
    paper: Paper
    units: UnitChoice

    def charts(self) -> list[tuple[str, Chart]]:
        """Charts in their order, each with a name for files: "run-time-pitch".

        Names are made of section and chart alone, so a figure keeps its name whatever else comes or goes.
        """
        figures = [(section.key, figure) for section in self.sections for figure in section.figures]
        names = unique_stems(f"{key} {figure.name or figure.chart.key}" for key, figure in figures)
        return [(name, figure.chart) for name, (_, figure) in zip(names, figures, strict=True)]
