"""Choices that are given by name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

from models.errors import InputError
from models.units import UNIT_CHOICES, UnitChoice

__all__ = ["known", "unit_choice"]

T = TypeVar("T")


def known(field: str, name: str, choices: Mapping[str, T]) -> T:
    """What a name stands for.

    Raises:
        InputError: there is no such name; says which there are.
    """
    if name not in choices:
        raise InputError.of(field, name, f"there is no {field} '{name}' (there are: {', '.join(choices)})")
    return choices[name]


def unit_choice(name: str) -> UnitChoice:
    """Units of display by name; errors as of :func:`known`."""
    return known("units", name, UNIT_CHOICES)
