"""Key figures of comfort after ISO 2631-1: the weighted random road, and the shocks of the event."""

from __future__ import annotations

from models.comfort.assessment import SICKNESS_EXPOSURE, Comfort
from models.comfort.measures import CREST_LIMIT, REACTIONS, Measures
from models.judge.figure import Figure

__all__ = ["comfort_figures", "shock_figures"]

_HOURS = SICKNESS_EXPOSURE / 3600


def comfort_figures(felt: Comfort) -> tuple[Figure, ...]:
    """What the random road feels like."""
    return (
        Figure(
            "rms_weighted_seat_acceleration",
            "RMS weighted seat acceleration",
            felt.rms["seat z"],
            "acceleration",
            "Random road: RMS of the vertical acceleration at the seat, weighted by Wk (ISO 2631-1).",
            "lower",
        ),
        Figure(
            "rms_weighted_head_acceleration",
            "RMS weighted head acceleration",
            felt.rms["head x"],
            "acceleration",
            "Random road: RMS of the head's fore-aft acceleration, θ̈ · height over the CG, weighted by Wd.",
            "lower",
        ),
        Figure(
            "rms_seat_vibration_total",
            "Vibration total at the seat",
            felt.seat_total,
            "acceleration",
            "Random road: √(Σ k² a_w²) of x, y, z, roll and pitch at the seat surface (ISO 2631-1).",
            "lower",
        ),
        Figure(
            "rms_vibration_total",
            "Vibration total value a_v",
            felt.overall_total,
            "acceleration",
            f"Random road: √(Σ k² a_w²) of seat, back and feet (ISO 2631-1). {_wording()}. "
            "These words are information, no limits (annex C, from memory).",
            "lower",
        ),
        Figure(
            "motion_sickness_dose",
            "Motion sickness dose",
            felt.sickness_dose,
            "motion sickness dose",
            f"Random road for {_HOURS:.0f} h: a_w √T, vertical at the seat, weighted by Wf from 0.1 Hz; "
            "dose/3 is the per cent of people unused to it who may vomit (annex D, from memory).",
            "lower",
        ),
    )


def shock_figures(shock: Measures) -> tuple[Figure, ...]:
    """How hard the event strikes the seat, from its vertical acceleration weighted by Wk."""
    return (
        Figure(
            "event_vibration_dose",
            "Vibration dose value",
            shock.dose,
            "vibration dose",
            "Road event: VDV = (∫ a_w⁴ dt)^¼, vertical at the seat, weighted by Wk (ISO 2631-1).",
            "lower",
        ),
        Figure(
            "event_crest_factor",
            "Crest factor",
            shock.crest_factor,
            "ratio",
            f"Road event: peak / RMS of a_w over the run at the seat; over {CREST_LIMIT:g} judge by the VDV.",
        ),
        Figure(
            "event_transient_value",
            "Maximum transient vibration",
            shock.mtvv,
            "acceleration",
            "Road event: MTVV, largest RMS a_w over one second, vertical at the seat, weighted by Wk.",
            "lower",
        ),
    )


def _wording() -> str:
    """Ranges of the reactions: "Up to 0.315 not uncomfortable, ..."."""
    texts = [f"Up to {REACTIONS[0][2]:g} {REACTIONS[0][0]}"]
    texts += [
        f"{low:g}–{high:g} {word.removesuffix(' uncomfortable')}" for word, low, high in REACTIONS[1:-1]
    ]
    texts.append(f"over {REACTIONS[-1][1]:g} extremely")
    return "; ".join(texts)
