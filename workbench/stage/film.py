"""A film of the stage in a file: painted frame by frame away from the screen.

:func:`write_film` is for a worker thread: it works on a picture that never changes, and asks after each frame
whether it is still wanted.  What it writes stands under its name when it is whole, and not before.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryFile
from typing import IO, Protocol

import numpy as np
from numpy.typing import NDArray
from PIL import GifImagePlugin, Image
from PySide6.QtGui import QImage, QPainter

from models.errors import InputError
from workbench.stage.picture import StagePicture

__all__ = [
    "FORMATS",
    "LARGEST",
    "LEAST",
    "MOST_FRAMES",
    "FilmError",
    "FilmSettings",
    "missing_for",
    "most_frames_per_second",
    "write_film",
]

#: Suffix -> what the file dialog calls it.
FORMATS = {".gif": "Animated GIF (*.gif)", ".mp4": "MP4 film (*.mp4)"}
#: Sizes of the picture, px.
LEAST, LARGEST = (320, 120), (3840, 2160)
MOST_FRAMES = 20_000

#: The delays of a GIF are hundredths of a second, and many viewers slow down what is below two of them.
_HUNDREDTH, _LEAST_DELAY = 0.01, 2
#: Colours of a GIF, of which the last says "as before".
_COLOURS = 256
_AS_BEFORE = _COLOURS - 1
#: How many of the colours are the flat ones of the drawing, as they are.
_EXACT = 64
#: Frames from which the colours are chosen, and how many pixels of each are looked at, about.
_SAMPLES, _SAMPLE_PIXELS = 6, 200_000
#: A wider picture than this, px, is drawn larger, words and all.
_USUAL_WIDTH = 1600.0

_Pixels = NDArray[np.uint8]


class FilmError(Exception):
    """A film that could not be written, with the reason in words."""


@dataclass(frozen=True, slots=True)
class FilmSettings:
    """What is filmed.

    Attributes:
        width, height: px.
        rate: frames per second of the film.
        start, end: part of the run, s.
        speed: share of real time.
    """

    width: int = 1600
    height: int = 300
    rate: float = 25.0
    start: float = 0.0
    end: float = 4.0
    speed: float = 1.0

    @property
    def times(self) -> NDArray[np.float64]:
        """(frames,) times of the run, s."""
        count = max(round((self.end - self.start) / self.speed * self.rate), 1)
        return self.start + np.arange(count, dtype=np.float64) * (self.speed / self.rate)

    def check(self, suffix: str) -> None:
        """Refuse what cannot be filmed.

        Raises:
            InputError: with the field and its range.
        """
        for name, value, low, high, unit in (
            ("width", self.width, LEAST[0], LARGEST[0], "px"),
            ("height", self.height, LEAST[1], LARGEST[1], "px"),
            ("rate", self.rate, 1, most_frames_per_second(suffix), "frames per second"),
        ):
            if not low <= value <= high:
                raise InputError.of(name, value, f"must be {low} to {high} {unit}")
        if not self.start < self.end:
            raise InputError.of("end", self.end, f"must lie after the start, {self.start:g} s")
        if not self.speed > 0:
            raise InputError.of("speed", self.speed, "must be above 0")
        if len(self.times) > MOST_FRAMES:
            raise InputError.of(
                "frames", len(self.times), f"must be {MOST_FRAMES} at most: film less of the run, or faster"
            )


def most_frames_per_second(suffix: str) -> int:
    """Highest rate of a format."""
    return round(1 / (_LEAST_DELAY * _HUNDREDTH)) if suffix == ".gif" else 60


def missing_for(suffix: str) -> str:
    """Why a format cannot be written here, in words; empty where it can."""
    if suffix == ".mp4" and shutil.which("ffmpeg") is None:
        return "MP4 films are written by the program ffmpeg, which was not found on this computer"
    return ""


def write_film(
    picture: StagePicture, settings: FilmSettings, path: Path, report: Callable[[float], None]
) -> Path:
    """Write a film; the suffix of ``path`` says the format.

    Args:
        picture: what is filmed.
        settings: how.
        path: where to; an older file there is replaced at the end.
        report: called with the share done after each frame; what it raises ends the work.

    Raises:
        InputError: the settings are out of range.
        FilmError: the format cannot be written here, or its writer failed.
        OSError: the file cannot be written.
    """
    suffix = path.suffix.lower()
    if suffix not in FORMATS:
        raise FilmError(f"{path.name}: films end in {' or '.join(FORMATS)}")
    settings.check(suffix)
    if missing := missing_for(suffix):
        raise FilmError(missing)
    if not path.parent.is_dir():
        raise FilmError(f"there is no folder {path.parent}")
    times = settings.times
    with _whole_or_nothing(path) as unfinished:
        made = _gif if suffix == ".gif" else _mp4
        with made(unfinished, picture, settings) as film:
            for number, time in enumerate(times.tolist()):
                film.add(_frame(picture, settings, time))
                report((number + 1) / len(times))
    return path


class _Film(Protocol):
    """A film being written."""

    def add(self, image: QImage) -> None:
        """One more frame."""


@contextmanager
def _whole_or_nothing(path: Path) -> Iterator[Path]:
    """A file beside ``path`` that takes its place at the end, or is gone if there is no good end."""
    unfinished = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        yield unfinished
        os.replace(unfinished, path)
    finally:
        unfinished.unlink(missing_ok=True)


def _frame(picture: StagePicture, settings: FilmSettings, time: float) -> QImage:
    image = QImage(settings.width, settings.height, QImage.Format.Format_RGB32)
    ratio = max(settings.width / _USUAL_WIDTH, 1.0)
    image.setDevicePixelRatio(ratio)
    painter = QPainter(image)
    picture.paint(painter, round(settings.width / ratio), round(settings.height / ratio), ratio, time)
    painter.end()
    return image


def _as_pillow(image: QImage) -> Image.Image:
    size, stride = (image.width(), image.height()), image.bytesPerLine()
    return Image.frombuffer("RGB", size, bytes(image.constBits()), "raw", "BGRX", stride, 1)


# -- GIF ---------------------------------------------------------------------------------------------


@contextmanager
def _gif(path: Path, picture: StagePicture, settings: FilmSettings) -> Iterator[_Film]:
    with path.open("wb") as file:
        yield _Gif(file, _palette(picture, settings), settings.rate)
        file.write(b";")


def _palette(picture: StagePicture, settings: FilmSettings) -> Image.Image:
    """Image with the colours of the whole film: the common ones of some frames exactly, the rest grouped."""
    times = settings.times
    chosen = times[np.linspace(0, len(times) - 1, min(_SAMPLES, len(times))).round().astype(int)]
    coarse = max(round((settings.width * settings.height / _SAMPLE_PIXELS) ** 0.5), 1)
    size = settings.width // coarse, settings.height // coarse
    sheet = Image.new("RGB", (size[0], size[1] * len(chosen)))
    for row, time in enumerate(chosen.tolist()):
        frame = _as_pillow(_frame(picture, settings, time)).resize(size, Image.Resampling.NEAREST)
        sheet.paste(frame, (0, row * size[1]))
    counted = sheet.getcolors(sheet.width * sheet.height) or []
    common = [colour for _, colour in sorted(counted, key=lambda item: -item[0])[:_EXACT]]
    others = sheet.quantize(_COLOURS - 1 - len(common), dither=Image.Dither.NONE).getpalette() or []
    palette = Image.new("P", (1, 1))
    palette.putpalette([*np.array(common, dtype=int).ravel().tolist(), *others])
    return palette


class _Gif:
    """Frames go to the file as they come, so that a long film takes no memory.

    Pixels that did not change are written as one colour that means so, which packs well.
    """

    def __init__(self, file: IO[bytes], palette: Image.Image, rate: float) -> None:
        self._file, self._palette, self._rate = file, palette, rate
        self._colours = ((palette.getpalette() or []) + [0] * 3 * _COLOURS)[: 3 * _COLOURS]
        self._before: _Pixels | None = None
        self._count = 0

    def add(self, image: QImage) -> None:
        """One more frame; its delay ends at the nearest hundredth, so that errors do not add up."""
        matched = _as_pillow(image).quantize(palette=self._palette, dither=Image.Dither.NONE)
        pixels: _Pixels = np.asarray(matched)
        if self._before is None:
            frame = self._of_palette(pixels)
            header, _ = GifImagePlugin.getheader(frame, info={"loop": 0, "transparency": _AS_BEFORE})
            self._file.writelines(header)
        else:
            frame = self._of_palette(np.where(pixels == self._before, np.uint8(_AS_BEFORE), pixels))
        begin, end = (round(100 * number / self._rate) for number in (self._count, self._count + 1))
        data = GifImagePlugin.getdata(frame, duration=10 * (end - begin), disposal=1, transparency=_AS_BEFORE)
        self._file.writelines(data)
        self._before = pixels
        self._count += 1

    def _of_palette(self, pixels: _Pixels) -> Image.Image:
        frame = Image.fromarray(pixels, mode="P")
        frame.putpalette(self._colours)
        return frame


# -- MP4 ---------------------------------------------------------------------------------------------


@contextmanager
def _mp4(path: Path, _picture: StagePicture, settings: FilmSettings) -> Iterator[_Film]:
    """The frames go to ffmpeg through a pipe."""
    size = f"{settings.width}x{settings.height}"
    command = ["ffmpeg", "-y", "-loglevel", "error", "-f", "rawvideo", "-pixel_format", "bgr0"]
    command += ["-video_size", size, "-framerate", f"{settings.rate:g}", "-i", "-", "-an"]
    # Its usual colours are stored for every other pixel, so that both sizes must be even.
    command += ["-vf", "crop=trunc(iw/2)*2:trunc(ih/2)*2", "-pix_fmt", "yuv420p"]
    command += ["-movflags", "+faststart", "-f", "mp4", str(path)]
    with TemporaryFile() as complaints:
        process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=complaints
        )
        try:
            assert process.stdin is not None
            yield _Pipe(process.stdin)
            process.stdin.close()
            failed = process.wait() != 0
        except BrokenPipeError:
            failed = True
        finally:
            process.kill()
            process.wait()
            _close(process.stdin)
        if failed:
            complaints.seek(0)
            text = complaints.read().decode(errors="replace").strip()
            raise FilmError(f"ffmpeg could not write the film: {text or 'it gave no reason'}")


class _Pipe:
    def __init__(self, pipe: IO[bytes]) -> None:
        self._pipe = pipe

    def add(self, image: QImage) -> None:
        """One more frame, its pixels as they are: rows of four bytes have no gaps."""
        self._pipe.write(bytes(image.constBits()))


def _close(pipe: IO[bytes] | None) -> None:
    """Close a pipe, whose last bytes nobody may want any more."""
    try:
        if pipe is not None:
            pipe.close()
    except BrokenPipeError:
        pass
