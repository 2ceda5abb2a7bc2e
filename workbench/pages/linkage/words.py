"""What the page says."""

from __future__ import annotations

from models.fields import follow
from models.judge.linkage import ChainPlace
from models.linkage import LINKAGES, Chain
from models.units import KINDS, UnitChoice, format_value
from models.vehicle import Vehicle

__all__ = ["CHAINS", "KIND_WORDS", "NO_BAR", "kind_name", "lever_words"]

#: The ready-made chains, in the order in which they are offered.
CHAINS: tuple[type[Chain], ...] = LINKAGES

#: What each ready-made chain is, by its kind.
KIND_WORDS: dict[type[Chain], str] = dict(
    zip(
        CHAINS,
        (
            "The bar is the pivot of the wheel's arm, which is its lever.",
            "A drop link from the wishbone turns a lever on the bar.",
            "A link from the trailing arm turns a bell crank, and a cross link the lever on the bar.",
            "A pushrod from the wishbone turns a rocker, and a drop link the lever on the bar.",
        ),
        strict=True,
    )
)

NO_BAR = "The car has no bar here (its rate is 0 in the Car panel): the linkage turns nothing yet."


def kind_name(kind: type[Chain]) -> str:
    """Name of a kind of chain in files and for readers."""
    return str(kind.model_fields["kind"].default)


def lever_words(vehicle: Vehicle, place: ChainPlace, units: UnitChoice) -> str:
    """What turns the bar while there is no linkage, and what one would bring."""
    owner, field = follow(vehicle, place.path[:-1]), str(place.path[-1])
    known = [("lever ratio", "at design trim"), ("angle", "above the horizontal")]
    parts = []
    for (kind, where), name in zip(known, ("lever_ratio", "lever_angle"), strict=True):
        value = getattr(owner, field.replace("linkage", name), None)
        if value is not None:
            unit = units[kind]
            number = format_value(value, unit, KINDS[kind].si).replace("-", "−")
            parts.append(f"{number} {unit} {where}")
    return (
        f"A plain lever turns the bar here: {', '.join(parts)}.  "
        "It has one ratio and swings in one plane.\n\n"
        "A linkage takes its place with the real joints of arm, rockers and links.  The motion ratio, its "
        "slope over the travel, the forces in the links and where it locks then follow from where the joints "
        "are, and so do rates, ride and stresses."
    )
