"""What is said of a size that does not go with the other sizes of its part."""

from __future__ import annotations

from pydantic_core import PydanticCustomError

__all__ = ["size_error"]


def size_error(name: str, value: float, rule: str) -> PydanticCustomError:
    """Refusal of a size.

    Args:
        name: of the size.
        value: of the size, m.
        rule: what it has to be.
    """
    return PydanticCustomError(
        "rule",
        "{name}: {value} mm is outside the allowed range ({rule})",
        {"name": name, "value": f"{1e3 * value:.6g}", "rule": rule},
    )
