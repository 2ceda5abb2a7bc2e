"""Arrows of the forces: their lengths, and their places on the car."""

from __future__ import annotations

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.ride.corner_forces import PARTS, corner_forces
from models.roads import OneMinusCosine
from models.run import Run
from tests.cars import EVERYTHING
from workbench.stage.forces import LETTERS, Arrow, Kind, arrows, newtons_per_metre, shown_parts
from workbench.stage.scene import stage_frame

TIME, SCALE = 0.4, 5e3


@pytest.fixture(scope="module")
def full() -> Analysis:
    return analyse(EVERYTHING, Run(event=OneMinusCosine(height=0.06), duration=1.0))


def shown(analysis: Analysis, kind: Kind, time: float = TIME) -> dict[tuple[str, str], Arrow]:
    made = arrows(analysis, stage_frame(analysis, time, 5.0), kind, SCALE)
    parts = shown_parts(analysis)
    assert [arrow.part for arrow in made] == [*parts, *parts]
    ends = ["front"] * len(parts) + ["rear"] * len(parts)
    return {(end, arrow.part): arrow for end, arrow in zip(ends, made, strict=True)}


@pytest.mark.parametrize("kind", ["change", "whole"])
def test_lengths_are_the_forces_of_the_near_side(full: Analysis, kind: Kind) -> None:
    made = shown(full, kind)
    response = full.nonlinear.response
    forces = corner_forces(full.car, full.model, full.stand, full.time, response)
    sample = int(np.argmin(np.abs(full.time.t - TIME)))
    values = (forces.force if kind == "whole" else forces.change)[:, :, sample]
    tyre = response.tyre_force[:, sample] - (0 if kind == "whole" else full.stand.tyre_force)
    for end, corner in (("front", 1), ("rear", 3)):
        assert SCALE * made[end, "tyre"].height == pytest.approx(tyre[corner], abs=1e-3)
        for part, force in zip(PARTS, values[:, corner], strict=True):
            if (end, part) in made:
                assert SCALE * made[end, part].height == pytest.approx(force, abs=1e-6)


def test_arrows_stand_at_their_parts(full: Analysis) -> None:
    frame, made = stage_frame(full, TIME, 5.0), shown(full, "whole")
    for end, wheel in (("front", frame.near.front), ("rear", frame.near.rear)):
        assert made[end, "tyre"].tail.z == wheel.road
        assert made[end, "spring"].tail == wheel.spring.mount
        assert made[end, "damper"].tail == wheel.damper.mount
        assert made[end, "stabiliser"].tail == wheel.stabiliser.mount
    assert made["front", "interconnection"].tail == frame.link.front.root
    assert made["rear", "interconnection"].tail == frame.link.rear.root
    places = {arrow.tail for arrow in made.values()}
    assert len(places) == len(made)


def test_at_rest_nothing_has_changed_and_the_whole_car_is_carried(full: Analysis) -> None:
    assert all(abs(arrow.height) < 1e-9 for arrow in shown(full, "change", 0.0).values())
    load = sum(arrow.height for (_, part), arrow in shown(full, "whole", 0.0).items() if part == "tyre")
    near = float(full.stand.tyre_force[[1, 3]].sum())
    assert SCALE * load == pytest.approx(near)


def test_the_scale_fits_the_largest_tyre_force(full: Analysis, joined: Analysis) -> None:
    for kind in ("change", "whole"):
        scale = newtons_per_metre([full, joined], kind)
        largest = max(
            np.abs(a.tyre_load - (a.tyre_load[:, :1] if kind == "change" else 0)).max()
            for a in (full, joined)
        )
        assert largest / scale == pytest.approx(0.6)


def test_every_part_has_a_letter_of_its_own() -> None:
    assert set(LETTERS) == {"tyre", *PARTS}
    assert len(set(LETTERS.values())) == len(LETTERS)
