"""Ten thousand damaged project files: each is a valid project, or is refused with what is wrong in it."""

from __future__ import annotations

import json
import os
import time
from collections import Counter
from collections.abc import Callable
from functools import partial
from pathlib import Path
from random import Random
from typing import Any

import pytest

from models.fields import Quantity, described
from models.project import Project, ProjectFileError, dumps, load, loads, new_project
from models.project.checked_json import MOST_ENTRIES
from tests.robustness.cases import full_project
from tests.robustness.mutations import mutated_bytes, mutated_json

FILES = int(os.environ.get("CORDUROY_MUTATIONS", "10000"))
SEED = int(os.environ.get("CORDUROY_SEED", "1"))

#: Time for one file, s: none needs 0.1 s, and on a busy machine one may wait.
LONGEST = 5.0


def refusal(text: str) -> ProjectFileError:
    with pytest.raises(ProjectFileError) as caught:
        loads(text)
    return caught.value


def outcome(read: Callable[[], Project]) -> str:
    begin = time.perf_counter()
    try:
        project = read()
    except ProjectFileError as refused:
        error = refused
    else:
        assert loads(dumps(project)) == project
        return "valid"
    assert time.perf_counter() - begin < LONGEST
    assert error.problems
    assert all(problem.reason for problem in error.problems)
    assert len(str(error).encode()) < 50_000  # it can be shown, written and read
    return "refused"


def test_ten_thousand_damaged_files(tmp_path: Path) -> None:
    random, path, seen = Random(SEED), tmp_path / "car.corduroy", Counter[str]()
    texts = [*[dumps(new_project())] * 9, dumps(full_project())]
    for number in range(FILES):
        text = random.choice(texts)
        damaged: bytes | str
        if number % 3:
            damaged = mutated_json(text, random)
            read = partial(loads, damaged)
        else:
            damaged = mutated_bytes(text.encode(), random)
            path.write_bytes(damaged)
            read = partial(load, path)
        try:
            seen[outcome(read)] += 1
        except Exception as error:
            raise AssertionError(f"file {number} of seed {SEED}: {damaged[:2000]!r}") from error
    assert seen["refused"] > FILES / 2
    assert seen["valid"] > FILES / 100  # damage that means nothing: blanks, digits, texts


def quantities(part: Any, above: tuple[str | int, ...] = ()) -> list[tuple[tuple[str | int, ...], Quantity]]:
    """Each number with a range in a project, and where it stands."""
    found: list[tuple[tuple[str | int, ...], Quantity]] = []
    for name, note, _ in described(type(part)):
        value, here = getattr(part, name), (*above, name)
        if isinstance(note, Quantity) and isinstance(value, float):
            found.append((here, note))
        elif hasattr(type(value), "model_fields"):
            found += quantities(value, here)
        elif isinstance(value, tuple):
            for place, entry in enumerate(value):
                if hasattr(type(entry), "model_fields"):
                    found += quantities(entry, (*here, place))
    return found


def test_every_number_out_of_range_is_told_with_field_value_range_and_unit() -> None:
    project = full_project()
    content = json.loads(dumps(project))
    places = quantities(project)
    assert len(places) > 200
    for path, quantity in places:
        above = content
        for step in path[:-1]:
            above = above[step]
        kept, wrong = above[path[-1]], f"{4 * abs(quantity.high) + 1!r} {quantity.kind.si}".removesuffix(" 1")
        above[path[-1]] = wrong
        told = {problem.field: problem for problem in refusal(json.dumps(content)).problems}
        above[path[-1]] = kept
        words = [str(step + 1) if isinstance(step, int) else step.replace("_", " ") for step in path]
        (field,) = [name for name in told if name.endswith(words[-1])]
        assert field.startswith(words[0])
        assert told[field].value == wrong
        assert quantity.range_text() in told[field].reason
        assert quantity.label in told[field].reason
        assert quantity.kind.usual == "1" or quantity.kind.usual in told[field].reason


def with_raw(path: tuple[str | int, ...], raw: str) -> str:
    """Text of a plain project with JSON at a place that its own writer would not write."""
    content = json.loads(dumps(new_project()))
    above = content
    for step in path[:-1]:
        above = above[step]
    above[path[-1]] = "@raw@"
    return json.dumps(content).replace('"@raw@"', raw)


@pytest.mark.parametrize(
    ("path", "raw", "reason"),
    [
        (("variants",), "[" + "0," * 10_000_000 + "0]", "millions of values"),
        (("studies",), "[" + "{}," * 9_000_000 + "{}]", "millions of values"),
        (
            ("variants",),
            "[" + "{}," * 500_000 + "{}]",
            "variants: 500001 entries are outside the allowed range",
        ),
        (
            ("load_cases",),
            "[" + ",".join(['{"name": "a", "loads": [' + "0," * 900 + "0]}"] * 100) + "]",
            "of its fields are wrong",
        ),
        (("targets",), "[" + ",".join(["0"] * 1000) + "]", "targets > 1: a group of fields is expected here"),
        (
            ("run",),
            "{" + ",".join(f'"{n}": 0' for n in range(200_000)) + "}",
            "run: 200000 entries are outside",
        ),
        (("note",), '"' + "a" * 29_000_000 + '"', "a note of 29000000 characters"),
        (("run", "speed"), '"' + "1" * 29_000_000 + ' km/h"', "is not a finite number"),
        (("run", "event", "kind"), '"' + "k" * 29_000_000 + '"', "run > event"),
    ],
)
def test_large_files_are_refused_before_they_take_time_or_memory(
    path: tuple[str | int, ...], raw: str, reason: str
) -> None:
    import tracemalloc

    text = with_raw(path, raw)
    tracemalloc.start()
    begin = time.perf_counter()
    try:
        error = refusal(text)
        used = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert reason in str(error)
    assert len(str(error)) < 20_000
    assert time.perf_counter() - begin < 2 * LONGEST
    assert used < 300e6


def test_no_list_of_a_project_may_be_longer_than_a_file_may_say() -> None:
    """Where a list may be longer one day, this limit has to grow with it."""
    content = json.loads(dumps(full_project()))
    lists: list[tuple[list[Any], str]] = []

    def collect(part: Any, name: str) -> None:
        if isinstance(part, list):
            lists.append((part, name))
        for key, entry in part.items() if isinstance(part, dict) else enumerate(part):
            if isinstance(entry, (dict, list)):
                collect(entry, str(key))

    collect(content, "")
    assert {"variants", "loads", "targets", "parameters", "points"} <= {name for _, name in lists}
    for entries, name in lists:
        if entries:
            kept = list(entries)
            entries *= -(-MOST_ENTRIES // len(entries))
            assert any(
                name.replace("_", " ") in problem.field for problem in refusal(json.dumps(content)).problems
            ), name
            entries[:] = kept
    assert loads(json.dumps(content)) == full_project()


def test_the_same_seed_gives_the_same_damage_and_others_another() -> None:
    text = dumps(new_project())
    assert len({mutated_json(text, Random(seed)) for seed in range(200)}) > 150
    assert mutated_json(text, Random(3)) == mutated_json(text, Random(3))
    assert mutated_bytes(text.encode(), Random(3)) == mutated_bytes(text.encode(), Random(3))
