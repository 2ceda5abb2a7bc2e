"""Name and version of this program, as results, reports and documents state them."""

from __future__ import annotations

from importlib.metadata import PackageNotFoundError, version

__all__ = ["PROGRAM", "VERSION", "version_of"]


def version_of(package: str) -> str:
    """Version of an installed package; "unknown" where it is not installed."""
    try:
        return version(package)
    except PackageNotFoundError:
        return "unknown"


#: Version of this program; "unknown" where it runs from its sources alone.
VERSION = version_of("corduroy")

#: Name and version: "Corduroy 0.1.0".
PROGRAM = f"Corduroy {VERSION}"
