"""The example scripts run, and print what they are about."""

from __future__ import annotations

import re
import runpy
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "sample_projects" / "examples"

#: Of each script something that it prints only when it has computed it.
EXPECTED = {
    "compare_roads": r"120 km/h  joined torsion +\d\.\d+ +\d\.\d+ +\d\.\d+",
    "first_ride": r"joined torsion bars\n  pitch frequency    0\.46 Hz",
    "tolerance_study": r"\d+ of 200 cars meet all targets",
    "tune_interconnection": r"Refused: .*does not measure the same as 'N·m/rad'",
}


def test_every_example_is_tried() -> None:
    assert {path.stem for path in EXAMPLES.glob("*.py")} == set(EXPECTED)


@pytest.mark.parametrize("name", EXPECTED)
def test_example_runs(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    runpy.run_path(str(EXAMPLES / f"{name}.py"), run_name="__main__")
    out = capsys.readouterr().out
    assert re.search(EXPECTED[name], out), out
    assert "nan" not in out


def test_a_worse_road_pitches_the_car_in_proportion(capsys: pytest.CaptureFixture[str]) -> None:
    """Of classes a factor of 4 apart in roughness, a linear car has RMS values a factor of 2 apart."""
    runpy.run_path(str(EXAMPLES / "compare_roads.py"), run_name="__main__")
    rows = re.findall(
        r"^\d+ km/h +[a-z, ]{14} +([\d.]+) +([\d.]+) +([\d.]+)$", capsys.readouterr().out, re.MULTILINE
    )
    assert len(rows) == 9
    for row in rows:
        a, b, c = map(float, row)
        # Printed with three decimals of values from 0.4 on.
        assert (b / a, c / b) == pytest.approx((2.0, 2.0), rel=3e-3)
