"""One short text that stands for all inputs of a result."""

from __future__ import annotations

from models.fingerprint import fingerprint
from models.run import Run
from models.vehicle import LoadCase, Vehicle

__all__ = ["digest"]


def digest(vehicle: Vehicle, run: Run, load: LoadCase) -> str:
    """SHA-256 of a car, a run and a load case: equal inputs, and only they, give the same 64 letters.

    It is taken of their JSON in the project file, see :func:`models.fingerprint.fingerprint`.
    """
    parts = {"vehicle": vehicle, "run": run, "load_case": load}
    return fingerprint({name: part.model_dump(mode="json") for name, part in parts.items()})
