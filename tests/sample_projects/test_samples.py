"""The sample projects open, save equal to the byte, and show what their notes promise."""

from __future__ import annotations

import re
from math import pi
from pathlib import Path

import pytest
from scipy.constants import g

from models.analysis import Analysis, analyse
from models.fields import replaced
from models.hardware import Hardware, mismatch
from models.judge import key_figures
from models.judge.scorecard import Cell, outcome, scorecard, wanted_cases
from models.part_loads import design_loads, part_figures
from models.project import Project, load, save
from models.ride.channels import channel_index
from models.roads import road_class
from models.vehicle import AS_DESIGNED

FOLDER = Path(__file__).parents[2] / "sample_projects"
FILES = sorted(FOLDER.glob("*.corduroy"))
JOINED, COIL, SOFT = "joined torsion bars", "separate coil springs", "separate, just as soft"


def sample(stem: str) -> Project:
    return load(FOLDER / f"{stem}.corduroy")


def figures(project: Project, name: str) -> dict[str, float]:
    analysis = analyse(project.variant(name).vehicle, project.run)
    return {figure.key: figure.value for figure in key_figures(analysis)}


@pytest.fixture(scope="module")
def saloon() -> dict[str, dict[str, float]]:
    project = sample("large_saloon")
    return {name: figures(project, name) for name in project.names}


def test_all_samples_are_here() -> None:
    assert [file.stem for file in FILES] == [
        "gas_joined_wagon",
        "half_car_example",
        "large_saloon",
        "small_hatchback",
    ]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_sample_opens_and_saves_equal_to_the_byte(file: Path, tmp_path: Path) -> None:
    save(load(file), tmp_path / file.name)
    assert (tmp_path / file.name).read_bytes() == file.read_bytes()


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_sample_reads_nicely(file: Path) -> None:
    """Numbers as an engineer writes them, and a note that says what each variant is for."""
    assert re.findall(r"\d{8,}|\.\d{5,}", file.read_text(encoding="utf-8").partition('"vehicle"')[2]) == []
    project = load(file)
    assert project.note
    assert all(variant.note for variant in project.variants)
    assert project.baseline != project.candidate


RUNS = [
    (file.stem, variant, case)
    for file in FILES
    for project in [load(file)]
    for variant in project.names
    for case in [AS_DESIGNED.name, *(case.name for case in project.load_cases)]
]


@pytest.mark.parametrize(("stem", "variant", "case"), RUNS)
def test_every_sample_stands_and_keeps_its_energy(stem: str, variant: str, case: str) -> None:
    """In each load case, with an energy residual of at most 0.1 %, above which the program would warn."""
    project = replaced(sample(stem), ("load_case",), case)
    analysis = analyse(project.variant(variant).vehicle, project.run, project.load)
    assert analysis.stand.reason == ""
    if project.run.laws == "nonlinear":
        assert analysis.nonlinear is not None
        assert analysis.nonlinear.response.energy_residual <= 1e-3


STEEL = [
    (file.stem, variant.name)
    for file in FILES
    for variant in load(file).variants
    if variant.hardware != Hardware()
]


@pytest.mark.parametrize(("stem", "name"), STEEL)
def test_steel_of_the_samples_gives_their_rates_and_bears_their_loads(stem: str, name: str) -> None:
    """Rates, levers and motor within 1 %, stresses and pressures within the limits of the material."""
    project = sample(stem)
    variant = project.variant(name)
    assert mismatch(variant.vehicle, variant.hardware, 0.01, design_loads(variant.vehicle)) == ()
    for place, figures in part_figures(variant.vehicle, variant.hardware, project.load_cases).items():
        values = {figure.key: figure.value for figure in figures}
        assert values.get("safety", 2.0) > 1.1, place
        assert values.get("reverse_stress", 0.0) == 0.0, place
        assert values.get("travel_to_solid", 1.0) > 0.0, place
        assert values.get("buckling_use", 0.0) < 1.0, place


def test_every_variant_of_the_saloon_has_its_steel() -> None:
    assert {name for stem, name in STEEL if stem == "large_saloon"} == {JOINED, COIL, SOFT}


def test_saloon_runs_on_class_c_at_80_km_h() -> None:
    run = sample("large_saloon").run
    assert run.speed * 3.6 == pytest.approx(80.0, rel=1e-15)
    assert road_class(run.surface.roughness) == "C"


def test_targets_of_the_saloon_tell_the_variants_apart() -> None:
    """Coupling meets the targets of levelness and of comfort, and pays with tyre load in front."""
    project = sample("large_saloon")
    card = scorecard(project, {case: outcome(case) for case in wanted_cases(project)})
    met = {
        name: {row.figure.key for row in card.rows if row.of_project and _passed(row.cells[place])}
        for place, name in enumerate(card.variants)
    }
    level, comfort = {"rms_pitch", "pitch_share"}, {"rms_weighted_seat_acceleration"}
    travel = {"jounce_margin_front", "jounce_margin_rear"}
    tyres = {"dynamic_tyre_load_front", "dynamic_tyre_load_rear"}
    assert {target.metric for target in project.targets} == level | comfort | travel | tyres
    assert met[JOINED] == level | comfort | travel | {"dynamic_tyre_load_rear"}
    assert met[SOFT] == comfort | travel | tyres
    assert met[COIL] == travel | tyres


def _passed(cell: Cell) -> bool:
    return cell.verdict is not None and cell.verdict.passed


def test_coupling_keeps_the_saloon_more_level_than_softness_alone(
    saloon: dict[str, dict[str, float]],
) -> None:
    """Common practice: that is what the coupling is for.

    The bounds are what an engineer would call clearly lower; the figures stand well below them.
    """
    joined, soft = saloon[JOINED], saloon[SOFT]
    assert joined["rms_pitch"] < 0.7 * soft["rms_pitch"]
    assert joined["rms_pitch_acceleration"] < 0.93 * soft["rms_pitch_acceleration"]


def test_coupling_lessens_the_pitch_over_the_bump() -> None:
    """Clearly in the linear run; with the real dampers, harder in rebound than in jounce, by less."""
    project = sample("large_saloon")
    for laws, bound in (("linear", 0.8), ("nonlinear", 0.9)):
        run = replaced(project.run, ("laws",), laws)
        peaks = {
            name: {
                figure.key: figure.value
                for figure in key_figures(analyse(project.variant(name).vehicle, run))
            }
            for name in (JOINED, SOFT)
        }
        assert peaks[JOINED]["peak_pitch"] < bound * peaks[SOFT]["peak_pitch"]


def test_joined_and_soft_saloon_differ_in_pitch_and_not_in_softness(
    saloon: dict[str, dict[str, float]],
) -> None:
    """Within 3 %, little beside the differences above, so that those are not owed to softness."""
    for key in ("heave_rate", "bounce_frequency", "rms_heave_acceleration", "roll_rate"):
        assert saloon[JOINED][key] == pytest.approx(saloon[SOFT][key], rel=0.03), key
    assert saloon[COIL]["roll_rate"] == pytest.approx(saloon[JOINED]["roll_rate"], rel=0.03)


def test_saloon_stays_in_the_neighbourhood_of_real_cars(saloon: dict[str, dict[str, float]]) -> None:
    """Common practice: heave of a comfortable car near 1.2 Hz, a quarter to a third of critical damping."""
    for name, figure in saloon.items():
        assert 1.05 < figure["bounce_frequency"] < 1.3, name
        assert 0.25 <= figure["bounce_damping"] < 0.35, name
        assert 0.25 <= figure["pitch_damping"] < 1.0, name
    assert saloon[COIL]["front_ride_frequency"] < saloon[COIL]["rear_ride_frequency"]
    assert saloon[JOINED]["pitch_frequency"] < 0.5
    assert 0.7 < saloon[JOINED]["coupling_fraction_left"] < 1.0


def test_coupling_levels_the_hatchback() -> None:
    """Common practice, as for the saloon; its lever ratios stand in the ratio of the wheel loads."""
    project = sample("small_hatchback")
    conventional, joined = figures(project, "conventional"), figures(project, "joined")
    assert joined["peak_pitch"] < 0.7 * conventional["peak_pitch"]
    assert joined["rms_pitch"] < 0.85 * conventional["rms_pitch"]
    assert joined["roll_rate"] == pytest.approx(conventional["roll_rate"], rel=0.03)
    vehicle = project.variant("joined").vehicle
    bar, a = vehicle.left.coupling, vehicle.body.cg_to_front_axle
    # 2 % is the rounding of the lever ratios to two digits.
    assert bar.front_lever_ratio / bar.rear_lever_ratio == pytest.approx(
        (vehicle.wheelbase - a) / a, rel=0.02
    )


@pytest.mark.parametrize(
    ("kilometres_per_hour", "laws", "bounds"),
    [
        (10.0, "linear", (0.50, 0.57)),
        (10.0, "nonlinear", (0.55, 0.62)),
        (80.0, "linear", (0.84, 0.89)),
        (80.0, "nonlinear", (0.89, 0.94)),
    ],
)
def test_coupling_lessens_the_twist_of_the_frame_over_a_bump_on_one_side(
    kilometres_per_hour: float, laws: str, bounds: tuple[float, float]
) -> None:
    """Peak torsion, joined over equally soft and separate: what the project's note says.

    A wheel that rises slowly warps the car; springs at the wheels hold against that, bars that load both
    ends of a side alike do not.  Dampers, which rule at speed, are joined in neither.  The bounds are the
    figures found (0.53, 0.59, 0.865, 0.918) with 0.03 on either side.
    """
    project = sample("large_saloon")
    run = replaced(project.run, ("event", "side"), "left")
    run = replaced(replaced(run, ("laws",), laws), ("speed",), kilometres_per_hour / 3.6)
    run = replaced(run, ("duration",), 8.0)
    twist = {
        name: abs(analyse(project.variant(name).vehicle, run).time.channel("frame_torsion")).max()
        for name in (JOINED, SOFT)
    }
    assert bounds[0] < twist[JOINED] / twist[SOFT] < bounds[1]


def test_stabilisers_do_most_of_the_twist_that_joining_leaves_at_walking_pace() -> None:
    """As the note says: of the peak at 10 km/h more than half is theirs in the joined car."""
    project = sample("large_saloon")
    run = replaced(replaced(project.run, ("event", "side"), "left"), ("speed",), 10 / 3.6)
    run = replaced(run, ("duration",), 8.0)
    shares = {}
    for name in (JOINED, SOFT):
        analysis = analyse(project.variant(name).vehicle, run)
        assert analysis.nonlinear is not None
        torsion = analysis.time.channel("frame_torsion")
        peak = int(abs(torsion).argmax())
        force = analysis.nonlinear.response.element_force
        change = force[:, peak] - force[:, 0]
        bars = [number for number, e in enumerate(analysis.car.elements) if "stabiliser" in e.name]
        shares[name] = float(analysis.car.section.force[1, bars] @ change[bars] / torsion[peak])
    assert shares[JOINED] > 0.5 > shares[SOFT] > 0.0


def test_fluid_joins_the_wagon_and_keeps_it_level() -> None:
    """What its notes say: two thirds on the fluid, soft in heave as with gas springs, and much less pitch."""
    project = sample("gas_joined_wagon")
    joined, alone = (figures(project, name) for name in ("fluid and gas joined", "gas spring at each wheel"))
    assert joined["heave_rate"] == pytest.approx(alone["heave_rate"], rel=0.05)
    assert joined["pitch_rate"] < 0.5 * alone["pitch_rate"]
    assert joined["peak_pitch"] < 0.75 * alone["peak_pitch"]
    assert joined["rms_pitch"] < 0.8 * alone["rms_pitch"]
    analysis = analyse(project.variant("fluid and gas joined").vehicle, project.run)
    elements = zip(analysis.car.elements, analysis.stand.force, strict=True)
    fluid = sum(
        force * sum(element.incidence[:4])
        for element, force in elements
        if element.name.endswith("fluid interconnection")
    )
    assert fluid / (analysis.vehicle.body.mass * g) == pytest.approx(2 / 3, abs=0.04)


def half_car(name: str) -> Analysis:
    project = sample("half_car_example")
    return analyse(project.variant(name).vehicle, project.run)


def test_half_car_has_the_published_frequencies_and_motion_centres() -> None:
    """S. S. Rao, Mechanical Vibrations, ch. 5, automobile example: inputs as printed, answers from memory.

    Each number to half a unit of its last printed digit.
    """
    plane = half_car("as in the book").pitch_plane
    assert plane.names == ("bounce", "pitch")
    assert [2 * pi * f for f in plane.frequency] == pytest.approx([5.8593, 9.4341], abs=5e-5)
    assert plane.motion_centre == pytest.approx((-2.6461, 0.3061), abs=5e-5)


def test_light_wheels_and_stiff_tyres_leave_the_body_that_of_the_book() -> None:
    """All four degrees of freedom against the two of the book.

    Springs of 11 N/mm on tyres of 1e6 N/mm lose 1.1e-5 of their rate, hence half of that in frequency.
    """
    analysis = half_car("as in the book")
    found = [analysis.modes.frequency[analysis.modes.index(name)] for name in ("bounce", "pitch")]
    assert found == pytest.approx(analysis.pitch_plane.frequency, rel=0.55e-5 * 1.001)
    assert max(found) < max(analysis.pitch_plane.frequency)


def test_half_car_of_dynamic_index_one_turns_about_its_axles() -> None:
    """Closed form: with k² = a b the axles are the nodes, ω² = k_f L / (m b) and k_r L / (m a)."""
    plane = half_car("dynamic index 1").pitch_plane
    assert plane.dynamic_index == pytest.approx(1.0, rel=1e-14)
    # Rounding only: the two lever arms and rates are exact decimals of a few digits.
    assert sorted(plane.motion_centre) == pytest.approx([-1.5, 1.0], rel=1e-12)
    expected = [(18e3 * 2.5 / (1000 * 1.5)) ** 0.5, (22e3 * 2.5 / (1000 * 1.0)) ** 0.5]
    assert [2 * pi * f for f in plane.frequency] == pytest.approx(expected, rel=1e-12)


def test_half_car_of_dynamic_index_one_rests_over_the_axle_that_meets_no_bump() -> None:
    """What the note says: while only the front is on the bump, the body over the rear axle stays at rest.

    One part in a thousand is what the light wheels of the sample still pass on.
    """
    analysis = half_car("dynamic index 1")
    heave, pitch = (analysis.time.y[channel_index(key)] for key in ("heave", "pitch"))
    bump, wheelbase = 5.0, 2.5
    before = analysis.time.t < (bump + wheelbase) / analysis.run.speed  # the rear axle is not there yet
    over_rear, over_front = (heave + 1.5 * pitch)[before], (heave - 1.0 * pitch)[before]
    assert abs(over_front).max() > 0.01
    assert abs(over_rear).max() < 1e-3 * abs(over_front).max()
