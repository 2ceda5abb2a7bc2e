"""Files that come with the program."""

from __future__ import annotations

from pathlib import Path

__all__ = ["folder", "sample_projects"]

_PACKAGE = Path(__file__).resolve().parent


def folder(name: str) -> Path:
    """Folder ``name`` of the program: inside an installed package, else beside it in a checkout."""
    inside = _PACKAGE / name
    return inside if inside.is_dir() else _PACKAGE.parent / name


def sample_projects() -> list[Path]:
    """Project files of the samples, the first to show first."""
    files = folder("sample_projects").glob("*.corduroy")
    return sorted(files, key=lambda path: (path.stem != "large_saloon", path.stem))
