"""Forces in the parts of a car over its road mix: cycles counted road by road from the nonlinear run.

An event is driven once, as :func:`models.judge.mix.share_run` has it, and counts as often as its distance
goes into the share.  Of a random road some passes are driven, each with another seed; the spread between them
says how much the damage of a longer drive may still differ.  Each history is counted as if it repeated
itself.  Only the cycles are kept.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from models.analysis import analyse
from models.errors import InputError
from models.fields import replaced
from models.force_elements import force_elements
from models.hardware.cycles import Cycles, count_cycles, together
from models.judge.mix import run_of_mix, share_run
from models.roads import RandomRoad, RoadShare
from models.roads.mix import mix_shares
from models.run import Run
from models.vehicle import LoadCase, Vehicle

__all__ = ["PASSES", "PASS_TIME", "RoadLoads", "Stopped", "force_cycles", "loaded_elements", "road_loads"]

#: Passes over a random road, and how long each lasts once the car has run in, s.
PASSES, PASS_TIME = 8, 30.0
_RUN_IN = 3.0


class Stopped(Exception):  # noqa: N818 - it is a way to stop, not an error
    """The caller wants no result any more."""


@dataclass(frozen=True, slots=True, eq=False)
class RoadLoads:
    """What one road of the mix does to the parts.

    Attributes:
        name: of the road.
        share: of the whole distance, 0 to 1.
        speed: m/s.
        event: kind of the event; empty for a random road.
        distance: that one pass stands for, m.
        passes: cycles of force by name of the element, one for each pass; N, N·m or Pa.
    """

    name: str
    share: float
    speed: float
    event: str
    distance: float
    passes: tuple[Mapping[str, Cycles], ...]


def loaded_elements(vehicle: Vehicle) -> tuple[str, ...]:
    """Names of the elements with a spring that carries load."""
    return tuple(
        element.name
        for element in force_elements(vehicle)
        if element.carries_load and element.stiffness(0.0) > 0
    )


def road_loads(
    vehicle: Vehicle,
    run: Run,
    load: LoadCase,
    mix: tuple[RoadShare, ...],
    report: Callable[[float], object] | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> tuple[RoadLoads, ...]:
    """Drive the roads of a mix, those left out that have no share.

    Always the nonlinear run of the full car, whatever the run says.

    Args:
        vehicle, load: the car.
        run: what matters of it to a mix.
        mix: its roads.
        report: told the share that is done, 0 to 1, after each pass; what it raises ends the work.
        should_stop: asked before each pass.

    Raises:
        InputError: the car does not stand, or a run grew beyond all bounds.
        Stopped: ``should_stop`` said so.
    """
    run = replaced(replaced(run_of_mix(run), ("laws",), "nonlinear"), ("model",), "full car")
    driven = [(road, share) for road, share in zip(mix, mix_shares(mix), strict=True) if share > 0]
    total = sum(_passes(road) for road, _ in driven)
    done, loads = 0, []
    for road, share in driven:
        alone = replaced(replaced(road, ("name",), "road"), ("share",), 1.0)  # the same road by another name
        passes = []
        for number in range(_passes(road)):
            if should_stop is not None and should_stop():
                raise Stopped
            passes.append(_pass(vehicle, load, run, alone, number))
            done += 1
            if report is not None:
                report(done / total)
        event = "" if _is_random(road) else road.event.kind
        loads.append(
            RoadLoads(
                road.name,
                float(share),
                road.speed,
                event,
                passes[0].distance,
                tuple(one.cycles for one in passes),
            )
        )
    return tuple(loads)


def force_cycles(loads: Sequence[RoadLoads], element: str) -> Cycles:
    """Cycles of an element on all roads, per metre of the mix."""
    return together(
        [
            one[element].weighed(road.share / (road.distance * len(road.passes)))
            for road in loads
            for one in road.passes
        ]
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Pass:
    distance: float
    cycles: Mapping[str, Cycles]


def _is_random(road: RoadShare) -> bool:
    return isinstance(road.event, RandomRoad)


def _passes(road: RoadShare) -> int:
    return PASSES if _is_random(road) else 1


def _pass_run(road: RoadShare, run: Run, wheelbase: float, number: int) -> tuple[Run, float]:
    """The run of one pass, and the time from which on it counts, s."""
    if not isinstance(road.event, RandomRoad):
        return share_run(road, run, wheelbase), 0.0
    wanted = {
        "speed": road.speed,
        "surface": road.surface,
        "event": RandomRoad(seed=(road.event.seed + number) % 2**31),
        "duration": _RUN_IN + PASS_TIME,
        "laws": run.laws,
        "model": run.model,
    }
    return Run.model_validate(wanted), _RUN_IN


@lru_cache(maxsize=256)
def _pass(vehicle: Vehicle, load: LoadCase, run: Run, road: RoadShare, number: int) -> _Pass:
    """Drive a road once; kept, so that another share, size or S–N line costs nothing."""
    whole, begin = _pass_run(road, run, vehicle.wheelbase, number)
    driven = analyse(vehicle, whole, load).nonlinear
    if driven is None:
        raise InputError.of("load case", load.name, f"the car does not stand in '{load.name}'")
    response = driven.response
    first = int(response.t.searchsorted(begin))
    names = [element.name for element in response.model.elements]
    return _Pass(
        road.speed * (whole.duration - begin),
        {
            name: count_cycles(response.element_force[names.index(name), first:], closed=True)
            for name in loaded_elements(vehicle)
        },
    )
