"""A document as PDF, set in type by a fixed page of ours; text is data and never read as markup."""

from __future__ import annotations

import json
import os
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count, groupby
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import matplotlib as mpl
import typst
from matplotlib.ft2font import FT2Font

from models.project.write_file import write_file
from models.report.document import (
    Block,
    Cautions,
    ChartFigure,
    Document,
    Facts,
    Note,
    Paragraph,
    Section,
    Subheading,
    Table,
)
from models.report.figures import Drawings
from models.report.layout import side_by_side, widths
from models.report.watch import Watch

__all__ = ["page_pictures", "pdf_bytes", "to_pdf"]

_PAGE = Path(__file__).parent / "review.typ"
_PAPERS = {"a4": "a4", "letter": "us-letter"}
# Words of more letters may be broken anywhere, so that no name leaves its column.
_LONG_WORD = re.compile(r"\S{22,}")
_FONTS = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
# Letters of a fact that fit in half the width beside its name.
_SHORT_FACT = 26
# Rows up to which a table stays on one page.
_WHOLE_TABLE = 10
# Rows under a title up to which they stay together, and how many at the ends of more do.
_WHOLE_GROUP, _ENDS = 6, 3


def to_pdf(
    document: Document,
    path: str | os.PathLike[str],
    watch: Watch | None = None,
    drawings: Drawings | None = None,
) -> None:
    """Write the document as PDF, whole or not at all.

    Args:
        document: to be written.
        path: of the file.
        watch: told the progress, and asked whether to go on.
        drawings: of the document, where other files are made of it too.

    Raises:
        InputError: the file cannot be written.
        Stopped: the watch said so.
    """
    write_file(path, pdf_bytes(document, watch, drawings))


def pdf_bytes(document: Document, watch: Watch | None = None, drawings: Drawings | None = None) -> bytes:
    """Content of the file; the same document gives the same bytes.

    Fonts are those that come with typesetter and plotter.  Only for letters that these lack, such as those of
    Chinese, fonts of the system are looked at too.
    """
    with _typesetter(drawings or Drawings(document), watch) as compiler:
        made = compiler.compile(format="pdf")
    assert isinstance(made, bytes)
    return made


def page_pictures(
    document: Document, sharpness: float, watch: Watch | None = None, drawings: Drawings | None = None
) -> tuple[tuple[bytes, ...], tuple[int, ...]]:
    """The pages of the PDF as PNG pictures, and the page on which each section begins, counted from 1.

    Args:
        document: to be shown.
        sharpness: of the pictures, dots per inch.
        watch: told the progress, and asked whether to go on.
        drawings: of the document, where files are made of it too.
    """
    with _typesetter(drawings or Drawings(document), watch) as compiler:
        made = compiler.compile(format="png", ppi=sharpness)
        places = json.loads(compiler.query("<place>", field="value"))
    assert made is not None
    return (made,) if isinstance(made, bytes) else tuple(made), tuple(places)


@contextmanager
def _typesetter(drawings: Drawings, watch: Watch | None) -> Iterator[typst.Compiler]:
    """The page with its data; for as long as its folder is there."""
    text = json.dumps(_data(drawings, Watch() if watch is None else watch), ensure_ascii=False)
    with TemporaryDirectory() as folder:
        source = Path(mpl.get_data_path()) / "fonts" / "ttf"
        for name in _FONTS:
            shutil.copy(source / name, folder)
        page = shutil.copy(_PAGE, folder)
        fonts = typst.Fonts(include_system_fonts=not _covered(text, source / _FONTS[0]), font_paths=[folder])
        yield typst.Compiler(page, root=folder, font_paths=fonts, sys_inputs={"data": text})


def _covered(text: str, font: Path) -> bool:
    known = FT2Font(str(font)).get_charmap()
    return all(ord(letter) in known or not letter.isprintable() for letter in set(text))


def _data(drawings: Drawings, watch: Watch) -> dict[str, Any]:
    document, numbers = drawings.document, count(1)
    sections = []
    for place, section in enumerate(document.sections):
        watch.tell(place / len(document.sections), section.title)
        blocks = list(_blocks(drawings, section, numbers))
        sections.append({"title": _loose(section.title), "blocks": blocks})
    author = next((fact.text for fact in document.cover if fact.name == "Author"), "")
    return {
        "kind": document.kind,
        "name": f"{document.kind}: {document.title}, {document.subtitle}",
        "author": author,
        "title": _loose(document.title),
        "subtitle": _loose(document.subtitle),
        "running": [_loose(text) for text in document.running],
        "cover": [{"name": fact.name, "text": _loose(fact.text)} for fact in document.cover],
        "summary": [_loose(sentence) for sentence in document.summary],
        "program": document.program,
        "inputs": document.inputs,
        "paper": _PAPERS[document.paper],
        "sections": sections,
    }


def _blocks(drawings: Drawings, section: Section, numbers: Iterator[int]) -> Iterator[dict[str, Any]]:
    laid_out = list(side_by_side(section.blocks))
    for block, following in zip(laid_out, [*laid_out[1:], None], strict=True):
        if isinstance(block, tuple):
            yield {"type": "figures", "figures": [_figure(drawings, one, next(numbers)) for one in block]}
        elif isinstance(block, ChartFigure):
            yield {"type": "figure", **_figure(drawings, block, next(numbers))}
        else:
            leads = isinstance(block, Paragraph) and isinstance(following, tuple | ChartFigure | Table)
            yield {**_block(block), "leads": leads}


def _block(block: Block) -> dict[str, Any]:
    match block:
        case Paragraph(text):
            return {"type": "paragraph", "text": _loose(text)}
        case Note(text):
            return {"type": "note", "text": _loose(text)}
        case Subheading(text):
            return {"type": "subheading", "text": _loose(text)}
        case Cautions(sentences):
            return {"type": "cautions", "sentences": [_loose(one) for one in sentences]}
        case Facts(title, facts):
            shown = [
                {
                    "name": _loose(fact.name),
                    "text": _loose(fact.text),
                    "long": len(fact.text) > _SHORT_FACT,
                }
                for fact in facts
            ]
            return {"type": "facts", "title": _loose(title), "facts": shown}
        case Table():
            return _table(block)
    raise TypeError(f"{type(block).__name__} is set elsewhere")


def _table(table: Table) -> dict[str, Any]:
    return {
        "type": "table",
        "title": _loose(table.title),
        "widths": widths(table),
        "whole": len(table.rows) <= _WHOLE_TABLE,
        "together": _together(table),
        "columns": [{"head": _head(column.head), "number": column.number} for column in table.columns],
        "rows": [
            [{"text": _loose(cell.text), "tone": cell.tone} for cell in row.cells] for row in table.rows
        ],
    }


def _together(table: Table) -> list[int]:
    """For each row how many from it on stay on one page: short groups, and the ends of others; else 0."""
    kept: list[int] = []
    for is_title, rows in groupby(table.rows, lambda row: row.is_title and len(table.columns) > 1):
        count = len(list(rows))
        if is_title:
            kept += [0] * count
        elif count <= _WHOLE_GROUP:
            kept += [count, *[0] * (count - 1)]
        else:
            end = [_ENDS, *[0] * (_ENDS - 1)]
            kept += [*end, *[1] * (count - 2 * _ENDS), *end]
    return kept


def _figure(drawings: Drawings, figure: ChartFigure, number: int) -> dict[str, str]:
    caption = _loose(f"Figure {number}. {figure.caption}")
    return {"svg": drawings.svg(figure, number), "caption": caption}


def _head(text: str) -> str:
    """Head of a column, whose unit is not broken."""
    return _loose(text).replace("/", "/\u2060")


def _loose(text: str) -> str:
    """The text with places at which long words may be broken."""
    return _LONG_WORD.sub(lambda word: "\u200b".join(word[0]), text)
