"""What a design review of the project holds, and how it is printed."""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from pydantic import Field, field_validator
from pydantic_core import PydanticCustomError

from models.fields import Label, Part
from models.project.text import Line, Note
from models.study.kinds import MOST_STUDIES

__all__ = ["SECTIONS", "Paper", "ReviewOptions", "ReviewUnits", "SectionKey"]

SectionKey = Literal[
    "job",
    "car",
    "differences",
    "rates",
    "run",
    "roads",
    "speed",
    "trim",
    "handling",
    "hardware",
    "studies",
    "scorecard",
    "cautions",
    "method",
]
Paper = Literal["a4", "letter"]
ReviewUnits = Literal["metric", "inch-pound", "as in the window"]

#: All sections in their usual order.
SECTIONS: tuple[SectionKey, ...] = get_args(SectionKey)


class ReviewOptions(Part):
    """Options of the review document."""

    sections: Annotated[
        tuple[SectionKey, ...],
        Field(min_length=1, max_length=len(SECTIONS)),
        Label("Sections", "Sections in the order in which they stand.", hidden=True),
    ] = SECTIONS
    author: Annotated[Line, Label("Author", "Who answers for the review; on the cover.")] = ""
    date: Annotated[Line, Label("Date", "Date on the cover and on each page, as it is to be read.")] = ""
    revision: Annotated[Note, Label("Revision note", "What is new in this issue; on the cover.")] = ""
    paper: Annotated[Paper, Label("Paper", "Size of the pages.")] = "a4"
    units: Annotated[
        ReviewUnits, Label("Units", "Units of all numbers and figures; those of a missing window are metric.")
    ] = "metric"
    studies: Annotated[
        tuple[Annotated[str, Field(max_length=80)], ...],
        Field(max_length=MOST_STUDIES),
        Label("Studies", "Studies whose kept results are shown.", hidden=True),
    ] = ()

    @field_validator("sections", "studies")
    @classmethod
    def _each_once(cls, names: tuple[str, ...]) -> tuple[str, ...]:
        for name in names:
            if names.count(name) > 1:
                raise PydanticCustomError("rule", "'{name}' stands more than once", {"name": name})
        return names
