"""Roads from files of columns, as such files come."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import InputError
from models.roads.csv_import import CsvChoice, inspect_csv, preview_rows, read_csv


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "road.csv"


COMMA = "distance [m],left [mm],right [mm]\n0,1.5,2\n0.1,2.5,-3\n0.2,3.5,4\n"
GERMAN = "Weg (m);Höhe links (mm);Höhe rechts (mm)\n0;1,5;2\n0,1;2,5;-3\n0,2;3,5;4\n"
TABS = "# profilometer 7\nchainage\tlwp\trwp\nm\tmm\tmm\n0\t1.5\t2\n0.1\t2.5\t-3\n0.2\t3.5\t4\n"
BLANKS = "  0.0   0.0015   0.002\n  0.1   0.0025  -0.003\n  0.2   0.0035   0.004\n"
SWAPPED = "Right_mm, Left_mm, s_m\n2,1.5,0\n-3,2.5,0.1\n4,3.5,0.2\n"
QUOTED = '"x, along [m]","z_l [mm]","z_r [mm]"\r\n"0","1.5","2"\r\n"0.1","2.5","-3"\r\n"0.2","3.5","4"\r\n'


@pytest.mark.parametrize(
    ("text", "encoding"),
    [
        (COMMA, "utf-8"),
        (GERMAN, "utf-8"),
        (GERMAN, "latin-1"),
        (GERMAN, "utf-16"),
        (TABS, "utf-8-sig"),
        (BLANKS, "ascii"),
        (SWAPPED, "ascii"),
        (QUOTED, "ascii"),
    ],
    ids=["comma", "semicolon", "latin-1", "utf-16", "tabs", "blanks", "swapped", "quoted"],
)
def test_the_same_road_in_many_spellings(file: Path, text: str, encoding: str) -> None:
    file.write_bytes(text.encode(encoding))
    road = read_csv(file, inspect_csv(file).choice)
    np.testing.assert_allclose(road.distance, [0, 0.1, 0.2])
    np.testing.assert_allclose(road.left, [1.5e-3, 2.5e-3, 3.5e-3])
    np.testing.assert_allclose(road.right, [2e-3, -3e-3, 4e-3])
    assert road.name == "road.csv"


def test_guess_says_what_it_found_and_why(file: Path) -> None:
    file.write_text(BLANKS)
    guess = inspect_csv(file)
    assert guess.choice == CsvChoice(" ", ".", 0, 0, 1, 2, "m", "m")
    assert guess.names == ("column 1", "column 2", "column 3")
    assert "“column 1” taken as the distance, since it increases" in guess.reasons
    assert "heights assumed in m from the size of the numbers" in guess.reasons
    assert preview_rows(guess.lines, " ")[1] == ["0.1", "0.0025", "-0.003"]


def test_units_come_from_names_or_from_a_line_of_their_own(file: Path) -> None:
    file.write_text(TABS)
    guess = inspect_csv(file)
    assert (guess.choice.distance_unit, guess.choice.height_unit, guess.choice.head) == ("m", "mm", 3)
    file.write_text("dist_ft,left_in,right_in\n0,1,2\n1,2,3\n")
    road = read_csv(file, inspect_csv(file).choice)
    np.testing.assert_allclose(road.distance, [0, 0.3048])  # exact by definition of foot and inch
    np.testing.assert_allclose(road.right, [2 * 0.0254, 3 * 0.0254])


def test_one_track_without_distances(file: Path) -> None:
    file.write_text("height (mm)\n1\n-1\n3\n")
    guess = inspect_csv(file)
    assert guess.choice.distance is None
    assert guess.choice.right is None
    road = read_csv(file, replace(guess.choice, step=0.25))
    np.testing.assert_allclose(road.distance, [0, 0.25, 0.5])
    np.testing.assert_array_equal(road.left, road.right)
    assert road.remarks == ("lines taken as 0.25 m apart", "one track under both wheels")


def test_large_heights_are_taken_as_millimetres(file: Path) -> None:
    file.write_text("0 -12\n1 30\n2 5\n")
    assert inspect_csv(file).choice.height_unit == "mm"


def test_empty_cells_are_gaps(file: Path) -> None:
    file.write_text("x [m];l [mm];r [mm]\n0;1;2\n1;;NaN\n2;3;4\n\n")
    road = read_csv(file, inspect_csv(file).choice)
    np.testing.assert_allclose(road.left, [1e-3, np.nan, 3e-3])
    np.testing.assert_allclose(road.right, [2e-3, np.nan, 4e-3])


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        (COMMA + "0.3,oops,1\n", r"road.csv: line 5, column 2: 'oops' is no number with a decimal point"),
        (COMMA + "0.3\n", "line 5 has 1 cells, fewer than column 3 needs"),
        (COMMA + ",1,2\n", "line 5, column 1: '' is no number"),
        (COMMA + "1e999,1,2\n", "line 5, column 1: '1e999' is no number"),
        (COMMA[:42], "1 lines of numbers are no road"),
    ],
)
def test_a_line_that_is_wrong_is_named(file: Path, text: str, reason: str) -> None:
    file.write_text(COMMA)
    choice = inspect_csv(file).choice
    file.write_text(text)
    with pytest.raises(InputError, match=reason):
        read_csv(file, choice)


def test_a_wrong_choice_is_refused(file: Path) -> None:
    file.write_text(GERMAN, encoding="utf-8")
    choice = inspect_csv(file).choice
    with pytest.raises(InputError, match="line 2, column 2: '1,5' is no number with a decimal point"):
        read_csv(file, replace(choice, decimal="."))
    with pytest.raises(InputError, match="fewer than column 4 needs"):
        read_csv(file, replace(choice, right=3))


@pytest.mark.parametrize("content", [b"", b"only words\nof prose\n", b"\x00\x01\x02" * 50])
def test_what_holds_no_numbers_is_refused(file: Path, content: bytes) -> None:
    file.write_bytes(content)
    with pytest.raises(InputError, match="no line of the file's first 200 is numbers"):
        inspect_csv(file)


def test_a_column_that_is_alone_is_the_height_whatever_its_name(file: Path) -> None:
    file.write_text("x\n0\n0.01\n0.03\n")
    road = read_csv(file, inspect_csv(file).choice)
    np.testing.assert_array_equal(road.left, [0.0, 0.01, 0.03])
    np.testing.assert_array_equal(road.right, road.left)


def test_missing_file_is_named(file: Path) -> None:
    with pytest.raises(InputError, match=r"road.csv: the file cannot be read"):
        inspect_csv(file)


@settings(max_examples=200, deadline=None)
@given(content=st.binary(max_size=300) | st.text('0123456789.,;\t \n-eE"xm[]', max_size=200).map(str.encode))
def test_any_bytes_are_a_road_or_refused(tmp_path_factory: pytest.TempPathFactory, content: bytes) -> None:
    file = tmp_path_factory.getbasetemp() / "any.csv"
    file.write_bytes(content)
    try:
        road = read_csv(file, inspect_csv(file).choice)
    except InputError:
        return
    assert len(road.distance) == len(road.left) == len(road.right) >= 2
