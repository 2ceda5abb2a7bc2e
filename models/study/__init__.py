"""What a study asks: frozen, validated data; how it is answered is in :mod:`models.studies`."""

from models.study.kept import ResultFile
from models.study.kinds import (
    GlobalSensitivity,
    Objective,
    ParameterMap,
    ParetoSearch,
    Sensitivity,
    Study,
    Sweep,
    ToleranceDraw,
    TunedStart,
    is_power_of_two,
)
from models.study.parameter import FieldPlace, Parameter, Tolerance, path_of, place_of
from models.study.situation import Situation

__all__ = [
    "FieldPlace",
    "GlobalSensitivity",
    "Objective",
    "Parameter",
    "ParameterMap",
    "ParetoSearch",
    "ResultFile",
    "Sensitivity",
    "Situation",
    "Study",
    "Sweep",
    "Tolerance",
    "ToleranceDraw",
    "TunedStart",
    "is_power_of_two",
    "path_of",
    "place_of",
]
