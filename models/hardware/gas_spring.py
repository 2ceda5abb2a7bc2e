"""Gas spring: pressures over its travel by p V^n = constant, and the area that a load needs.

The force over atmosphere is A (p - p_atm); at design trim that is the load the spring carries there.  The
same law as :class:`models.laws.Gas`, told in pressures.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated, Literal

from scipy.constants import atm

from models.fields import Part, Quantity
from models.figure import Figure
from models.hardware.state import LoadState
from models.vehicle.spring import GAS_AREA, GAS_EXPONENT, GAS_VOLUME

__all__ = ["GasStrut", "area_for", "gas_figures", "gas_pressure", "gas_rate"]


class GasStrut(Part):
    """Piston or bellows on a closed gas volume."""

    kind: Literal["gas"] = "gas"
    area: Annotated[float, replace(GAS_AREA, prominent=True)] = 0.0024
    volume: Annotated[float, replace(GAS_VOLUME, prominent=True)] = 6e-4
    exponent: Annotated[float, GAS_EXPONENT] = 1.3
    pressure_limit: Annotated[
        float,
        Quantity(
            "pressure",
            "Allowed pressure",
            "Largest pressure over atmosphere that seals, bellows and vessel may see.",
            low=1e4,
            high=1e9,
            typical=(10e5, 250e5),
        ),
    ] = 120e5


def area_for(load: float, pressure: float) -> float:
    """Area that carries a load (N) at a pressure over atmosphere (Pa), m²."""
    return load / pressure


def gas_pressure(gas: GasStrut, load: float, deflection: float) -> float:
    """Absolute pressure at a deflection from design trim (m, positive in jounce), Pa.

    Args:
        gas: the spring.
        load: force at design trim over atmosphere, N.
        deflection: within the gas volume, A · deflection < V0.
    """
    return _design_pressure(gas, load) * math.pow(_gas_left(gas, deflection), -gas.exponent)


def gas_rate(gas: GasStrut, load: float, deflection: float = 0.0, exponent: float | None = None) -> float:
    """n A² p / V at a deflection, N/m; with another exponent on request."""
    n = gas.exponent if exponent is None else exponent
    stiff = n * gas.area**2 * _design_pressure(gas, load) / gas.volume
    return stiff * math.pow(_gas_left(gas, deflection), -n - 1)


def gas_figures(gas: GasStrut, states: Sequence[LoadState] = ()) -> tuple[Figure, ...]:
    """Figures of a gas spring that carries these forces, "design" among them; NaN of those without any."""
    load = next((state.load for state in states if state.key == "design"), math.nan)
    highest = max((state.load for state in states), default=math.nan)
    above, gauge = f"{atm / 1e5:.5g} bar", highest / gas.area
    return (
        Figure(
            "rate",
            "Spring rate at design trim",
            gas_rate(gas, load),
            "rate",
            "k = n A² p0 / V0, with the absolute pressure p0.",
        ),
        Figure(
            "rate_slow",
            "Spring rate, slow",
            gas_rate(gas, load, exponent=1.0),
            "rate",
            "A² p0 / V0: n = 1, as the gas keeps its temperature.",
        ),
        Figure(
            "rate_fast",
            "Spring rate, fast",
            gas_rate(gas, load, exponent=1.4),
            "rate",
            "1.4 A² p0 / V0: n = 1.4, as the gas keeps its heat.",
        ),
        *(
            Figure(
                f"pressure_{state.key.replace(' ', '_')}",
                f"Pressure, {state.name}",
                state.load / gas.area,
                "pressure",
                f"F / A, over the atmosphere of {above}.",
            )
            for state in states
        ),
        Figure(
            "allowed_pressure",
            "Allowed pressure",
            gas.pressure_limit,
            "pressure",
            "Over atmosphere, as entered.",
        ),
        Figure(
            "safety",
            "Safety",
            gas.pressure_limit / gauge if gauge > 0 or math.isnan(gauge) else math.inf,
            "ratio",
            "Allowed pressure / highest pressure of all states.",
            "higher",
        ),
        Figure(
            "area_at_limit",
            "Area at the allowed pressure",
            area_for(highest, gas.pressure_limit),
            "area",
            "Greatest force of all states / allowed pressure: the least area that would do.",
        ),
    )


def _design_pressure(gas: GasStrut, load: float) -> float:
    return load / gas.area + float(atm)


def _gas_left(gas: GasStrut, deflection: float) -> float:
    """Gas volume at a deflection as a share of that at design trim."""
    return 1 - gas.area * deflection / gas.volume
