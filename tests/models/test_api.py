"""The Python API holds and converts; what it gives is what the functions of the program give."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pint
import pytest
import scipy.io

from models import api as corduroy
from models.analysis import analyse
from models.fields import replaced
from models.judge import key_figures
from models.project import load
from models.ride.channels import CHANNELS
from models.studies import ask, run_study
from models.study import Parameter, Sweep
from models.units import INCH_POUND, KINDS, factor, quantity
from workbench import cli

SALOON = Path(__file__).parents[2] / "sample_projects" / "large_saloon.corduroy"
JOINED = "joined torsion bars"


@pytest.fixture
def project() -> corduroy.Project:
    return corduroy.open_project(SALOON)


def test_figures_histories_and_spectra_are_those_of_the_program(project: corduroy.Project) -> None:
    result = project.car(JOINED).analyse()
    data = load(SALOON)
    plain = analyse(data.variant(JOINED).vehicle, data.run, data.load)
    for figure in key_figures(plain):
        measured = result.figures[figure.key]
        np.testing.assert_allclose(measured.magnitude * _scale(figure.kind), figure.value, rtol=1e-15)
    for number, channel in enumerate(CHANNELS):
        # Once over the unit and back: two roundings.
        scale = _scale(channel.kind)
        np.testing.assert_allclose(
            result.time[channel.key].magnitude * scale, plain.time.y[number], rtol=4e-16
        )
        psd = result.spectrum[channel.key].magnitude * scale**2
        np.testing.assert_allclose(psd, plain.ride.psd[number], rtol=4e-16)
    assert result.time.t.shape == plain.time.t.shape
    assert result.spectrum.frequency.check("[frequency]")
    np.testing.assert_array_equal(result.time["tyre_load_RL"].m_as("N"), plain.tyre_load[2])
    assert list(result.modes) == list(plain.modes.names)


def _scale(kind: str) -> float:
    return factor(KINDS[kind].usual, KINDS[kind].si)


def test_psd_integrates_to_rms_in_any_unit(project: corduroy.Project) -> None:
    spectrum = project.car().analyse().spectrum
    psd = spectrum["heave_acceleration"].to("g0**2/Hz")
    mean_square = np.trapezoid(psd.magnitude, spectrum.frequency.m_as("Hz"))
    rms = spectrum.rms["heave_acceleration"].m_as("g0")
    # The program integrates the wheelbase filter in closed form, the trapezoid only at its 400 points.
    assert np.sqrt(mean_square) == pytest.approx(rms, rel=1e-2)


@pytest.mark.parametrize(
    "value",
    [
        "18 N/mm",
        18000.0,
        corduroy.Quantity(18, "N/mm"),
        corduroy.Quantity(18, "kN/m"),
        pint.UnitRegistry().Quantity(18, "N/mm"),  # of a notebook's own registry
    ],
    ids=["text", "SI", "quantity", "other unit", "other registry"],
)
def test_values_are_set_alike_from_texts_numbers_and_quantities(
    project: corduroy.Project, value: object
) -> None:
    car = project.car(JOINED)
    car["front.spring.rate"] = value
    assert car.vehicle.front.spring.rate == 18000.0
    assert car["front.spring.rate"] == corduroy.Quantity(18, "N/mm")
    assert project.car("separate coil springs").vehicle.front.spring.rate == 27000.0


def test_every_number_of_a_car_can_be_got_and_set_again(project: corduroy.Project) -> None:
    car = project.car(JOINED)
    before = project.data
    for place, note in car.numbers.items():
        measured = car[place]
        if note.kind_name == "ratio":
            assert measured.dimensionless
        car[place] = measured
    assert project.data == before


@pytest.mark.parametrize(
    ("place", "value", "reason"),
    [
        ("front.spring.rate", "18 mm", r"'mm' does not measure the same as 'N/m' \(0 to 2000 N/mm\)"),
        ("front.spring.rate", corduroy.Quantity(3, "m"), r"\(0 to 2000 N/mm\)"),
        ("front.spring.rate", corduroy.Quantity([1, 2], "N/mm"), "no single number"),
        ("front.spring.rate", -1.0, "outside the allowed range"),
        ("front.sprng.rate", 1.0, r"no 'sprng' in 'front' \(there are: track, wheels, spring"),
        ("right.coupling.bar_rate", 1.0, "nothing in 'right'; set it as a whole first"),
        ("variants.9.note", "", r"no '9' in 'variants' \(there are: 0, 1, 2\)"),
        ("left.coupling.sense", "sideways", "levelling"),
        ("__class__.x", 1.0, "no '__class__'"),
    ],
)
def test_what_is_refused_says_what_is_allowed_and_changes_nothing(
    project: corduroy.Project, place: str, value: object, reason: str
) -> None:
    before = project.data
    with pytest.raises(corduroy.InputError, match=reason):
        project.car(JOINED)[place] = value
    assert project.data == before


def test_tried_values_leave_the_project_alone(project: corduroy.Project) -> None:
    before = project.data
    tried = project.car(JOINED).analyse({"rear.spring.rate": "10 N/mm", "run.speed": "120 km/h"})
    vehicle = replaced(before.variant(JOINED).vehicle, ("rear", "spring", "rate"), 10e3)
    plain = analyse(vehicle, replaced(before.run, ("speed",), "120 km/h"), before.load)
    assert {key: one.value for key, one in tried.described.items()} == {
        one.key: one.value for one in key_figures(plain)
    }
    assert project.data is before


def test_a_copied_car_compares_with_the_baseline_and_outlives_the_file(
    project: corduroy.Project, tmp_path: Path
) -> None:
    copy = project.car(JOINED).copy("stiffer")
    copy["left.coupling.bar_rate"] = "1500 N·m/rad"
    comparison = project.compare("stiffer")
    assert comparison.names == ("stiffer", "separate coil springs")
    values, changes = comparison.values("rms_pitch"), comparison.changes("rms_pitch")
    assert changes["stiffer"].m == pytest.approx(values["stiffer"].m - values[comparison.baseline].m)
    assert comparison.verdicts("rms_pitch")["stiffer"].passed
    assert not comparison.verdicts("rms_pitch")[comparison.baseline].passed
    assert ("left", "coupling", "bar_rate") in [one.path for one in comparison.differences["stiffer"]]
    with pytest.raises(corduroy.InputError, match="no figure 'nonsense'"):
        comparison.values("nonsense")
    project.save(tmp_path / "mine.corduroy")
    assert corduroy.open_project(tmp_path / "mine.corduroy").data == project.data


def test_a_study_is_answered_as_the_program_answers_it(project: corduroy.Project) -> None:
    rate = Parameter(place="front.spring.rate", kind="rate", low=10e3, high=30e3)
    study = Sweep(parameter=rate, points=3)
    values = project.study(study).columns.values
    np.testing.assert_array_equal(values, run_study(ask(project.data, study)).columns.values)
    with pytest.raises(corduroy.InputError, match="study"):
        project.study("none of this name")


def test_a_car_that_does_not_stand_is_found_and_says_so() -> None:
    project = corduroy.new_project("loose")
    car = project.car()
    for place in ("front.spring.rate", "rear.spring.rate"):
        car[place] = 0.0
    for axle in ("front", "rear"):
        for stop in ("bump_stop", "rebound_stop"):
            car[f"{axle}.{stop}"] = {"gap": "70 mm", "rate": "0 N/mm", "growth": "0 N/mm²"}
    result = car.analyse()
    assert not result.stands
    assert result.why_not
    found = [one for one in project.check() if one.subject == "stand"]
    assert (found[0].variant, found[0].remark) == (car.name, False)
    assert result.why_not in found[0].reason


def test_a_new_project_needs_a_path(project: corduroy.Project) -> None:
    with pytest.raises(corduroy.InputError, match="needs a path"):
        corduroy.new_project().save()


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_quantity_has_a_pint_unit_in_both_systems(kind: str) -> None:
    for units in ({name: one.usual for name, one in KINDS.items()}, INCH_POUND):
        measured = quantity(1.0, kind, units)
        assert measured.to_base_units().magnitude == pytest.approx(
            quantity(1.0, kind, {kind: KINDS[kind].si}).to_base_units().magnitude, rel=1e-12
        )


def test_data_go_to_files_and_columns_as_they_are(project: corduroy.Project, tmp_path: Path) -> None:
    result = project.car(JOINED).analyse()
    table = result.table("time")
    np.testing.assert_array_equal(table["Pitch angle (deg)"], result.time["pitch"].m_as("deg"))
    path = result.export(tmp_path / "run.csv")
    assert f"variant: {JOINED}" in path.read_text(encoding="utf-8")
    read = np.genfromtxt(path, delimiter=",", comments="#", skip_header=8)
    np.testing.assert_array_equal(read, np.column_stack(list(table.values())))
    matrix = scipy.io.loadmat(result.export(tmp_path / "run.mat", "spectrum", "si"))
    assert "pitch" in {name for name in matrix if not name.startswith("__")}
    names = [path.name for path in project.export(tmp_path / "data", JOINED, what=("time", "sweep"))]
    assert names == ["time-joined-torsion-bars.csv", "sweep-joined-torsion-bars.csv"]
    assert (tmp_path / "data" / names[0]).read_bytes() == path.read_bytes()


def test_what_cannot_be_written_says_what_can(project: corduroy.Project, tmp_path: Path) -> None:
    result = project.car(JOINED).analyse()
    with pytest.raises(corduroy.InputError, match=r"no format '\.xls' \(there are: \.csv, \.mat, \.mf4\)"):
        result.export(tmp_path / "run.xls")
    with pytest.raises(corduroy.InputError, match="no data 'noise'"):
        result.table("noise")
    with pytest.raises(corduroy.InputError, match="no units 'furlong'"):
        result.table(units="furlong")
    with pytest.raises(corduroy.InputError, match="'nobody' is no variant"):
        project.export(tmp_path / "none", "nobody")
    with pytest.raises(corduroy.InputError, match="name a file"):
        project.review()
    with pytest.raises(corduroy.InputError, match="sections"):
        project.review(tmp_path / "x.pdf", sections=("nonsense",))
    with pytest.raises(corduroy.InputError, match="no option 'papper'"):
        project.review(tmp_path / "x.pdf", papper="letter")
    assert not list(tmp_path.iterdir())


def test_a_review_of_kept_results_is_that_of_the_command(
    project: corduroy.Project, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rate = Parameter(place="front.spring.rate", kind="rate", low=10e3, high=30e3)
    project["studies"] = (Sweep(name="rates", parameter=rate, points=3),)
    with pytest.raises(corduroy.InputError, match="save the project first"):
        corduroy.Project(project.data).study("rates", keep=True)
    file = project.save(tmp_path / "mine.corduroy")
    project.study("rates", keep=True)
    sections = ("studies", "cautions")
    made = project.review(
        html=tmp_path / "api.html", sections=sections, studies=("rates",), date="2026-11-25", paper="letter"
    )
    assert [one.problem for one in made.sections] == ["", ""]
    asked = f"review {file} --html {tmp_path / 'command.html'} --sections studies,cautions"
    assert cli.main([*asked.split(), "--study", "rates", "--date", "2026-11-25", "--paper", "letter"]) == 0
    assert made.inputs in capsys.readouterr().out
    assert (tmp_path / "api.html").read_bytes() == (tmp_path / "command.html").read_bytes()


def test_names_that_are_not_there_are_told_as_of_any_mapping(project: corduroy.Project) -> None:
    result = project.car(JOINED).analyse()
    spectrum = result.spectrum
    for named in (result.time, spectrum, spectrum.rms, result.figures, result.described, result.modes):
        assert "nonsense" not in named
        assert named.get("nonsense", 7) == 7
        assert next(iter(named)) in named
        assert next(iter(named)) in repr(named)
        with pytest.raises(corduroy.InputError, match=r"there is no \w+ 'nonsense' \(there are: "):
            named["nonsense"]
