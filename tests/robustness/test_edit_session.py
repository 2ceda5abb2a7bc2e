"""Ten thousand things that a user does at random to one document, with all that has to hold after each."""

from __future__ import annotations

import os
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import InputError
from models.fields import replaced
from models.project import new_project
from tests.robustness.edit_session import EditSession

#: Steps of a session; more of them, and another seed, for a long run by hand.
STEPS = int(os.environ.get("CORDUROY_EDITS", "10000"))
SEED = int(os.environ.get("CORDUROY_SEED", "1"))


def test_a_long_session_of_random_edits(qapp: object, tmp_path: Path) -> None:
    session, random = EditSession(new_project(), tmp_path), Random(SEED)
    for step in range(STEPS):
        session.step(random)
        if step % 100 == 0:
            session.check_whole()
    session.all_the_way(random)
    session.check_whole()
    for area in ("name", "note", "variants", "load_cases", "run", "road_mix", "targets", "studies"):
        assert session.taken[area] > STEPS // 100, f"hardly any edit of {area} was taken"
        assert session.refused[area] > 0, f"no edit of {area} was refused"


@given(st.randoms(use_true_random=False))
@settings(max_examples=15)
def test_short_sessions_that_shrink_to_what_is_wrong(
    qapp: object, tmp_path_factory: pytest.TempPathFactory, random: Random
) -> None:
    session = EditSession(new_project(), tmp_path_factory.mktemp("session"))
    for _ in range(20):
        session.step(random)
    session.check_whole()


@pytest.mark.parametrize(
    "value",
    [10**5000, [10**5000], {"kind": "x" * 10**6}, {"kind": "\ud800"}, "x" * 10**6, "\ud800"],
    ids=["huge number", "huge number in a list", "long kind", "half a character as kind", "long", "half"],
)
@pytest.mark.parametrize(
    "path", [("run", "speed"), ("run", "event"), ("targets",), ("variants", 0, "vehicle", "rear", "wheels")]
)
def test_values_without_a_text_are_refused_like_others(path: tuple[str | int, ...], value: object) -> None:
    with pytest.raises(InputError) as refusal:
        replaced(new_project(), path, value)
    assert len(str(refusal.value)) < 1000
    assert str(refusal.value).isprintable()
