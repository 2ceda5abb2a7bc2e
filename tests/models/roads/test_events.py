"""Road events as data."""

import pytest
from pydantic import TypeAdapter, ValidationError

from models.fields import Label, Quantity, described
from models.roads import (
    Event,
    HalfSine,
    MeasuredRoad,
    OneMinusCosine,
    Ramp,
    RandomRoad,
    SineSweep,
    Step,
    Washboard,
)

MEASURED = MeasuredRoad(name="yard", step=0.05, left="0 1.25 -3", right="0 -0.001 12")
EVENTS = (Step(), Ramp(), HalfSine(), OneMinusCosine(), Washboard(), RandomRoad(), MEASURED, SineSweep())
ADAPTER: TypeAdapter[Event] = TypeAdapter(Event)


@pytest.mark.parametrize("event", EVENTS, ids=lambda event: event.kind)
def test_text_of_an_event_reads_back_as_the_same_event(event: Event) -> None:
    assert ADAPTER.validate_json(ADAPTER.dump_json(event)) == event


@pytest.mark.parametrize("event", EVENTS, ids=lambda event: event.kind)
def test_every_field_is_described_for_the_editor(event: Event) -> None:
    for name, note, _ in described(type(event)):
        assert name == "kind" or isinstance(note, (Quantity, Label))


@pytest.mark.parametrize("seed", [-1, 2**31, 1.5, "road"])
def test_a_seed_is_a_whole_number_not_below_zero(seed: object) -> None:
    with pytest.raises(ValidationError, match="seed"):
        RandomRoad.model_validate({"seed": seed})


def test_an_unknown_kind_is_refused_with_the_known_ones() -> None:
    with pytest.raises(ValidationError, match="half-sine bump"):
        ADAPTER.validate_python({"kind": "canyon"})
