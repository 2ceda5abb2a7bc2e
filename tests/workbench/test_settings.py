"""Choices of the user outlive the program; nonsense in the file does no harm."""

from __future__ import annotations

from pathlib import Path

import pytest

from models.units import INCH_POUND, METRIC
from workbench.settings import Settings


@pytest.fixture
def file(tmp_path: Path, qapp: object) -> str:
    return str(tmp_path / "settings.ini")


def reopened(settings: Settings, file: str) -> Settings:
    settings.sync()
    return Settings(file)


def test_units_persist_and_are_announced_once(file: str) -> None:
    settings = Settings(file)
    seen: list[str] = []
    settings.units_changed.connect(lambda: seen.append(settings.units["rate"]))
    settings.choose_unit("rate", "lbf/in")
    settings.choose_unit("rate", "lbf/in")
    assert seen == ["lbf/in"]
    assert reopened(settings, file).units == {**METRIC, "rate": "lbf/in"}


def test_whole_unit_system(file: str) -> None:
    settings = Settings(file)
    settings.choose_units(INCH_POUND)
    assert settings.units == INCH_POUND


def test_unknown_unit_and_theme_in_the_file_fall_back(file: str) -> None:
    Path(file).write_text("theme=pink\n[units]\nrate=furlong\n", encoding="utf-8")
    settings = Settings(file)
    assert settings.units["rate"] == "N/mm"
    assert settings.theme == "system"


def test_recent_files_newest_first_without_doubles(file: str) -> None:
    settings = Settings(file)
    for name in ("a", "b", "a"):
        settings.add_recent(Path(f"/cars/{name}.corduroy"))
    assert [path.stem for path in reopened(settings, file).recent] == ["a", "b"]
    settings.forget_recent(Path("/cars/a.corduroy"))
    assert [path.stem for path in reopened(settings, file).recent] == ["b"]


def test_theme_persists(file: str) -> None:
    settings = Settings(file)
    settings.theme = "dark"
    assert reopened(settings, file).theme == "dark"
