"""Every field, figure and chart has its section in the built pages."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from models.analysis import analyse
from models.charts import CHART_CHOICES
from models.fields import Part, Path, described
from models.judge import key_figures
from models.project import Project, new_project
from models.ride.levelling_event import LevellingEvent
from models.run import Run
from models.vehicle import Vehicle
from tests.workbench.help.pages import Pages
from workbench.help.anchors import (
    chart_place,
    field_anchor,
    field_place,
    figure_family,
    figure_place,
    part_anchor,
    part_types,
    path_place,
    slug,
    theory_of,
)
from workbench.help.reference.charts import FAMILIES
from workbench.help.reference.figures import figure_groups
from workbench.help.reference.parameters import documented_parts


def test_every_field_of_every_part_has_a_place(pages: Pages) -> None:
    missing = [
        (part.__name__, name)
        for part in documented_parts()
        for name, note, _ in described(part)
        if note is not None and not pages.has(field_place(part, name))
    ]
    assert missing == []


def test_every_part_has_a_place_and_a_theory(pages: Pages) -> None:
    every = {anchor for page in pages.by_place.values() for anchor in page.anchors}
    for part in documented_parts():
        assert pages.has(field_place(part, "no such field")), part
        assert theory_of(part) in every, part


def test_parts_of_vehicle_hardware_roads_targets_and_studies_are_among_them() -> None:
    names = {part.__name__ for part in documented_parts()}
    wanted = {"Vehicle", "GasSpring", "RockerPushrod", "CoilSpring", "SNCurve", "SineSweep", "RoadShare"}
    wanted |= {"Run", "BrakeInTurn", "Target", "ParetoSearch", "ToleranceDraw", "Situation", "LevellingEvent"}
    assert wanted <= names
    assert set(part_types(LevellingEvent)) <= set(documented_parts())


def test_no_two_fields_share_an_anchor() -> None:
    anchors = [
        field_anchor(part, name)
        for part in documented_parts()
        for name, note, _ in described(part)
        if note is not None
    ]
    anchors += [part_anchor(part) for part in documented_parts()]
    assert len(anchors) == len(set(anchors))


def _paths(part: Part, above: Path) -> Iterator[Path]:
    for name, note, _ in described(type(part)):
        if note is None:
            continue
        path, value = (*above, name), getattr(part, name)
        yield path
        for number, inner in enumerate(value) if isinstance(value, tuple) else ():
            if isinstance(inner, Part):
                yield from _paths(inner, (*path, number))
        if isinstance(value, Part):
            yield from _paths(value, path)


def test_every_path_of_a_project_leads_to_its_field(pages: Pages) -> None:
    project = new_project()
    paths = list(_paths(project, ()))
    assert len(paths) > 100
    assert [path for path in paths if not pages.has(path_place(project, path))] == []
    spring = path_place(project, ("variants", 0, "vehicle", "front", "spring", "rate"))
    assert spring == "parameters-car.html#field-spring-rate"


def test_a_part_of_no_project_has_no_place() -> None:
    class Elsewhere(Part):
        number: int = 1

    assert path_place(Elsewhere(), ("number",)) == ""
    assert path_place(Vehicle(), ()) == ""


def test_every_key_figure_has_a_place(pages: Pages) -> None:
    figures = key_figures(analyse(Vehicle(), Run(laws="linear", duration=0.2), compiled=False))
    keys = [figure.key for figure in figures]
    keys += [f"mix_{key}" for key in keys] + [f"run_{key}" for key in keys]
    assert [key for key in keys if not pages.has(figure_place(key))] == []


def test_every_figure_of_the_pages_has_a_place(pages: Pages) -> None:
    keys = {figure.key for group in figure_groups() for _, figure in group.figures}
    assert len(keys) > 250
    assert [key for key in sorted(keys) if not pages.has(figure_place(key))] == []


@pytest.mark.parametrize(
    ("key", "family"),
    [
        ("rms_pitch", "rms_pitch"),
        ("mix_rms_pitch", "rms_pitch"),
        ("run_rms_pitch", "rms_pitch"),
        ("shear_stress_case_3", "shear_stress"),
        ("clearance_front_lip", "clearance"),
        ("link_force_1", "link_force"),
        ("force", "force"),
    ],
)
def test_figures_that_come_many_times_are_told_once(key: str, family: str) -> None:
    assert figure_family(key) == family


def test_every_chart_has_a_place(pages: Pages) -> None:
    keys = [*CHART_CHOICES, *FAMILIES]
    keys += ["speed-rms_pitch", "law-front-force-all", "law-cushion-force", "linkage-ratio", "road-profile"]
    keys += ["levelling-false-actuations", "fatigue-sn", "stack-heights", "steel-size-life"]
    keys += ["study-map-rms_pitch", "stabiliser-stress", "packaging-envelope"]
    assert [key for key in keys if not pages.has(chart_place(key))] == []


def test_anchors_are_plain_words() -> None:
    assert slug("SNCurve") == "sncurve"
    assert slug("DigressiveDamper") == "digressive-damper"
    assert slug("Load cases") == "load-cases"
    assert all(slug(part_anchor(part)) == part_anchor(part) for part in part_types(Project))
