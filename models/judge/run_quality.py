"""How far the time response of an analysis can be trusted, in numbers that the run itself gives."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from models.analysis import Analysis
from models.laws import Law, Table
from models.ride.drive import drive_error
from models.ride.nonlinear import NonlinearResponse, StepError

__all__ = ["LIMIT", "Check", "RunQuality", "run_quality", "step_error"]

#: Share above which an error is worth a word.
LIMIT = 1e-3

#: The same for the forces of single parts.  Dry friction turns round within a few mm/s, so that a rate right
#: to 1e-4 still leaves a hundredth of that force open; body, wheels and tyres do not feel it.
PARTS_LIMIT = 0.05

# Energy that goes through a run below this part of what the springs hold at rest is rounding.
_AT_REST = 1e-9

_CURVES = "Curves: how far the motion went past the last point of a measured curve, as a share of its length."


@dataclass(frozen=True, slots=True)
class Check:
    """One audit of a run.

    Attributes:
        key: "energy", "step", "parts", "laws" or "curves".
        value: error as a share; None where it is not known (yet).
        meaning: what the number is, one line.
        warning: sentence where the number is over its limit, else empty.
    """

    key: str
    value: float | None
    meaning: str
    warning: str = ""


@dataclass(frozen=True, slots=True)
class RunQuality:
    """Audits of one time response.

    Attributes:
        nonlinear: whether the run has the nonlinear laws.
        note: why it has not, in words; empty where it has or where the run asks for a linear one.
        checks: audits; a linear response is exact for the road between its samples and has none.
    """

    nonlinear: bool
    note: str
    checks: tuple[Check, ...]

    @property
    def warnings(self) -> tuple[str, ...]:
        """Sentences on what is over the limit, and on laws left out against the wish of the run."""
        return tuple(check.warning for check in self.checks if check.warning) + (
            (self.note,) if self.note else ()
        )


def run_quality(analysis: Analysis, step: StepError | None = None) -> RunQuality:
    """Audit of the time response.

    Args:
        analysis: what to audit.
        step: its :func:`step_error`, where it is known.
    """
    if analysis.nonlinear is None:
        return RunQuality(False, _why_linear(analysis), ())
    response = analysis.nonlinear.response
    moves = _moves(response)
    energy = response.energy_residual if moves else 0.0
    checks = (
        Check(
            "energy",
            energy,
            "Energy: work of the road less what dampers take and springs and masses hold, at its worst, as a "
            "share of the largest of them.",
            f"The energy of the run is out by {_percent(energy)}." if energy > LIMIT else "",
        ),
        *_step_checks(step, moves),
        _laws_check(analysis.nonlinear.law_error),
        *_curves_checks(analysis, response),
    )
    return RunQuality(True, "", checks)


def step_error(analysis: Analysis) -> StepError | None:
    """What halving the time step changes; some three times the work of the run.  None for a linear one.

    Raises:
        InputError: the motion grew beyond all bounds.
    """
    if analysis.nonlinear is None:
        return None
    return drive_error(analysis.vehicle, analysis.car, analysis.stand, analysis.model, analysis.run)


def _why_linear(analysis: Analysis) -> str:
    if analysis.run.laws == "linear":
        return ""
    if not analysis.stand.stable:
        return f"Linear only: the car does not stand, {analysis.stand.reason}."
    return "Linear only, until the nonlinear run is ready."


def _moves(response: NonlinearResponse) -> bool:
    passed = max(float(np.abs(work).max()) for work in (response.road_work, response.outside_work))
    return passed > _AT_REST * float(np.abs(response.stored).max())


def _step_checks(step: StepError | None, moves: bool) -> tuple[Check, Check]:
    """Errors of the time step: in all that is charted, and in the forces of single parts."""
    charted = parts = None
    if step is not None:
        charted = max(step.position, step.rate, step.acceleration, step.deflection, step.tyre_force)
        charted, parts = (charted, step.element_force) if moves else (0.0, 0.0)
    return (
        Check(
            "step",
            charted,
            "Step: largest change of motions, accelerations, travels and tyre forces when the time step is "
            "halved, as a share of their peaks.",
            f"The time step is in the results with {_percent(charted)}."
            if charted and charted > LIMIT
            else "",
        ),
        Check(
            "parts",
            parts,
            "Parts: the same for the force of each single part; dry friction that turns round leaves most.",
            f"The time step is in the force of a part with {_percent(parts)}."
            if parts and parts > PARTS_LIMIT
            else "",
        ),
    )


def _laws_check(error: float) -> Check:
    return Check(
        "laws",
        error,
        "Laws: deviation of the spring and damper laws as the run has them from those described, as a share "
        "of their span.",
        f"A law of the run is off by {_percent(error)} of its span." if error > LIMIT else "",
    )


def _curves_checks(analysis: Analysis, response: NonlinearResponse) -> tuple[Check, ...]:
    """A check on the elements that ran past the points of a measured curve or the tables of the run."""
    passed = {}
    for row, element in enumerate(analysis.car.elements):
        motions = (response.deflection[row], response.deflection_rate[row])
        share = max(map(_past, (element.spring, element.damper), motions))
        if share > 0 or element.name in response.extrapolated:
            passed[element.name] = share
    if not passed:
        return ()
    named = ", ".join(f"{name} by {_percent(share)}" if share else name for name, share in passed.items())
    warning = f"Past the end of its curve, where that goes on straight: {named}."
    return (Check("curves", max(passed.values()), _CURVES, warning),)


def _past(law: Law | None, x: np.ndarray) -> float:
    """How far ``x`` leaves the points of a table, as a share of their span; 0 for other laws.

    A table of two points is a straight line by intention.
    """
    if not isinstance(law, Table) or len(law.x) == 2:
        return 0.0
    low, high = law.x[0], law.x[-1]
    return float(max(low - x.min(), x.max() - high, 0.0)) / (high - low)


def _percent(share: float) -> str:
    return f"{100 * share:.2g} %"
