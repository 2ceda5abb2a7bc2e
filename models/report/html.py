"""A document as one HTML file that needs nothing beside itself: no script, font or picture from outside."""

from __future__ import annotations

import os
from collections.abc import Iterator
from html import escape
from itertools import count
from pathlib import Path

from models.project.write_file import write_file
from models.report.document import (
    Block,
    Cautions,
    Cell,
    ChartFigure,
    Document,
    Facts,
    Note,
    Paragraph,
    Row,
    Section,
    Subheading,
    Table,
)
from models.report.figures import Drawings
from models.report.layout import side_by_side, widths
from models.report.watch import Watch

__all__ = ["html_text", "to_html"]

_STYLE = (Path(__file__).parent / "review.css").read_text(encoding="utf-8")
_PAGES = {"a4": "A4", "letter": "letter"}


def to_html(
    document: Document,
    path: str | os.PathLike[str],
    watch: Watch | None = None,
    drawings: Drawings | None = None,
) -> None:
    """Write the document as HTML, whole or not at all.

    Args:
        document: to be written.
        path: of the file.
        watch: told the progress, and asked whether to go on.
        drawings: of the document, where other files are made of it too.

    Raises:
        InputError: the file cannot be written.
        Stopped: the watch said so.
    """
    write_file(path, html_text(document, watch, drawings).encode())


def html_text(document: Document, watch: Watch | None = None, drawings: Drawings | None = None) -> str:
    """Content of the file; the same document gives the same text."""
    return "".join(_page(drawings or Drawings(document), Watch() if watch is None else watch))


def _page(drawings: Drawings, watch: Watch) -> Iterator[str]:
    document = drawings.document
    title = escape(f"{document.kind}: {document.title}, {document.subtitle}")
    style = f"@page {{ size: {_PAGES[document.paper]}; margin: 20mm 22mm; }}\n{_STYLE}"
    yield '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
    yield (
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
    )
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
    yield f"<title>{title}</title>\n<style>\n{style}</style>\n</head>\n<body>\n"
    yield from _cover(document)
    numbers = count(1)
    for place, section in enumerate(document.sections, 1):
        watch.tell((place - 1) / len(document.sections), section.title)
        yield from _section(drawings, section, place, numbers)
    yield f"<footer>{escape(document.program)} · inputs {document.inputs}</footer>\n</body>\n</html>\n"


def _cover(document: Document) -> Iterator[str]:
    yield f'<header>\n<p class="kind">{escape(document.kind)}</p>\n<h1>{escape(document.title)}</h1>\n'
    yield f'<p class="subtitle">{escape(document.subtitle)}</p>\n<dl>\n'
    for fact in document.cover:
        yield f"<dt>{escape(fact.name)}</dt><dd>{_lines(fact.text)}</dd>\n"
    yield f'<dt>Inputs, SHA-256</dt><dd class="hash">{document.inputs}</dd>\n</dl>\n'
    yield "".join(f"<p>{escape(sentence)}</p>\n" for sentence in document.summary[:1])
    yield f'<p class="note">{escape(" ".join(document.summary[1:]))}</p>\n<nav>\n<h2>Contents</h2>\n<ol>\n'
    for number, section in enumerate(document.sections, 1):
        yield f'<li><a href="#section-{number}">{escape(section.title)}</a></li>\n'
    yield "</ol>\n</nav>\n</header>\n"


def _section(drawings: Drawings, section: Section, place: int, numbers: Iterator[int]) -> Iterator[str]:
    yield f'<section id="section-{place}">\n<h2>{place} {escape(section.title)}</h2>\n'
    for block in side_by_side(section.blocks):
        if isinstance(block, tuple):
            yield '<div class="pair">\n'
            yield from (_figure(drawings, one, next(numbers)) for one in block)
            yield "</div>\n"
        elif isinstance(block, ChartFigure):
            yield _figure(drawings, block, next(numbers))
        else:
            yield from _block(block)
    yield "</section>\n"


def _block(block: Block) -> Iterator[str]:
    match block:
        case Paragraph(text):
            yield f"<p>{_lines(text)}</p>\n"
        case Note(text):
            yield f'<p class="note">{_lines(text)}</p>\n'
        case Subheading(text):
            yield f"<h3>{escape(text)}</h3>\n"
        case Cautions(sentences):
            yield f'<ul class="cautions">{"".join(f"<li>{_lines(one)}</li>" for one in sentences)}</ul>\n'
        case Facts(title, facts):
            yield (f"<h3>{escape(title)}</h3>\n" if title else "") + '<dl class="facts">\n'
            for fact in facts:
                yield f"<div><dt>{escape(fact.name)}</dt><dd>{_lines(fact.text)}</dd></div>\n"
            yield "</dl>\n"
        case Table():
            yield from _table(block)


def _table(table: Table) -> Iterator[str]:
    yield "<table>\n" + (f"<caption>{escape(table.title)}</caption>\n" if table.title else "") + "<colgroup>"
    yield "".join(f'<col style="width:{100 * width:.2f}%">' for width in widths(table)) + "</colgroup>\n"
    heads = (f"<th{_side(column.number)}>{escape(column.head)}</th>" for column in table.columns)
    yield f"<thead><tr>{''.join(heads)}</tr></thead>\n<tbody>\n"
    for row in table.rows:
        yield _row(table, row)
    yield "</tbody>\n</table>\n"


def _row(table: Table, row: Row) -> str:
    if row.is_title and len(table.columns) > 1:
        return f'<tr class="title"><th colspan="{len(table.columns)}">{escape(row.cells[0].text)}</th></tr>\n'
    cells = zip(table.columns, row.cells, strict=True)
    return f"<tr>{''.join(_cell(column.number, cell) for column, cell in cells)}</tr>\n"


def _cell(number: bool, cell: Cell) -> str:
    names = " ".join(name for name in ("number" if number else "", cell.tone) if name)
    return f"<td{f' class={names!r}' if names else ''}>{_lines(cell.text)}</td>"


def _side(number: bool) -> str:
    return " class='number'" if number else ""


def _figure(drawings: Drawings, figure: ChartFigure, number: int) -> str:
    caption = escape(f"Figure {number}. {figure.caption}")
    return f"<figure>{drawings.svg(figure, number)}<figcaption>{caption}</figcaption></figure>\n"


def _lines(text: str) -> str:
    return escape(text).replace("\n", "<br>")
