"""The terms of the trade that the window uses are in the glossary, and the other way round."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from models.fields import described
from tests.workbench.help.pages import Pages
from workbench.help.reference.figures import figure_groups
from workbench.help.reference.parameters import documented_parts

_SOURCE = Path(__file__).parents[3] / "workbench" / "help" / "source" / "glossary.md"
#: Terms that an engineer of another field would have to look up.
_TRADE = (
    "jounce",
    "rebound",
    "wheel rate",
    "ride rate",
    "ride frequency",
    "motion ratio",
    "motion centre",
    "lever ratio",
    "coupling fraction",
    "dynamic index",
    "design trim",
    "trim spring",
    "unsprung mass",
    "sprung mass",
    "roll centre",
    "roll axis",
    "wheel hop",
    "axle tramp",
    "warp",
    "pitch share",
    "road-holding",
    "waviness",
    "toggle",
    "pre-set",
    "dead band",
    "vernier step",
    "crest factor",
    "bump stop",
    "wind-up",
    "track",
)


@pytest.fixture(scope="module")
def terms() -> set[str]:
    """Terms of the glossary."""
    block = _SOURCE.read_text(encoding="utf-8").partition("```{glossary}\n")[2]
    return {line.strip() for line in block.splitlines() if line and not line.startswith((" ", "`"))}


@pytest.fixture(scope="module")
def words() -> str:
    """All that the window says of fields and figures."""
    notes = [note for part in documented_parts() for _, note, _ in described(part) if note is not None]
    figures = [figure for group in figure_groups() for _, figure in group.figures]
    return "\n".join(f"{one.label}\n{one.meaning}" for one in [*notes, *figures]).lower()


@pytest.mark.parametrize("term", _TRADE)
def test_a_term_that_the_window_uses_is_in_the_glossary(term: str, terms: set[str], words: str) -> None:
    assert term in words
    assert term in terms


def test_every_term_can_be_pointed_at(pages: Pages, terms: set[str]) -> None:
    anchors = {anchor for anchor in pages.by_place["glossary.html"].anchors if anchor.startswith("term-")}
    assert len(anchors) == len(terms)


def test_terms_stand_in_their_order() -> None:
    block = _SOURCE.read_text(encoding="utf-8").partition("```{glossary}\n")[2]
    listed = [line.lower() for line in block.splitlines() if line and not line.startswith((" ", "`"))]
    assert listed == sorted(listed, key=lambda term: re.sub(r"[^a-z0-9 ]", "", term.replace("–", "-")))
