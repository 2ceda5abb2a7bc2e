"""What a review is made of, in one number."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

from models.fingerprint import fingerprint
from models.program import PROGRAM
from models.project import Project, dumps
from models.project.project import changed
from models.project.review import ReviewOptions
from models.report.bench import ShownStudy
from models.studies.storage import dump_result
from models.units import METRIC, UnitChoice

__all__ = ["inputs_hash"]


def inputs_hash(
    project: Project, options: ReviewOptions, studies: Iterable[ShownStudy], window: UnitChoice = METRIC
) -> str:
    """SHA-256 of the project, the options, the results that are shown and the version of the program.

    The options that are saved with the project count only as those that are used, and so do the units of
    the window.
    """
    content: dict[str, object] = {
        "program": PROGRAM,
        "project": dumps(changed(project, review=ReviewOptions())),
        "options": options.model_dump(mode="json"),
        "studies": [(one.name, _result_hash(one)) for one in studies],
    }
    if options.units == "as in the window":
        content["window"] = dict(window)
    return fingerprint(content)


def _result_hash(study: ShownStudy) -> str:
    return study.problem if study.result is None else hashlib.sha256(dump_result(study.result)).hexdigest()
