"""Charts to files: whole or not at all, the same each time, with units and names."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from models.analysis import Analysis
from models.charts import build
from models.charts.files import export
from models.errors import InputError
from models.units import INCH_POUND

HEADS = {".png": b"\x89PNG", ".svg": b"<?xml", ".pdf": b"%PDF", ".csv": b"# "}


@pytest.mark.parametrize("suffix", HEADS)
def test_same_chart_gives_the_same_bytes(suffix: str, tmp_path: Path, candidate: Analysis) -> None:
    chart = build("gain-travel", candidate)
    for name in ("first", "second"):
        export(chart, tmp_path / f"{name}{suffix}", heading="A line")
    first, second = (tmp_path / f"{name}{suffix}" for name in ("first", "second"))
    assert first.read_bytes() == second.read_bytes()
    assert first.read_bytes().startswith(HEADS[suffix])
    assert sorted(tmp_path.iterdir()) == [first, second]


def test_svg_holds_text_as_text(tmp_path: Path, candidate: Analysis, baseline: Analysis) -> None:
    chart = build("time-travel", candidate, baseline, ("_Soft & $low^2$ \x07", "Firm"))
    export(chart, tmp_path / "f.svg", heading="Saloon, class C")
    text = (tmp_path / "f.svg").read_text("utf-8")
    for part in ("Wheel travel (mm, jounce +)", "_Soft &amp; $low^2$", "Firm", "rear", "Saloon, class C"):
        assert part in text
    assert "\x07" not in text


def test_pdf_embeds_truetype_fonts(tmp_path: Path, candidate: Analysis) -> None:
    export(build("time-pitch", candidate), tmp_path / "f.pdf")
    content = (tmp_path / "f.pdf").read_bytes()
    assert b"/CIDFontType2" in content
    assert b"/FontFile2" in content
    assert b"/Type3" not in content


def test_table_has_units_and_numbers(tmp_path: Path, candidate: Analysis, baseline: Analysis) -> None:
    chart = build("time-travel", candidate, baseline, ("Soft, low", "Firm"))
    export(chart, tmp_path / "t.csv", INCH_POUND, heading="Saloon\nSoft against Firm")
    lines = (tmp_path / "t.csv").read_text("utf-8").splitlines()
    assert lines[:3] == ["# Saloon", "# Soft against Firm", "# Wheel travel · time"]
    rows = list(csv.reader(lines[3:]))
    assert rows[0] == [
        "Time (s)",
        "Wheel travel, Soft, low, front (in, jounce +)",
        "Wheel travel, Soft, low, rear (in, jounce +)",
        "Wheel travel, Firm, front (in, jounce +)",
        "Wheel travel, Firm, rear (in, jounce +)",
    ]
    numbers = np.array(rows[1:], dtype=float)
    by_name = {curve.name: curve for curve in chart.curves}
    # Nine significant digits.
    assert numbers[:, 0] == pytest.approx(candidate.time.t, rel=1e-8)
    assert numbers[:, 2] == pytest.approx(by_name["Soft, low, rear"].y / 0.0254, rel=1e-8)


def test_curves_on_other_points_bring_their_own_column(tmp_path: Path, candidate: Analysis) -> None:
    chart = build("time-pitch", candidate, candidate)
    short = type(candidate.time)(t=candidate.time.t[::2], y=candidate.time.y[:, ::2])
    other = type(candidate)(**{**candidate.__dict__, "time": short})
    chart = build("time-pitch", candidate, other)
    export(chart, tmp_path / "t.csv")
    rows = list(csv.reader((tmp_path / "t.csv").read_text("utf-8").splitlines()[1:]))
    assert [name.split()[0] for name in rows[0]] == ["Time", "Pitch", "Time", "Pitch"]
    assert rows[-1][2:] == ["", ""]


def test_other_formats_are_refused_by_name(tmp_path: Path, candidate: Analysis) -> None:
    with pytest.raises(InputError, match=r"'\.docx' is not a format; use \.png, \.svg, \.pdf or \.csv"):
        export(build("time-pitch", candidate), tmp_path / "f.docx")
    assert list(tmp_path.iterdir()) == []


def test_failed_export_leaves_the_old_file(
    tmp_path: Path, candidate: Analysis, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "f.png"
    path.write_bytes(b"old")

    def full_disk(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full_disk)
    with pytest.raises(InputError, match="no space left"):
        export(build("time-pitch", candidate), path)
    assert list(tmp_path.iterdir()) == [path]
    assert path.read_bytes() == b"old"


def test_global_settings_of_matplotlib_stay(tmp_path: Path, candidate: Analysis) -> None:
    import matplotlib as mpl

    before = dict(mpl.rcParams)
    export(build("time-pitch", candidate), tmp_path / "f.svg")
    assert dict(mpl.rcParams) == before
