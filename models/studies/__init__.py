"""Studies: what the figures of many cars say about which setting is best, how sure, and at what price.

asked = ask(project, study)                     # looked up and checked, or an InputError that says all
with local_workers() as workers:                # or cluster_workers("tcp://...")
    result = run_study(asked, workers, watch=Watch(progress=print))
built = built_cars(result)                      # yield, costs; front(result), sobol_shares(result), ...
"""

from models.studies.asked import Asked, Place, Situated, Wanted, ask, is_stale, wanted_of
from models.studies.car_numbers import CarNumber, car_numbers
from models.studies.columns import COMPUTED, MISSING, REFUSED, Columns
from models.studies.grids import MapGrid, map_grid
from models.studies.judged import study_figures
from models.studies.ledger import Progress
from models.studies.pareto import Front, front
from models.studies.result import StudyResult
from models.studies.run import Cost, Watch, cost, run_study, study_size
from models.studies.sensitivity import Sensitivities, sensitivities
from models.studies.sobol import SobolShares, sobol_shares
from models.studies.storage import (
    ResultFileError,
    copy_results,
    file_name,
    folder_of,
    kept_result,
    load_result,
    save_result,
)
from models.studies.tolerances import BuiltCars, ToleranceCost, Yield, built_cars
from models.studies.tuned import Tuned, tuned
from models.studies.workers import Workers, cluster_workers, local_workers, this_thread

__all__ = [
    "COMPUTED",
    "MISSING",
    "REFUSED",
    "Asked",
    "BuiltCars",
    "CarNumber",
    "Columns",
    "Cost",
    "Front",
    "MapGrid",
    "Place",
    "Progress",
    "ResultFileError",
    "Sensitivities",
    "Situated",
    "SobolShares",
    "StudyResult",
    "ToleranceCost",
    "Tuned",
    "Wanted",
    "Watch",
    "Workers",
    "Yield",
    "ask",
    "built_cars",
    "car_numbers",
    "cluster_workers",
    "copy_results",
    "cost",
    "file_name",
    "folder_of",
    "front",
    "is_stale",
    "kept_result",
    "load_result",
    "local_workers",
    "map_grid",
    "run_study",
    "save_result",
    "sensitivities",
    "sobol_shares",
    "study_figures",
    "study_size",
    "this_thread",
    "tuned",
    "wanted_of",
]
