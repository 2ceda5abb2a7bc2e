"""Results of studies as JSON."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

import numpy as np

from models.studies import (
    StudyResult,
    built_cars,
    front,
    map_grid,
    sensitivities,
    sobol_shares,
    tuned,
)
from models.studies.tolerances import CONFIDENCE, Yield
from models.study import (
    GlobalSensitivity,
    ParameterMap,
    ParetoSearch,
    Sensitivity,
    Sweep,
    ToleranceDraw,
    TunedStart,
)
from models.units import KINDS
from workbench.commands.text import finite

__all__ = ["study_json"]


def study_json(result: StudyResult, path: Path) -> dict[str, Any]:
    """One study as data, in SI."""
    asked, columns = result.asked, result.columns
    return {
        "study": asked.study.model_dump(mode="json", exclude={"result"}),
        "variant": asked.variant,
        "situations": [one.name for one in asked.situations],
        "parameters": [
            {
                "place": one.place,
                "label": one.label,
                "si_unit": KINDS[one.quantity.kind_name].si,
                "value": one.value,
            }
            for one in asked.places
        ],
        "figures": [
            {"key": one.key, "label": one.label, "si_unit": KINDS[one.kind].si} for one in asked.figures
        ],
        "inputs": asked.inputs,
        "cars": columns.done,
        "refused": [asdict(kind) for kind in result.refusals()],
        "file": str(path),
        "result": _answer(result),
    }


def _answer(result: StudyResult) -> dict[str, Any]:
    match result.asked.study:
        case ToleranceDraw():
            return _yield_data(result)
        case ParetoSearch():
            found = front(result)
            return {"front": [_car_data(result, row) for row in found.rows.tolist()]}
        case TunedStart():
            best = tuned(result)
            car = _car_data(result, best.row) if best.row >= 0 else None
            return {"car": car, "missed": _plain(best.missed)}
        case Sensitivity():
            slopes = sensitivities(result)
            return {"normalised": _plain(slopes.normalised), "absolute": _plain(slopes.absolute)}
        case GlobalSensitivity():
            found_shares = sobol_shares(result)
            names = ("first", "total", "first_error", "total_error")
            return {name: _plain(getattr(found_shares, name)) for name in names} | {
                "samples": found_shares.samples
            }
        case ParameterMap():
            grid = map_grid(result)
            return {
                "x": _plain(grid.x),
                "y": _plain(grid.y),
                "values": _plain(grid.values),
                "feasible": grid.feasible.tolist(),
            }
        case Sweep():
            return {"rows": _plain(result.columns.rows), "values": _plain(result.columns.values)}


def _yield_data(result: StudyResult) -> dict[str, Any]:
    built = built_cars(result)
    return {
        "yield": _one_yield(built.whole) if built.targets else None,
        "targets": [_one_yield(one) for one in built.targets],
        "tolerances": [
            {
                "place": cost.place.place,
                "plus_minus": cost.plus_minus,
                "yield_gained": finite(cost.gained),
                "variance_share": _plain(cost.variance),
            }
            for cost in built.costs
        ],
        "linear_share": _plain(built.linear),
    }


def _one_yield(one: Yield) -> dict[str, Any]:
    return {
        "words": one.words,
        "passed": one.passed,
        "cars": one.cars,
        "share": finite(one.share),
        "low": one.low,
        "high": one.high,
        "confidence": CONFIDENCE,
    }


def _car_data(result: StudyResult, row: int) -> dict[str, Any]:
    return {
        "row": row,
        "parameters": _plain(result.columns.rows[row]),
        "figures": _plain(result.columns.values[row]),
    }


def _plain(values: np.ndarray) -> Any:
    """Nested lists; what is not finite is null."""
    if values.dtype == bool:
        return values.tolist()
    if values.ndim == 0:
        return finite(float(values))
    return [_plain(np.asarray(value)) for value in values]
