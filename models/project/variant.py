"""One version of the car, with a name and a note."""

from __future__ import annotations

from typing import Annotated

from models.fields import Label, Part
from models.hardware import Hardware
from models.project.text import Name, Note
from models.vehicle import Vehicle

__all__ = ["Variant"]


class Variant(Part):
    """One version of the car."""

    name: Annotated[Name, Label("Name", "Name of the variant; each name occurs once in a project.")]
    note: Annotated[Note, Label("Note", "What this variant is for.")] = ""
    vehicle: Annotated[Vehicle, Label("Car", "The car of this variant.")] = Vehicle()
    hardware: Annotated[
        Hardware, Label("Hardware", "Parts in steel behind the rates; they change no result until applied.")
    ] = Hardware()
