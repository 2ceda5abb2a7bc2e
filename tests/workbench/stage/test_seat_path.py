"""The path of the seat point behind the cars."""

from __future__ import annotations

import numpy as np
import pytest

from models.analysis import Analysis, analyse
from models.roads import SineSweep
from models.run import Run
from models.vehicle import Vehicle
from workbench.stage.scene import stage_frame
from workbench.stage.seat_path import SECONDS, seat_path
from workbench.stage.silhouette import silhouette


@pytest.mark.parametrize("factor", [1.0, 5.0])
@pytest.mark.parametrize("time", [0.1, 0.4205, 1.0])
def test_path_passes_where_the_seat_point_was(joined: Analysis, time: float, factor: float) -> None:
    path = seat_path(joined, silhouette(joined.vehicle))
    x, z = path.until(time, factor, reach=8.0, spacing=0.02)
    assert np.all(np.diff(x) > 0)
    assert x[0] >= -8.0 + path.x - joined.run.speed * 0.002
    for number in (0, len(x) // 2, len(x) - 1):
        # The frame that stood there, seen from where the front axle is now.
        moment = path.t[np.argmin(np.abs(path.x + path.speed * (path.t - time) - x[number]))]
        hip = stage_frame(joined, float(moment), factor).hip
        assert x[number] == pytest.approx(hip.x + joined.run.speed * (moment - time), abs=0.02)
        assert z[number] == pytest.approx(hip.z, abs=2e-3 * factor)


def test_path_ends_at_the_seat(joined: Analysis) -> None:
    time = float(joined.time.t[420])
    path = seat_path(joined, silhouette(joined.vehicle))
    x, z = path.until(time, 5.0, reach=8.0, spacing=0.05)
    hip = stage_frame(joined, time, 5.0).hip
    assert (x[-1], z[-1]) == pytest.approx((hip.x, hip.z), abs=1e-9)
    # Points stay the same from frame to frame but for the last one.
    later, _ = path.until(time + 0.02, 5.0, reach=8.0, spacing=0.05)
    kept = x[1:-1] - path.speed * 0.02
    in_sight = kept[kept >= later[0]]
    assert len(in_sight) > 100
    assert np.all(np.abs(later[:, None] - in_sight).min(axis=0) < 1e-9)


def test_path_of_a_car_on_posts_goes_up_and_down() -> None:
    analysis = analyse(Vehicle(), Run(event=SineSweep(start_frequency=1.0, duration=4.0), duration=4.0))
    path = seat_path(analysis, silhouette(analysis.vehicle))
    x, z = path.until(4.0, 1.0, reach=8.0, spacing=0.02)
    assert np.ptp(x) < 0.05
    assert np.ptp(z) > 1e-3
    assert len(x) == pytest.approx(SECONDS / (4 * (path.t[1] - path.t[0])), abs=3)
