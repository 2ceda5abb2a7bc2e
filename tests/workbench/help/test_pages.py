"""The built pages: whole, at one with the program, and readable without a network."""

from __future__ import annotations

import re
from importlib.util import find_spec
from pathlib import Path

import pytest

from tests.workbench.help.pages import Pages
from workbench.help.anchors import CONTENTS, GLOSSARY, THEORY, TUTORIAL, VERIFICATION, page_place
from workbench.window.actions import ACTIONS

_SOURCES = Path(__file__).parents[3] / "workbench" / "help" / "source"
_COMMENT = re.compile(r"/\*.*?\*/|(?:^|\s)//.*?$", re.DOTALL | re.MULTILINE)
_NAME_SPACE = re.compile(r"http://www\.w3\.org/[^\s\"')]*")
_FETCHED = re.compile(r"https?:|url\(\s*['\"]?//|@import|src=['\"]//")


def test_every_link_leads_to_a_place_that_is_there(pages: Pages) -> None:
    wrong = [(page, place) for page, place in pages.led_to() if not pages.has(place)]
    assert wrong == []


def test_no_anchor_stands_twice_on_a_page(pages: Pages) -> None:
    for place, page in pages.by_place.items():
        named = [anchor for anchor in page.anchors if not anchor.startswith("id")]
        assert len(named) == len(set(named)), place


def test_no_page_loads_anything_from_elsewhere(pages: Pages) -> None:
    for place, page in pages.by_place.items():
        for load in page.loads:
            path = load.partition("?")[0]
            assert not re.match(r"[a-z]+:|//", path), (place, load)
            assert (pages.site / Path(place).parent / path).resolve().is_file(), (place, load)


def test_no_script_or_style_sheet_fetches_from_elsewhere(site: Path) -> None:
    for file in [*site.rglob("*.css"), *site.rglob("*.js")]:
        if file.name == "searchindex.js":  # words of the pages only
            continue
        text = _NAME_SPACE.sub("", _COMMENT.sub("", file.read_text(encoding="utf-8")))
        assert _FETCHED.search(text) is None, (file.name, _FETCHED.search(text))


def test_equations_are_set_by_the_browser_itself(site: Path) -> None:
    text = (site / "theory" / "rates.html").read_text(encoding="utf-8")
    assert "<math" in text
    assert "$" not in re.sub(r"<script.*?</script>|<pre.*?</pre>", "", text, flags=re.DOTALL)


@pytest.mark.parametrize("place", [CONTENTS, TUTORIAL, THEORY, GLOSSARY, VERIFICATION])
def test_what_the_menu_opens_is_there(pages: Pages, place: str) -> None:
    assert pages.has(place)


def test_the_keys_of_all_actions_are_listed(pages: Pages) -> None:
    text = pages.by_place["window.html"].text
    missing = [spec.shortcut for spec in ACTIONS if spec.shortcut and spec.text.rstrip("…") not in text]
    assert missing == []


def test_every_module_that_is_named_is_there() -> None:
    named = set()
    for file in _SOURCES.rglob("*.md"):
        named |= set(re.findall(r"`(models\.[a-z_.]+[a-z])`", file.read_text(encoding="utf-8")))
    assert len(named) > 80
    assert [name for name in sorted(named) if find_spec(name) is None] == []


@pytest.mark.parametrize(("page", "least"), [("tutorial", 60), ("window", 25)])
def test_a_page_names_what_the_window_has(page: str, least: int) -> None:
    """Words in bold or italics are menus, buttons, fields and figures as the program writes them."""
    root = Path(__file__).parents[3]
    program = "\n".join(
        file.read_text(encoding="utf-8")
        for folder in ("workbench", "models")
        for file in (root / folder).rglob("*.py")
    ).lower()
    text = (_SOURCES / f"{page}.md").read_text(encoding="utf-8")
    marked = re.findall(r"\*{1,2}([^*]+?)\*{1,2}", " ".join(re.sub("^- ", "", text, flags=re.M).split()))
    named = {word.strip().lower().replace("&", "") for words in marked for word in words.split("›")}
    assert len(named) > least
    assert [word for word in sorted(named) if word not in program] == []


def test_every_page_and_panel_of_the_window_has_a_section(pages: Pages) -> None:
    source = (Path(__file__).parents[3] / "workbench" / "window" / "all_pages.py").read_text(encoding="utf-8")
    titles = re.findall(r'\("([A-Z][a-z ]+)", self\.\w+\)', source)
    panels = ["Stage", "Car", "Road", "Variants", "Key figures"]
    assert len(titles) >= 12
    assert [title for title in [*titles, *panels] if not pages.has(page_place(title))] == []


def test_the_search_finds_the_words_of_the_trade(site: Path) -> None:
    index = (site / "searchindex.js").read_text(encoding="utf-8")
    for word in (
        "jounc",
        "wheelbas",
        "torsion",
        "levelling",
    ):  # as the stemmer cuts them, or as titles have them
        assert word in index.lower()
