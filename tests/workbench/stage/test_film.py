"""Films: frames, duration, size; whole or not at all."""

from __future__ import annotations

import stat
import sys
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from pytestqt.qtbot import QtBot

from models.analysis import Analysis
from models.errors import InputError
from workbench.runner import Cancelled
from workbench.stage import film as film_module
from workbench.stage.actor import Actor
from workbench.stage.film import FilmError, FilmSettings, missing_for, write_film
from workbench.stage.picture import StagePicture
from workbench.stage.road_strip import road_strip
from workbench.stage.view_options import ViewOptions
from workbench.theme import DARK

SMALL = FilmSettings(width=480, height=150, rate=20.0, start=0.1, end=0.6)


@pytest.fixture
def picture(qtbot: QtBot, joined: Analysis, separate: Analysis) -> StagePicture:
    return StagePicture(
        Actor(joined), Actor(separate), road_strip(joined), ViewOptions(trace=True), theme=DARK
    )


def nobody(_share: float) -> None:
    """Takes reports and wants nothing."""


def frames_of(path: Path) -> tuple[list[Image.Image], list[int]]:
    frames, delays = [], []
    with Image.open(path) as film:
        for number in range(film.n_frames):
            film.seek(number)
            frames.append(film.convert("RGB"))
            delays.append(film.info["duration"])
    return frames, delays


def test_gif_has_the_frames_the_duration_and_the_size_asked_for(
    picture: StagePicture, tmp_path: Path
) -> None:
    shares: list[float] = []
    path = write_film(picture, SMALL, tmp_path / "bump.gif", shares.append)
    frames, delays = frames_of(path)
    assert len(frames) == 10
    assert delays == [50] * 10
    assert all(frame.size == (480, 150) for frame in frames)
    assert shares == pytest.approx([(n + 1) / 10 for n in range(10)])
    assert [entry.name for entry in tmp_path.iterdir()] == ["bump.gif"]
    with Image.open(path) as film:
        assert film.info["loop"] == 0
    for before, after in pairwise(frames):
        assert np.any(np.asarray(before) != np.asarray(after))


def test_gif_shows_what_the_stage_shows(picture: StagePicture, tmp_path: Path) -> None:
    frames, _ = frames_of(write_film(picture, SMALL, tmp_path / "bump.gif", nobody))
    for number in (0, 4, 9):
        drawn = np.asarray(
            film_module._as_pillow(film_module._frame(picture, SMALL, 0.1 + number / 20))
        ).astype(int)
        difference = np.abs(np.asarray(frames[number]).astype(int) - drawn).max(axis=2)
        # Colours are matched in cells of 4 steps, and 255 colours have to do for all shades of lines.
        assert (difference <= 4).mean() > 0.95
        assert (difference > 40).mean() < 0.002


def test_delays_add_up_where_a_frame_is_no_whole_hundredth(picture: StagePicture, tmp_path: Path) -> None:
    settings = FilmSettings(width=320, height=120, rate=30.0, start=0.0, end=0.5, speed=0.5)
    _, delays = frames_of(write_film(picture, settings, tmp_path / "slow.gif", nobody))
    assert len(delays) == 30
    assert set(delays) == {30, 40}
    assert sum(delays) == 1000


def test_slow_motion_steps_less_far(picture: StagePicture) -> None:
    settings = FilmSettings(rate=25.0, start=1.0, end=2.0, speed=0.25)
    assert len(settings.times) == 100
    assert np.diff(settings.times) == pytest.approx(0.01)
    assert (settings.times[0], settings.times[-1]) == pytest.approx((1.0, 1.99))


def test_cancel_leaves_nothing_and_an_older_film_as_it_was(picture: StagePicture, tmp_path: Path) -> None:
    old = tmp_path / "bump.gif"
    old.write_bytes(b"older film")

    def enough(share: float) -> None:
        assert any(entry.suffix == ".part" for entry in tmp_path.iterdir())
        if share > 0.35:
            raise Cancelled

    with pytest.raises(Cancelled):
        write_film(picture, SMALL, old, enough)
    assert [entry.name for entry in tmp_path.iterdir()] == ["bump.gif"]
    assert old.read_bytes() == b"older film"


@pytest.mark.parametrize(
    ("settings", "field"),
    [
        (FilmSettings(width=100), "width"),
        (FilmSettings(height=5000), "height"),
        (FilmSettings(rate=60.0), "rate"),
        (FilmSettings(start=2.0, end=2.0), "end"),
        (FilmSettings(speed=0.0), "speed"),
        (FilmSettings(rate=50.0, end=120.0, speed=0.1), "frames"),
    ],
)
def test_settings_out_of_range_are_refused(
    picture: StagePicture, tmp_path: Path, settings: FilmSettings, field: str
) -> None:
    with pytest.raises(InputError) as refusal:
        write_film(picture, settings, tmp_path / "film.gif", nobody)
    assert refusal.value.problems[0].field == field
    assert list(tmp_path.iterdir()) == []


def test_only_known_formats(picture: StagePicture, tmp_path: Path) -> None:
    with pytest.raises(FilmError, match=r"\.gif or \.mp4"):
        write_film(picture, SMALL, tmp_path / "film.avi", nobody)


def test_a_missing_folder_is_named(picture: StagePicture, tmp_path: Path) -> None:
    with pytest.raises(FilmError, match=r"there is no folder .*nowhere"):
        write_film(picture, SMALL, tmp_path / "nowhere" / "film.gif", nobody)


def test_without_ffmpeg_the_reason_is_given(
    picture: StagePicture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    assert "ffmpeg" in missing_for(".mp4")
    assert missing_for(".gif") == ""
    with pytest.raises(FilmError, match="ffmpeg"):
        write_film(picture, SMALL, tmp_path / "film.mp4", nobody)


def stand_in(folder: Path, monkeypatch: pytest.MonkeyPatch, body: str) -> None:
    """A program named ffmpeg in front of all others, which does ``body`` in Python."""
    folder.mkdir()
    program = folder / "ffmpeg"
    program.write_text(f"#!{sys.executable}\nimport sys\n{body}\n", encoding="utf-8")
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setenv("PATH", str(folder), prepend=":")


COUNTING = """
data = sys.stdin.buffer.read()
given = dict(zip(sys.argv, sys.argv[1:]))
with open(sys.argv[-1], 'w') as film:
    print(len(data), given['-video_size'], given['-framerate'], given['-pixel_format'], file=film)
"""


def test_mp4_pipes_every_frame_to_ffmpeg(
    picture: StagePicture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stand_in(tmp_path / "bin", monkeypatch, COUNTING)
    path = write_film(picture, SMALL, tmp_path / "film.mp4", nobody)
    assert path.read_text(encoding="utf-8").split() == [str(10 * 480 * 150 * 4), "480x150", "20", "bgr0"]


@pytest.mark.parametrize(
    "body",
    [
        "sys.stdin.buffer.read(); open(sys.argv[-1], 'w').write('half'); sys.exit('no such codec')",
        "sys.stdin.close(); open(sys.argv[-1], 'w').write('half'); sys.exit('no such codec')",
    ],
    ids=["at the end", "at once"],
)
def test_a_failing_ffmpeg_is_quoted_and_leaves_nothing(
    picture: StagePicture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, body: str
) -> None:
    stand_in(tmp_path / "bin", monkeypatch, body)
    with pytest.raises(FilmError, match="no such codec"):
        write_film(picture, SMALL, tmp_path / "film.mp4", nobody)
    assert [entry.name for entry in tmp_path.iterdir()] == ["bin"]


def test_cancelling_an_mp4_ends_ffmpeg(
    picture: StagePicture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stand_in(tmp_path / "bin", monkeypatch, COUNTING)

    def enough(_share: float) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        write_film(picture, SMALL, tmp_path / "film.mp4", enough)
    assert [entry.name for entry in tmp_path.iterdir()] == ["bin"]


@pytest.mark.parametrize("width", [640, 3200])
def test_a_large_film_is_drawn_larger(picture: StagePicture, width: int) -> None:
    settings = FilmSettings(width=width, height=width // 5)
    image = film_module._frame(picture, settings, 0.3)
    assert (image.width(), image.height()) == (width, width // 5)
    assert image.devicePixelRatio() == max(1.0, width / 1600)
