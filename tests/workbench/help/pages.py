"""Reads the built pages as a browser would."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit

__all__ = ["Page", "Pages"]

#: Elements and attributes by which a page loads something.
_LOADS = {"script": "src", "link": "href", "img": "src", "iframe": "src", "source": "src"}


@dataclass
class Page(HTMLParser):
    """One page.

    Attributes:
        anchors: ids of its elements.
        links: where its links lead, as written.
        loads: what it loads, as written.
        text: all its words.
    """

    anchors: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    loads: list[str] = field(default_factory=list)
    text: str = ""

    def __post_init__(self) -> None:
        super().__init__()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if "id" in given:
            self.anchors.append(given["id"])
        if tag == "a" and "href" in given:
            self.links.append(given["href"])
        wanted = _LOADS.get(tag)
        if wanted in given and given.get("rel") not in ("index", "search", "next", "prev"):
            self.loads.append(given[wanted])

    def handle_data(self, data: str) -> None:
        self.text += data


class Pages:
    """All pages of a site by their place in it."""

    def __init__(self, site: Path) -> None:
        self.site = site
        self.by_place: dict[str, Page] = {}
        for file in sorted(site.rglob("*.html")):
            page = Page()
            page.feed(file.read_text(encoding="utf-8"))
            self.by_place[file.relative_to(site).as_posix()] = page

    def has(self, place: str) -> bool:
        """Whether a place (page and anchor) is there."""
        page, _, anchor = place.partition("#")
        return page in self.by_place and (not anchor or anchor in self.by_place[page].anchors)

    def led_to(self) -> Iterator[tuple[str, str]]:
        """Page and place that it leads to, of every link inside the site."""
        for place, page in self.by_place.items():
            for link in page.links:
                parts = urlsplit(link)
                if not parts.scheme:
                    there = normpath(join(dirname(place), parts.path)) if parts.path else place
                    yield place, f"{there}#{unquote(parts.fragment)}" if parts.fragment else there
