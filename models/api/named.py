"""Values by name, as mappings that say which names there are."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from typing import Any, Generic, TypeVar

from models.errors import InputError

__all__ = ["Named", "Table"]

T = TypeVar("T")


class Named(Mapping[str, T], Generic[T]):
    """Values that are made when they are asked for.

    Raises:
        InputError: there is nothing of that name; says what there is.
    """

    def __init__(self, what: str, keys: Collection[str], value: Callable[[str], T]) -> None:
        """Hold names in their order.

        Args:
            what: what a value is called in refusals.
            keys: names.
            value: of a name.
        """
        self._what, self._keys, self._value = what, dict.fromkeys(keys), value

    def __getitem__(self, key: str) -> T:
        if key not in self._keys:
            reason = f"there is no {self._what} '{key}' (there are: {', '.join(self._keys)})"
            raise InputError.of(self._what, key, reason)
        return self._value(key)

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def __iter__(self) -> Iterator[str]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)

    def get(self, key: str, default: Any = None) -> Any:
        """Value of a name; the default where there is none."""
        return self._value(key) if key in self._keys else default

    def __repr__(self) -> str:
        return f"<{type(self).__name__}: {', '.join(self)}>"


class Table(Named[T]):
    """Values that are there already; shown one a line."""

    def __init__(self, what: str, values: Mapping[str, T]) -> None:
        super().__init__(what, values, values.__getitem__)

    def __repr__(self) -> str:
        return "\n".join(f"{key}: {value}" for key, value in self.items())
