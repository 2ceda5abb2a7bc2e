"""Every format read back by another reader than what wrote it, to the last bit."""

from __future__ import annotations

import csv
import importlib.util
import io
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from scipy.io import loadmat

from models.analysis import Analysis
from models.errors import InputError
from models.exports import DATA, FORMATS, About, Recording, encoded, recording, why_missing
from models.program import PROGRAM
from models.ride.channels import CHANNELS, channel_index
from models.units import INCH_POUND, KINDS, METRIC, SI, UnitChoice, factor

Columns = dict[str, tuple[np.ndarray, str]]


def of_csv(data: bytes, content: Recording) -> Columns:
    lines = [line for line in data.decode("utf-8").splitlines() if not line.startswith("#")]
    heads, *rows = csv.reader(lines)
    numbers = np.array(rows, dtype=float).T
    found = {}
    for column, head, values in zip(content.columns, heads, numbers, strict=True):
        name, unit = re.fullmatch(r"(.*?)(?: \(([^()]*(?:\([^()]*\))?[^()]*)\))?", head).groups()  # type: ignore[union-attr]
        assert name == column.axis.label
        found[column.key] = values, unit or ""
    return found


def of_mat(data: bytes, content: Recording) -> Columns:
    found = loadmat(io.BytesIO(data), simplify_cells=True)
    keys = [column.key for column in content.columns]
    assert list(found["labels"].values()) == [column.axis.label for column in content.columns]
    return {key: (found[key], found["units"][key].removeprefix("1")) for key in keys}


def of_mdf(data: bytes, content: Recording) -> Columns:
    asammdf = pytest.importorskip("asammdf")
    with asammdf.MDF(io.BytesIO(data)) as file:
        found = {}
        for column in content.columns:
            if content.over_time and column is content.columns[0]:
                found[column.key] = file.get_master(0), "s"
            else:
                signal = file.get(column.axis.label)
                found[column.key] = signal.samples, signal.unit
                np.testing.assert_array_equal(file.get(column.key).samples, signal.samples)
    return found


READERS: dict[str, Callable[[bytes, Recording], Columns]] = {"csv": of_csv, "mat": of_mat, "mdf": of_mdf}


@pytest.mark.parametrize("units", [SI, METRIC, INCH_POUND], ids=["si", "metric", "inch-pound"])
@pytest.mark.parametrize("form", list(FORMATS))
@pytest.mark.parametrize("what", list(DATA))
def test_what_is_written_reads_back_to_the_last_bit(
    what: str, form: str, units: UnitChoice, analysis: Analysis, about: About
) -> None:
    content = recording(what, analysis, about)
    found = READERS[form](encoded(content, form, units), content)
    assert list(found) == [column.key for column in content.columns]
    for column in content.columns:
        values, unit = found[column.key]
        np.testing.assert_array_equal(values, column.shown(units))
        if form != "mdf" or column is not content.columns[0]:
            assert unit == column.unit(units)


def test_values_are_those_of_the_analysis(analysis: Analysis, about: About) -> None:
    row = channel_index("pitch")
    time, spectrum, response = (
        {column.key: column for column in recording(what, analysis, about).columns}
        for what in ("time", "spectrum", "response")
    )
    np.testing.assert_array_equal(time["pitch"].shown(SI), analysis.time.y[row])
    np.testing.assert_array_equal(time["tyre_load_RL"].shown(SI), analysis.tyre_load[2])
    # Against the conversion by hand: a PSD goes with the square of the unit.
    degree = np.pi / 180
    assert spectrum["pitch"].unit(METRIC) == "deg²/Hz"
    psd = spectrum["pitch"].shown(METRIC) * degree**2
    np.testing.assert_allclose(psd, analysis.ride.psd[row], rtol=1e-14)  # some roundings
    inch = 0.0254
    assert response["travel_FL_amplitude"].unit(INCH_POUND) == "in/in"
    assert time["travel_FL"].unit(INCH_POUND) == "in"
    np.testing.assert_allclose(
        time["travel_FL"].shown(INCH_POUND) * inch, analysis.time.channel("travel_FL"), rtol=1e-14
    )
    gain = response["pitch_amplitude"].shown(SI) * np.exp(1j * response["pitch_phase"].shown(SI))
    expected = analysis.response.travelling[:, row]
    np.testing.assert_allclose(gain, expected, rtol=1e-12, atol=1e-15 * np.abs(expected).max())


def test_names_are_those_of_the_trade_and_such_as_matlab_takes(analysis: Analysis, about: About) -> None:
    labels = {column.axis.label for column in recording("time", analysis, about).columns}
    assert {channel.label for channel in CHANNELS} < labels
    for what in DATA:
        columns = recording(what, analysis, about).columns
        keys = [column.key for column in columns]
        assert all(re.fullmatch(r"[A-Za-z][A-Za-z0-9_]{0,62}", key) for key in keys)
        assert not set(keys) & {"units", "labels", "about", "end", "for", "if", "while", "function"}
        for names in (keys, [column.axis.label for column in columns]):
            assert len(set(names)) == len(names)


@pytest.mark.parametrize("form", list(FORMATS))
def test_same_bytes_each_time(
    form: str, analysis: Analysis, about: About, monkeypatch: pytest.MonkeyPatch
) -> None:
    import time

    content = recording("time", analysis, about)
    first = encoded(content, form, METRIC)
    monkeypatch.setattr(time, "time", lambda: 2_000_000_000.0)
    monkeypatch.setattr(time, "asctime", lambda *_: "Wed May 18 03:33:20 2033")
    assert encoded(content, form, METRIC) == first


def test_each_format_says_where_its_numbers_come_from(analysis: Analysis, about: About) -> None:
    content = recording("time", analysis, about)
    text = encoded(content, "csv", METRIC).decode()
    matlab = loadmat(io.BytesIO(encoded(content, "mat", METRIC)), simplify_cells=True)["about"]
    assert matlab["project"] == about.project
    assert matlab["variant"] == about.variant
    asammdf = pytest.importorskip("asammdf")
    with asammdf.MDF(io.BytesIO(encoded(content, "mdf", METRIC))) as file:
        header = file.header.description
        assert (file.header.project, file.header.subject) == (about.project, about.variant)
        assert file.groups[0].channel_group.acq_name == "Time histories"
    for words in (about.project, about.variant, about.load_case, about.driven, PROGRAM, about.inputs):
        assert words in header
        assert words in matlab.values()
        if words != about.variant:
            assert words in text
    assert "# variant: =1+1,' soft" not in text  # an apostrophe only where a formula would begin


def test_a_spectrum_has_the_index_as_master(analysis: Analysis, about: About) -> None:
    asammdf = pytest.importorskip("asammdf")
    content = recording("spectrum", analysis, about)
    with asammdf.MDF(io.BytesIO(encoded(content, "mdf", METRIC))) as file:
        np.testing.assert_array_equal(file.get_master(0), np.arange(400))
        assert file.groups[0].channels[0].sync_type == 4  # index, by ASAM MDF 4.1


def test_the_digest_is_of_all_inputs_and_nothing_else(analysis: Analysis) -> None:
    from models.exports.inputs import digest
    from models.fields import replaced
    from models.vehicle import LoadCase

    car, run, load = analysis.vehicle, analysis.run, analysis.load
    plain = digest(car, run, load)
    assert plain == digest(car.model_copy(), run.model_copy(), load)
    others = {
        digest(replaced(car, ("front", "track"), car.front.track + 1e-9), run, load),
        digest(car, replaced(run, ("speed",), run.speed + 1e-9), load),
        digest(car, run, LoadCase(name="two")),
    }
    assert len(others | {plain}) == 4


def test_without_the_library_mdf_names_the_extra(
    analysis: Analysis, about: About, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = importlib.util.find_spec
    monkeypatch.setattr(
        "models.exports.mdf_file.find_spec", lambda name: None if name == "asammdf" else real(name)
    )
    assert "corduroy[measured]" in why_missing("mdf")
    assert not why_missing("csv")
    with pytest.raises(InputError, match=r"corduroy\[measured\]"):
        encoded(recording("time", analysis, about), "mdf", METRIC)


def test_si_is_the_unit_of_each_kind() -> None:
    assert all(factor(SI[name], kind.si) == 1.0 for name, kind in KINDS.items())


def test_csv_opens_with_a_byte_that_no_spreadsheet_runs(
    analysis: Analysis, about: About, tmp_path: Path
) -> None:
    """Cut at commas or semicolons, as spreadsheets do, no cell of the head begins a formula."""
    evil = About("p;=cmd|' /C calc'!A0", "v,@SUM(1)", "-2+3", "\t=x", "0")
    text = encoded(recording("sweep", analysis, evil), "csv", METRIC).decode()
    head = [line for line in text.splitlines() if line.startswith("#")]
    cells = [cell.strip() for line in head for cell in re.split(r"[,;\t]", line)]
    assert len(cells) > len(head)
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@"))]
