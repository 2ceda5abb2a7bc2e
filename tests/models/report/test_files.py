"""The files made of a review: the same to the letter, searchable, whole, and deaf to markup in names."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from pypdf import PdfReader

from models.errors import InputError
from models.fields import replaced
from models.project import Project, ReviewOptions, new_project
from models.project.variant import Variant
from models.report import Document, html_text, pdf_bytes, review, to_html, to_pdf

# Markup of both languages, letters that run to the left, signs beyond the fonts, and a word without end.
HOSTILE = '#eval("1+1") $x^2$ *b* @a <b>&amp; \\ [c]'
SCRIPT = "</style><script>alert(1)</script>{{x}}"
LETTERS = "\u0645\u0631\u062d\u0628\u0627 \u05e9\u05dc\u05d5\u05dd \u202exyz\u202c \U0001f600 漢字"
ENDLESS = "W" * 80


@pytest.fixture(scope="module")
def printed(saloon: Project, quick: ReviewOptions) -> Document:
    return review(saloon, options=replaced(quick, ("sections",), ("job", "rates", "run", "trim", "speed")))


@pytest.fixture(scope="module")
def pdf(printed: Document) -> PdfReader:
    return PdfReader(io.BytesIO(pdf_bytes(printed)))


@pytest.fixture(scope="module")
def pages(pdf: PdfReader) -> list[str]:
    return [page.extract_text() for page in pdf.pages]


@pytest.fixture(scope="module")
def text(pages: list[str]) -> str:
    return "\n".join(pages)


@pytest.fixture(scope="module")
def html(whole: Document) -> _Page:
    return parsed(html_text(whole))


@pytest.fixture(scope="module")
def hostile_pdf(hostile: Document) -> PdfReader:
    return PdfReader(io.BytesIO(pdf_bytes(hostile)))


@pytest.fixture(scope="module")
def hostile(quick: ReviewOptions) -> Document:
    project = new_project(Variant(name=ENDLESS, note=LETTERS))
    project = replaced(replaced(project, ("name",), HOSTILE), ("note",), f"{SCRIPT}\n#include x")
    options = replaced(replaced(quick, ("author",), SCRIPT), ("revision",), HOSTILE)
    return review(project, options=replaced(options, ("sections",), ("job", "run")))


def test_the_same_inputs_give_the_same_files(saloon: Project, quick: ReviewOptions) -> None:
    options = replaced(quick, ("sections",), ("job", "rates"))
    one, other = (review(saloon, options=options) for _ in range(2))
    assert pdf_bytes(one) == pdf_bytes(other)
    assert html_text(one) == html_text(other)


def test_all_words_of_the_document_are_found_in_the_pdf(printed: Document, text: str) -> None:
    flat = re.sub(r"\s+", "", text)
    for section in printed.sections:
        assert re.sub(r"\s+", "", section.title) in flat
    for words in ("Heave acceleration at CG", "Inputs, SHA-256", printed.inputs, "Dynamic tyre load front"):
        assert re.sub(r"\s+", "", words) in flat
    assert "joinedtorsionbars" in re.sub(r"\s+", "", text)


def test_text_of_figures_is_text(text: str) -> None:
    assert "Frequency (Hz)" in text
    assert "Time (s)" in text


def test_each_page_says_which_of_how_many(pages: list[str]) -> None:
    for number, page in enumerate(pages, 1):
        assert f"{number} of {len(pages)}" in page


def test_each_page_but_the_cover_is_headed(pages: list[str]) -> None:
    for page in pages[1:]:
        assert page.startswith("Large saloon · joined torsion bars")
        assert "2026-11-25" in page


def test_all_fonts_are_in_the_file(pdf: PdfReader) -> None:
    fonts = {}
    for page in pdf.pages:
        resources = page["/Resources"].get_object()
        for font in resources.get("/Font", {}).values():
            inside = font.get_object()["/DescendantFonts"][0].get_object()
            fonts[inside["/BaseFont"]] = inside["/FontDescriptor"].get_object()
    assert fonts
    assert all({"/FontFile2", "/FontFile3"} & set(descriptor) for descriptor in fonts.values())


def test_nothing_in_the_pdf_is_a_date_or_runs(pdf: PdfReader) -> None:
    assert "/CreationDate" not in (pdf.metadata or {})
    assert "/OpenAction" not in pdf.trailer["/Root"]
    assert "/JavaScript" not in str(pdf.trailer["/Root"])


@pytest.mark.parametrize(("paper", "size"), [("a4", (595.3, 841.9)), ("letter", (612.0, 792.0))])
def test_pages_have_the_size_asked_for(
    saloon: Project, quick: ReviewOptions, paper: str, size: tuple[float, float]
) -> None:
    options = replaced(replaced(quick, ("paper",), paper), ("sections",), ("cautions",))
    page = PdfReader(io.BytesIO(pdf_bytes(review(saloon, options=options)))).pages[0]
    # A tenth of a point: the paper is given in millimetres or inches.
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(size, abs=0.1)


def test_names_are_printed_and_never_read_as_markup(hostile_pdf: PdfReader) -> None:
    found = re.sub(r"\s+", "", "".join(page.extract_text() for page in hostile_pdf.pages))
    # Words that are long get places where they may be broken.
    found = found.replace("\u200b", "")
    for words in (HOSTILE, SCRIPT, "#include x"):
        assert re.sub(r"\s+", "", words) in found, words
    assert ENDLESS in found
    assert "\U0001f600" in found


def test_no_long_name_leaves_the_page(hostile_pdf: PdfReader) -> None:
    places: list[float] = []

    def visit(words: str, _matrix: object, at: list[float], _font: object, size: float) -> None:
        if words.strip():
            places.append(at[4])

    for page in hostile_pdf.pages[:2]:
        page.extract_text(visitor_text=visit)
        assert max(places) < float(page.mediabox.width)


class _Page(HTMLParser):
    """Collects tags, attributes and text of a page."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in ("meta", "br", "col"):
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def parsed(text: str) -> _Page:
    page = _Page()
    page.feed(text)
    page.close()
    assert not page.open
    return page


def test_the_page_is_whole_and_needs_nothing_from_outside(whole: Document, html: _Page) -> None:
    tags = {tag for tag, _ in html.tags}
    assert not tags & {"script", "iframe", "object", "embed", "link", "img", "form"}
    for _, attributes in html.tags:
        assert not [name for name in attributes if name.startswith("on")]
        for name in ("href", "src", "xlink:href"):
            assert (attributes.get(name) or "#").startswith("#")
    assert sum(tag == "svg" for tag, _ in html.tags) == len(list(whole.charts()))


def test_names_in_the_page_are_its_own(html: _Page) -> None:
    names = [attributes["id"] for _, attributes in html.tags if "id" in attributes]
    assert len(names) == len(set(names))
    used = {
        (attributes.get("href") or attributes.get("xlink:href") or "#")[1:] for _, attributes in html.tags
    }
    assert used - {""} <= set(names)


def test_figures_and_sections_are_numbered_from_one(whole: Document, html: _Page) -> None:
    text = "".join(html.text)
    figures = [int(number) for number in re.findall(r"Figure (\d+)\. ", text)]
    assert figures == list(range(1, len(list(whole.charts())) + 1))
    for number, section in enumerate(whole.sections, 1):
        assert f"\n{number} {section.title}\n" in text


def test_names_in_the_page_are_never_tags(hostile: Document) -> None:
    page = parsed(html_text(hostile))
    assert not {"script", "b"} & {tag for tag, _ in page.tags}
    flat = "".join(page.text)
    for words in (HOSTILE, SCRIPT, LETTERS, ENDLESS):
        assert words in flat


def test_a_caption_is_never_a_tag(hostile: Document) -> None:
    section = next(one for one in hostile.sections if one.figures)
    figure = replace(section.figures[0], caption=HOSTILE)
    page = parsed(html_text(replace(hostile, sections=(replace(section, blocks=(figure,)),))))
    assert "b" not in {tag for tag, _ in page.tags}
    assert HOSTILE in "".join(page.text)


def test_files_appear_whole_or_not_at_all(hostile: Document, tmp_path: Path) -> None:
    for name, write in (("a.pdf", to_pdf), ("a.html", to_html)):
        with pytest.raises(InputError, match="cannot be written: no such file"):
            write(hostile, tmp_path / "missing" / name)
        path = tmp_path / name
        write(hostile, path)
        assert path.read_bytes()[:4] in (b"%PDF", b"<!DO")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.html", "a.pdf"]
