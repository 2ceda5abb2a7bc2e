"""Chart of the standard sizes that fit: what more mass buys."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from typing import Any

import numpy as np

from models.charts.chart import Axis, Chart, Curve
from models.hardware import CoilSpring, Size

__all__ = ["sizes_chart"]


def sizes_chart(sizes: Sequence[Size[Any]]) -> Chart | None:
    """Life over mass where lives are known, else stress over mass; one curve per shape.

    Shapes are solid bars and the ratios of bore and diameter, or mean diameters of coils.

    Args:
        sizes: as found.

    Returns:
        None where no shape has two sizes, so that there is nothing to compare.
    """
    lives = [size for size in sizes if isfinite(size.life) and size.life > 0]
    with_life = len(lives) > 1
    shapes: dict[str, list[Size[Any]]] = {}
    for size in lives if with_life else sizes:
        shapes.setdefault(_shape(size), []).append(size)
    curves = [
        Curve(
            shape,
            "",
            np.array([size.mass for size in members]),
            np.array([size.life if with_life else size.stress for size in members]),
            "other",
            shade=number,
        )
        for number, (shape, members) in enumerate(sorted(shapes.items()))
        if len(members) > 1
    ]
    if not curves:
        return None
    mass = Axis("Mass", "mass")
    by = "by mean coil diameter" if isinstance(sizes[0].part, CoilSpring) else "by bore per diameter"
    if with_life:
        life = Axis("Life", "distance driven", form="power", log=True)
        return Chart(
            "steel-size-life", f"Life over mass of the sizes that fit, {by}", mass, life, tuple(curves)
        )
    stress = Axis("Stress", "stress")
    title = f"Stress over mass of the sizes that fit, {by}"
    return Chart("steel-size-stress", title, mass, stress, tuple(curves))


def _shape(size: Size[Any]) -> str:
    part = size.part
    if isinstance(part, CoilSpring):
        return f"{1e3 * part.mean_diameter:.0f} mm"
    share = part.bore / part.diameter
    return "solid" if share == 0 else f"{100 * share:.0f} %"
