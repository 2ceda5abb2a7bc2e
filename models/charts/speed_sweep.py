"""Chart of a figure of the random road against vehicle speed."""

from __future__ import annotations

from models.charts.chart import Axis, Chart, Curve, Mark, Role
from models.judge.figure import Figure
from models.judge.speed_sweep import Sweep

__all__ = ["sweep_chart"]


def sweep_chart(
    figure: Figure,
    candidate: Sweep,
    baseline: Sweep | None,
    speed: float,
    names: tuple[str, str] = ("Candidate", "Baseline"),
) -> Chart:
    """Curves of candidate and baseline, and a mark at the speed of the run.

    Args:
        figure: which one; its label and kind.
        candidate, baseline: sweeps to draw.
        speed: of the run, m/s.
        names: of the two variants.
    """
    curves = [] if baseline is None else [_curve(figure, baseline, names[1], "baseline")]
    curves.append(_curve(figure, candidate, names[0], "candidate"))
    return Chart(
        key=f"speed-{figure.key}",
        title=f"{figure.label} · speed",
        x=Axis("Speed", "speed"),
        y=Axis(figure.label, figure.kind),
        curves=tuple(curves),
        marks=(Mark(speed, "run"),),
    )


def _curve(figure: Figure, sweep: Sweep, name: str, role: Role) -> Curve:
    return Curve(name, "", sweep.speeds, sweep.values[figure.key], role)
