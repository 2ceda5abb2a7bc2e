"""Road mix of a project."""

import numpy as np
import pytest

from models.errors import InputError
from models.fields import replaced
from models.project import dumps, loads, new_project
from models.roads import MeasuredRoad, RandomRoad, RoadShare, RoughSurface, mix_shares

MIX = (
    RoadShare(name="motorway", share=0.3, speed=30.0, roughness=16e-6),
    RoadShare(name="works yard", share=0.1, speed=5.0, event=MeasuredRoad(left="0 1 2", right="0 -1 0")),
)


def test_shares_count_in_proportion_to_their_sum() -> None:
    np.testing.assert_allclose(mix_shares(MIX), [0.75, 0.25])
    assert len(mix_shares(())) == 0


def test_a_share_without_an_event_is_the_random_surface() -> None:
    assert MIX[0].event == RandomRoad()
    assert MIX[0].surface == RoughSurface(roughness=16e-6)


def test_mix_is_kept_in_the_project_file() -> None:
    project = replaced(new_project(), ("road_mix",), MIX)
    assert loads(dumps(project)) == project
    assert '"share": "30 %"' in dumps(project)


def test_a_mix_without_any_distance_is_refused() -> None:
    with pytest.raises(InputError, match="add up to 0 %"):
        replaced(new_project(), ("road_mix",), (RoadShare(share=0.0),))


def test_a_share_can_be_exchanged_in_its_place() -> None:
    project = replaced(new_project(), ("road_mix",), MIX)
    assert replaced(project, ("road_mix", 1, "share"), 0.6).road_mix[1].share == 0.6
    with pytest.raises(InputError, match=r"Share: 150 % is outside the allowed range \(0 to 100 %\)"):
        replaced(project, ("road_mix", 1, "share"), 1.5)
