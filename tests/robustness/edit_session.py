"""A user who edits at random, beside a plain list of states that says what should have come of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from pathlib import Path as FilePath
from random import Random
from typing import Any

from models.errors import InputError
from models.fields import Path, replaced
from models.project import (
    Project,
    Variant,
    add_load_case,
    add_variant,
    choose_load_case,
    dumps,
    duplicate_load_case,
    duplicate_variant,
    load,
    loads,
    move_variant,
    remove_load_case,
    remove_study,
    remove_variant,
    rename_load_case,
    rename_variant,
    save,
    set_baseline,
    set_candidate,
    set_study,
    set_target,
)
from models.project.project import changed
from models.project.recovery import Session, discard, pending
from models.vehicle import AS_DESIGNED, LoadCase
from tests.robustness.random_edits import WRONG, list_edit, random_place, random_value
from workbench.document import Document, next_gesture

__all__ = ["EditSession"]

#: Entries of a list beyond which it is shortened, so that ten thousand edits stay a project of usual size.
_MANY = 4


class EditSession:
    """The document, and the list of states that its history has to agree with."""

    def __init__(self, project: Project, folder: FilePath) -> None:
        self.document = Document(project)
        self.folder = folder
        self.taken: Counter[str] = Counter()
        self.refused: Counter[str] = Counter()
        self._announced = 0
        self.document.changed.connect(self._count)
        self._begin(project, None)

    def step(self, random: Random) -> None:
        """One thing that a user may do, and all that has to hold after it."""
        acts: dict[Callable[[Random], None], float] = {
            self.edit: 55,
            self.edit_list: 8,
            self.drag: 4,
            self.act_on_variants: 8,
            self.act_on_load_cases: 5,
            self.act_on_wishes: 5,
            self.undo: 8,
            self.redo: 7,
            self.save: 2,
            self.save_elsewhere: 0.3,
            self.all_the_way: 0.2,
            self.reopen: 0.05,
            self.crash: 0.05,
        }
        act = random.choices(list(acts), list(acts.values()))[0]
        act(random)
        self._check()

    # -- what a user does -----------------------------------------------------------------------------

    def edit(self, random: Random) -> None:
        """Exchange one value of the project, now and then by a wrong one."""
        path, kind = random_place(self.document.project, random)
        value = random.choice(WRONG) if random.random() < 0.15 else random_value(kind, random)
        self._edit(path, value)

    def edit_list(self, random: Random) -> None:
        """Change the entries of one of the lists of the project."""
        for _ in range(20):
            path, kind = random_place(self.document.project, random)
            entries = self.document.value(path)
            if isinstance(entries, tuple):
                self._edit(path, list_edit(entries, kind, random))
                return

    def drag(self, random: Random) -> None:
        """Several values of one field in one gesture, now and then back to the first."""
        path, kind = random_place(self.document.project, random)
        gesture, first = next_gesture(), self.document.value(path)
        for _ in range(random.randint(1, 5)):
            self._edit(path, random_value(kind, random), gesture)
            if random.random() < 0.1:
                self.save(random)
        if random.random() < 0.4:
            self._edit(path, first, gesture)

    def act_on_variants(self, random: Random) -> None:
        """Add, copy, rename, move, remove or choose a variant."""
        names = (*self.document.project.names, "no such variant")
        name, other = random.choice(names), random.choice(("soft", "hard", "", " \n", "x" * 81, *names))
        acts: list[Callable[[Project], Project]] = [
            lambda project: duplicate_variant(project, name),
            lambda project: duplicate_variant(project, name, other),
            lambda project: rename_variant(project, name, other),
            lambda project: move_variant(project, name, random.randint(-3, 3)),
            lambda project: remove_variant(project, name),
            lambda project: set_baseline(project, name),
            lambda project: set_candidate(project, name),
            lambda project: add_variant(project, Variant(name=f"made {random.randrange(10)}")),
        ]
        self._apply("variants", acts[4 if len(names) > _MANY + 1 else random.randrange(len(acts))])

    def act_on_load_cases(self, random: Random) -> None:
        """Add, copy, rename, remove or choose a load case."""
        names = (*(case.name for case in self.document.project.load_cases), AS_DESIGNED.name, "no such case")
        name, other = random.choice(names), random.choice(("laden", "", "x" * 81, *names))
        acts: list[Callable[[Project], Project]] = [
            lambda project: add_load_case(project, LoadCase(name=random.choice(("two up", "roof box")))),
            lambda project: duplicate_load_case(project, name),
            lambda project: rename_load_case(project, name, other),
            lambda project: choose_load_case(project, name),
            lambda project: remove_load_case(project, name),
        ]
        self._apply("load cases", acts[4 if len(names) > _MANY + 2 else random.randrange(len(acts))])

    def act_on_wishes(self, random: Random) -> None:
        """Put a target or a study in, or take one out, as the pages do."""
        project = self.document.project
        field, put = random.choice((("targets", set_target), ("studies", set_study)))
        entries: tuple[Any, ...] = getattr(project, field)
        made = changed_list(project, field, random)
        if len(entries) > _MANY or made is None:
            gone = random.choice(entries) if entries else None
            if field == "targets":
                self._apply(field, lambda project: set_target(project, None, gone))
            else:
                name = "no such study" if gone is None else gone.name
                self._apply(field, lambda project: remove_study(project, name))
        else:
            self._apply(field, lambda project: put(project, made))

    def undo(self, random: Random) -> None:
        """Some steps back."""
        for _ in range(random.choice((1, 1, 2, 5))):
            if self.at > 0:
                self.at -= 1
            self.document.undo_stack.undo()

    def redo(self, random: Random) -> None:
        """Some steps forward."""
        for _ in range(random.choice((1, 1, 2, 8))):
            self.at = min(self.at + 1, len(self.states) - 1)
            self.document.undo_stack.redo()

    def save(self, random: Random) -> None:
        """Save to the file of the project."""
        path = self.document.path or self.folder / f"{random.randrange(3)}.corduroy"
        save(self.document.project, path)
        self.document.saved(path)
        self.saved = self.at
        assert load(path) == self.document.project

    def save_elsewhere(self, random: Random) -> None:
        """Save under another name, over a file that may be there."""
        save(self.document.project, path := self.folder / f"{random.randrange(3)}.corduroy")
        self.document.saved(path)
        self.saved = self.at
        assert self.document.path == path

    def all_the_way(self, random: Random) -> None:
        """Undo to the bottom, which is the first project to the letter, and redo to where it was."""
        here, stack = self.document.project, self.document.undo_stack
        stack.setIndex(0)
        assert self.document.project == self.states[0]
        assert dumps(self.document.project) == self.first_text
        stack.setIndex(self.at)
        assert self.document.project == here

    def reopen(self, random: Random) -> None:
        """Open the file of the project as it was saved last."""
        self.all_the_way(random)
        path = self.document.path
        if path is not None:
            self.document.open(load(path), path)
            self._begin(self.document.project, path)

    def crash(self, random: Random) -> None:
        """The copy of unsaved work, as the next start finds it."""
        session = Session(self.folder / "state")
        session.write(self.document.project, self.document.path)
        session._lock.release()  # as the end of the process does
        (copy,) = pending(self.folder / "state")
        assert copy.project == self.document.project
        discard(copy)
        assert copy.path == self.document.path
        self.document.open(copy.project, copy.path)
        self.document.recovered()
        self._begin(copy.project, copy.path, saved=None)

    # -- what has to come of it -----------------------------------------------------------------------

    def _begin(self, project: Project, path: FilePath | None, saved: int | None = 0) -> None:
        self.states, self.keys, self.at, self.saved = [project], [None], 0, saved
        self.first_text = dumps(project)
        assert self.document.path == path

    def _edit(self, path: Path, value: object, gesture: int | None = None) -> None:
        before, area = self.document.project, str(path[0])
        self._announced = 0
        try:
            self.document.edit(path, value, gesture)
        except InputError as error:
            self._was_refused(area, before, error)
            return
        # Made once more from outside the document: what it holds is the edit and nothing else.
        self._was_taken(area, replaced(before, path, value), None if gesture is None else (path, gesture))

    def _apply(self, area: str, change: Callable[[Project], Project]) -> None:
        before = self.document.project
        self._announced = 0
        try:
            after = change(before)
        except InputError as error:
            self._was_refused(area, before, error)
            return
        self.document.apply(area, after)
        self._was_taken(area, after, None)

    def _was_refused(self, area: str, before: Project, error: InputError) -> None:
        assert self.document.project is before
        assert self._announced == 0
        assert all(problem.field and problem.reason for problem in error.problems), error.problems
        assert len(str(error)) < 20_000, "nobody reads that"
        self.refused[area] += 1

    def _was_taken(self, area: str, after: Project, key: tuple[Path, int] | None) -> None:
        if after == self.states[self.at]:
            assert self._announced == 0
            return
        assert self._announced == 1
        self.taken[area] += 1
        if self.saved is not None and self.saved > self.at:
            self.saved = None
        del self.states[self.at + 1 :], self.keys[self.at + 1 :]
        if key is not None and key == self.keys[self.at] and self.saved != self.at:
            self.states[self.at] = after
            if after == self.states[self.at - 1]:
                del self.states[self.at], self.keys[self.at]
                self.at -= 1
            return
        self.states.append(after)
        self.keys.append(key)
        self.at += 1

    def _check(self) -> None:
        project, stack = self.document.project, self.document.undo_stack
        assert project == self.states[self.at]
        assert (stack.index(), stack.count()) == (self.at, len(self.states) - 1)
        assert self.document.unsaved == (self.saved != self.at)
        assert project.baseline in project.names
        assert project.candidate in project.names
        assert len(set(project.names)) == len(project.names)
        assert (
            self.document.value(self.document.candidate_path()) is project.variant(project.candidate).vehicle
        )
        assert project.load.name == project.load_case

    def check_whole(self) -> None:
        """All of the project is what may stand in a file, and reads back as it is."""
        text = dumps(self.document.project)
        assert loads(text) == self.document.project
        assert dumps(loads(text)) == text

    def _count(self) -> None:
        self._announced += 1


def changed_list(project: Project, field: str, random: Random) -> Any:
    """A target or study made at random; None where it was not to be."""
    info = Project.model_fields[field]
    for _ in range(5):
        try:
            return getattr(changed(project, **{field: random_value(info.annotation, random)}), field)[0]
        except (InputError, IndexError):
            continue
    return None
