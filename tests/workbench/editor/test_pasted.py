"""Text of a spreadsheet becomes rows, and rows become text that gives them back."""

from __future__ import annotations

import pytest

from models.errors import InputError
from models.units import METRIC
from models.vehicle import Load, LoadCase, SpringPoint, TabulatedSpring
from workbench.editor.pasted import pasted_rows, rows_text, split_cells
from workbench.editor.plan import Table, plan

ROWS = TabulatedSpring().points
WANTED = (SpringPoint(deflection=-0.0405, force=-1200.5), SpringPoint(deflection=0.05, force=1500.0))


def _table(part_type: type[LoadCase] | type[TabulatedSpring], name: str) -> Table:
    shape = next(field.shape for field in plan(part_type) if field.name == name)
    assert isinstance(shape, Table)
    return shape


CURVE, LOADS = _table(TabulatedSpring, "points"), _table(LoadCase, "loads")


def paste(text: str, place: tuple[int, int] = (0, 0)) -> tuple[object, ...]:
    return pasted_rows(CURVE, ROWS, text, place, METRIC)


@pytest.mark.parametrize(
    "text",
    [
        "-40.5\t-1200.5\n50\t1500\n",
        "-40,5\t-1200,5\r\n50\t1500\r\n",
        "-40,5;-1.200,5\n50;1.500,0",
        "-40.5,-1200.5\n50,1500",
        '"-40.5","-1200.5"\n"50","1500"',
        "−40.5\t−1200.5\n\n50 mm\t1.5 kN\n",
        "\ufeff# a comment\nDeflection\tForce\n-40.5\t-1200.5\n50\t1500",
        "Deflection (cm)\tForce [kN]\n-4,05\t-1,2005\n5\t1,5",
        "travel;load\nm;kN\n-0,0405;-1,2005\n0,05;1,5",
        "-40.5\t-1,200.5\n50\t1,500.0",
    ],
)
def test_lines_as_wide_as_the_table_take_its_place(text: str) -> None:
    rows = paste(text, (2, 1))
    # One multiplication by a factor of unit rounds once.
    for row, wanted in zip(rows, WANTED, strict=True):
        assert isinstance(row, SpringPoint)
        assert (row.deflection, row.force) == pytest.approx((wanted.deflection, wanted.force), rel=1e-15)


def test_a_comma_parts_cells_where_there_is_nothing_else() -> None:
    assert split_cells("1,5\n2,5") == [["1", "5"], ["2", "5"]]
    assert split_cells("1,5;2,5\n\n") == [["1.5", "2.5"]]
    assert split_cells("name, the first\t1,5") == [["name, the first", "1.5"]]


def test_a_column_is_written_from_the_chosen_cell_on_and_behind_the_last_row() -> None:
    rows = paste("1200\n2400\n", (1, 1))
    assert rows == (
        ROWS[0],
        SpringPoint(deflection=0.04, force=1200.0),
        SpringPoint(deflection=0.08, force=2400.0),
    )
    longer = paste("50\n90\n130", (1, 0))
    assert [point.deflection for point in longer] == pytest.approx([-0.08, 0.05, 0.09, 0.13])  # type: ignore[attr-defined]
    assert len(longer) == 4


def test_a_single_line_goes_over_the_chosen_one() -> None:
    assert paste("60\t1700", (1, 0))[1] == SpringPoint(deflection=0.06, force=1700.0)
    assert paste("60\t1700", (1, 1))[0] == ROWS[0]


def test_what_was_copied_gives_the_same_rows() -> None:
    text = rows_text(CURVE.columns, ROWS, METRIC)
    assert text.splitlines()[:2] == ["Deflection (mm)\tForce (N)", "-80\t-2000"]
    assert paste(text) == ROWS
    loads = (Load(name="driver, and bag", mass=82.5, x=-1.3, y=0.4, z=0.7), Load(name="fuel", mass=-40.0))
    there = rows_text(LOADS.columns, loads, {**METRIC, "mass": "lb"})
    back = pasted_rows(LOADS, (), there, (0, 0), METRIC)
    assert [load.name for load in back] == ["driver, and bag", "fuel"]  # type: ignore[attr-defined]
    # Twelve digits are copied.
    assert [load.mass for load in back] == pytest.approx([82.5, -40.0], rel=1e-11)  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("text", "place", "reason"),
    [
        ("", (0, 0), "no text"),
        ("1\t2\t3", (0, 0), r"3 columns, the table 2 from here on \(Deflection, Force\)"),
        ("1\tx\n2\t3", (0, 0), r"Force in line 1: 'x' is not a number"),
        ("1\t2\n3000\t4", (0, 0), r"Deflection in line 2: 3000 mm is outside the allowed range \(-1000 to"),
        ("1\t2\n3\t", (0, 0), "Force in line 2"),
        ("1\t2\n" * 1001, (0, 0), "1001 lines; a table holds up to 1000"),
        ("1" * 100_001, (0, 0), "100001 characters; a table holds up to 100000"),
        ("1 kg\t2\n3\t4", (0, 0), "'kg' does not measure the same as 'm'"),
    ],
)
def test_text_that_does_not_fit_is_refused_with_its_place(
    text: str, place: tuple[int, int], reason: str
) -> None:
    with pytest.raises(InputError, match=reason):
        paste(text, place)


def test_a_load_without_a_name_is_refused() -> None:
    with pytest.raises(InputError, match="at least 1"):
        pasted_rows(LOADS, (), "\t75\t-1\t0\t0.5\n", (0, 0), METRIC)
