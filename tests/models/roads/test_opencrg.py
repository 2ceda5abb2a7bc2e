"""Roads in OpenCRG, written here by hand of the format's description, and their damage."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from models.errors import InputError
from models.roads.opencrg import parse_opencrg, read_opencrg, tracks

HEAD = """$CT
a road   ! with a comment
$ROAD_CRG
REFERENCE_LINE_START_U = 100.0
reference_line_increment = 0.5   ! m
long_section_v_right = -1.0
long_section_v_left = 1.0
* a comment
{more}$KD_Definition
#:{kind}
{reference}D:long section 1,m
D:long section 2,m
D:long section 3,m
$
$$$$$$$$
"""
HEIGHTS = np.array([[0.1, 0.2, 0.3], [0.4, np.nan, 0.6], [0.7, 0.8, 0.9], [-1.0, 0.0, 1.0]])


def head(kind: str, reference: str = "", more: str = "") -> bytes:
    return HEAD.format(kind=kind, reference=reference, more=more).encode()


def written(matrix: np.ndarray, width: int) -> bytes:
    """Records of formatted numbers, a new record for each row."""
    rows, per_record = [], 80 // width
    for row in matrix:
        words = ["*missing*".rjust(width) if np.isnan(x) else f"{x:{width}.6f}" for x in row]
        rows += ["".join(words[n : n + per_record]) for n in range(0, len(words), per_record)]
    return ("\n".join(rows) + "\n").encode()


def packed(matrix: np.ndarray, kind: str) -> bytes:
    """Big-endian floats in records of 80 bytes, the last filled up with NaN."""
    size = 4 if kind == "KRBI" else 8
    values = matrix.ravel()
    fill = -len(values) % (80 // size)
    return np.concatenate([values, np.full(fill, np.nan)]).astype(f">f{size}").tobytes()


def content(kind: str, matrix: np.ndarray = HEIGHTS, reference: str = "", more: str = "") -> bytes:
    body = packed(matrix, kind) if kind[0] == "K" else written(matrix, 10 if kind == "LRFI" else 20)
    return head(kind, reference, more) + body


@pytest.mark.parametrize("kind", ["LRFI", "LDFI", "KRBI", "KDBI"])
def test_all_four_formats_hold_the_same_surface(kind: str) -> None:
    grid = parse_opencrg(content(kind))
    np.testing.assert_allclose(grid.z, HEIGHTS, rtol=1e-7)  # single precision
    np.testing.assert_allclose(grid.u, [100, 100.5, 101, 101.5])
    np.testing.assert_allclose(grid.v, [-1, 0, 1])
    assert grid.heading is None
    assert grid.remarks == ()


def test_rows_longer_than_a_record_go_on_in_the_next() -> None:
    more = "".join(f"D:reference line {word},{unit}\n" for word, unit in (("phi", "rad"), ("slope", "m/m")))
    matrix = np.hstack([np.arange(8).reshape(4, 2) / 10, HEIGHTS])
    grid = parse_opencrg(content("LDFI", matrix, more))
    np.testing.assert_array_equal(grid.z, HEIGHTS)
    np.testing.assert_array_equal(grid.heading, matrix[:, 0])
    np.testing.assert_array_equal(grid.slope, matrix[:, 1])


def test_wheels_run_between_the_sections() -> None:
    road = tracks(parse_opencrg(content("LDFI")), 1.0, "yard")
    np.testing.assert_allclose(road.left, [0.25, np.nan, 0.85, 0.5])
    np.testing.assert_allclose(road.right, [0.15, np.nan, 0.75, -0.5])
    on_sections = tracks(parse_opencrg(content("LDFI")), 2.0, "yard")
    np.testing.assert_array_equal(on_sections.left, HEIGHTS[:, 2])
    np.testing.assert_array_equal(on_sections.right, HEIGHTS[:, 0])


def test_slope_and_banking_of_the_reference_line_count() -> None:
    reference = "D:reference line slope,m/m\nD:reference line banking,m/m\n"
    # The first slope has no stretch before it and is not used.
    matrix = np.column_stack([[np.nan, 0.1, 0.1, 0.2], np.full(4, 0.05), np.zeros((4, 3))])
    road = tracks(parse_opencrg(content("LDFI", matrix, reference)), 1.0, "hill")
    np.testing.assert_allclose(road.left, np.array([0, 0.05, 0.1, 0.2]) + 0.025)
    np.testing.assert_allclose(road.right, np.array([0, 0.05, 0.1, 0.2]) - 0.025)


def test_wheels_beside_the_surface_are_refused() -> None:
    with pytest.raises(InputError, match=r"v = 1.1 m is beside the surface \(-1 to 1 m\)"):
        tracks(parse_opencrg(content("KRBI")), 2.2, "yard")


def test_modifiers_are_told_and_not_applied() -> None:
    changed = content("KRBI").replace(b"$KD_Def", b"$ROAD_CRG_MODS\nscale_z_grid = 2.0\n$KD_Def")
    assert parse_opencrg(changed).remarks == ("ROAD_CRG_MODS of the file not applied",)
    sloped = content("KRBI", more="reference_line_start_s = 0.02\n")
    assert parse_opencrg(sloped).remarks == ("constant slope of 0.02 left out",)


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", r"no line begins with \$\$\$\$"),
        (b"x,y\n1,2\n", "this is no OpenCRG file"),
        (content("KRBI").replace(b"KRBI", b"QQQQ"), "line 10: data in 'QQQQ' is not supported"),
        (content("LRFI").replace(b"section 2,m", b"section 2,mm"), "line 12: 'long section 2' is in 'mm'"),
        (content("LRFI").replace(b"= 0.5", b"= half"), "line 5: 'half' is no number"),
        (content("LRFI").replace(b"= 0.5", b"= 0"), "reference_line_increment is 0 m"),
        (content("LRFI").replace(b"line_increment", b"step"), "does not say reference_line_increment"),
        (content("LRFI").replace(b"_v_left = 1", b"_v_left = -3"), "do not go from right to left"),
        (content("LRFI").replace(b"  0.400000", b"  0.4o0000"), "line 17: number 1, '0.4o0000', is no num"),
        (content("LDFI")[:-30], "line 19: number 2, '', is no number"),
        (content("KRBI")[:-20], "the file is cut or damaged: row"),
        (content("KDBI", more="reference_line_end_u = 200\n"), "at u = 101.5 m, where the head says 200"),
        (content("KRBI", HEIGHTS * 1e9), "damaged at record 1: row 1, column 1 is 1e"),
        (head("KRBI"), "0 rows of data are no road"),
        (head("KRBI").replace(b"$KD_Def", b"$ROAD_CRG_FILE\nother.crg\n$KD_Def"), "in another file"),
        (head("KRBI").replace(b"D:", b"U:"), "the head defines no columns"),
    ],
)  # fmt: skip
def test_damage_is_told_with_its_place(data: bytes, reason: str) -> None:
    with pytest.raises(InputError, match=reason):
        parse_opencrg(data)


def test_a_column_that_is_no_long_section_is_none_of_the_heights() -> None:
    assert parse_opencrg(content("LRFI").replace(b"D:long section 2", b"D:lane")).z.shape == (4, 2)


def test_bytes_that_a_line_end_conversion_took_out_are_found() -> None:
    matrix = np.tile(HEIGHTS, (40, 1))
    whole = content("KRBI", matrix)
    body = len(head("KRBI"))
    with pytest.raises(InputError, match="cut or damaged"):
        parse_opencrg(whole[: body + 333] + whole[body + 334 :])


def test_file_is_named_in_its_errors(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"none\.crg: the file cannot be read"):
        read_opencrg(tmp_path / "none.crg")
    (tmp_path / "text.crg").write_text("no road")
    with pytest.raises(InputError, match=r"text\.crg: this is no OpenCRG file"):
        read_opencrg(tmp_path / "text.crg")


def test_cut_anywhere_it_is_refused_or_shorter() -> None:
    for kind in ("LRFI", "KRBI"):
        whole = content(kind, np.tile(np.nan_to_num(HEIGHTS), (10, 1)))
        for end in range(0, len(whole), 7):
            try:
                grid = parse_opencrg(whole[:end])
            except InputError:
                continue
            assert len(grid.z) <= 40
