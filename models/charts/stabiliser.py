"""Chart of the stress along a stabiliser bar."""

from __future__ import annotations

from models.charts.chart import Axis, Chart, Curve, Mark, Role
from models.hardware.stabiliser_beam import BarStress, StabiliserBeam

__all__ = ["bar_stress_chart"]


def bar_stress_chart(
    candidate: StabiliserBeam,
    travel: float,
    baseline: StabiliserBeam | None = None,
    names: tuple[str, str] = ("Candidate", "Baseline"),
) -> Chart:
    """von Mises stress along the left half of a bar, its bending and torsion, and a mark at the bush.

    Args:
        candidate, baseline: bars to draw.
        travel: of each wheel, one up, the other down, m.
        names: of the variants.
    """
    stress = candidate.stress.scaled(travel)
    curves = [] if baseline is None else [_whole(names[1], baseline.stress.scaled(travel), "baseline")]
    curves += [
        Curve("bending", "", stress.place, stress.bending, "other", shade=0),
        Curve("torsion", "", stress.place, stress.torsion, "other", shade=1),
        Curve("greatest principal", "", stress.place, stress.principal, "other", shade=2),
        _whole(names[0], stress, "candidate"),
    ]
    return Chart(
        "stabiliser-stress",
        f"Stress · stabiliser bar, ±{1e3 * travel:.4g} mm",
        Axis("Along the bar from its middle", "dimension"),
        Axis("Stress", "stress"),
        tuple(curves),
        marks=(Mark(float(candidate.line.place[candidate.bush_node]), "bush"),),
    )


def _whole(name: str, stress: BarStress, role: Role) -> Curve:
    return Curve(name, "von Mises", stress.place, stress.von_mises, role)
