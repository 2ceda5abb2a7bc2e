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


def test_the_page_on_show_persists(file: str) -> None:
    settings = Settings(file)
    assert settings.page == ""
    settings.page = "Load cases"
    assert reopened(settings, file).page == "Load cases"


@pytest.mark.parametrize(
    "content",
    [
        b"\xff\xfe\x00\x00[[[[",
        b"[layout]\ngeometry=@ByteArray(\\0\\x1\nrecent=@Variant(\\0\\0\\0\x7f)",
        b"[units]\nrate=@Variant(\\0\\0\\0\\x7f\\0)\n[choices]\ncharts=@Invalid()\npage=@Rect(1 2 3 4)",
    ],
)
def test_a_damaged_file_gives_the_defaults(file: str, content: bytes) -> None:
    Path(file).write_bytes(content)
    settings = Settings(file)
    assert (settings.units, settings.theme, settings.recent) == (METRIC, "system", [])
    assert settings.choices("charts", ["a"]) == ["a"]
    settings.theme = "dark"  # and it is mended by the next choice
    assert reopened(settings, file).theme == "dark"
