"""One short text that stands for all inputs of a result."""

from __future__ import annotations

import hashlib
import json

from models.run import Run
from models.vehicle import LoadCase, Vehicle

__all__ = ["digest"]


def digest(vehicle: Vehicle, run: Run, load: LoadCase) -> str:
    """SHA-256 of a car, a run and a load case: equal inputs, and only they, give the same 64 letters.

    It is taken of their JSON in the project file, with sorted names and without space.
    """
    parts = {"vehicle": vehicle, "run": run, "load_case": load}
    content = {name: part.model_dump(mode="json") for name, part in parts.items()}
    text = json.dumps(content, ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()
