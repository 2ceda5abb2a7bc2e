"""S–N line of a material or part: what amplitude it bears how often.

Basquin's line N = N_k (S_k/S)^k through the knee (S_k, N_k), and what is assumed below the knee.  Every
number is the user's.  The defaults stand for a shot-peened bar of spring steel in torsion, 280 MPa at 2e6 and
364 MPa at 1e5 cycles without mean stress (Goodman lines of a peened 25 mm bar in an open implementation of
EN 13906-1); what else they say is common practice, with no source.  They release nothing.
"""

from __future__ import annotations

from typing import Annotated, Literal

from models.fields import Label, Part, Quantity

__all__ = ["MeanRule", "SNCurve", "StressType"]

StressType = Literal["shear", "normal"]
MeanRule = Literal["none", "Goodman", "mean stress sensitivity"]


class SNCurve(Part):
    """S–N line with the rules by which a history is laid against it."""

    stress: Annotated[
        StressType,
        Label("Stress", "What the line is given for; the other counts by von Mises, σ = √3 τ."),
    ] = "shear"
    amplitude: Annotated[
        float,
        Quantity(
            "stress",
            "Amplitude at the knee",
            "Half the range of stress that the part bears as often as the knee says.",
            low=1e6,
            high=5e9,
            typical=(50e6, 600e6),
            prominent=True,
        ),
    ] = 280e6
    cycles: Annotated[
        float,
        Quantity(
            "ratio", "Cycles at the knee", "Life at that amplitude.", low=1e3, high=1e9, typical=(1e5, 1e7)
        ),
    ] = 2e6
    slope: Annotated[
        float,
        Quantity(
            "ratio",
            "Slope",
            "k of N = N_k (S_k/S)^k above the knee: twice the stress, 2^k times the damage.",
            low=1.0,
            high=50.0,
            typical=(3.0, 15.0),
        ),
    ] = 11.6
    below: Annotated[
        Literal["second slope", "same slope", "endurance limit"],
        Label(
            "Below the knee",
            "Second slope: flatter. Same slope: the line goes on, the careful choice. Endurance limit: "
            "smaller amplitudes do no damage, which a mix of large and small cycles does not bear out.",
        ),
    ] = "second slope"
    second_slope: Annotated[
        float,
        Quantity(
            "ratio",
            "Second slope",
            "Slope below the knee; 2 k - 1 is common (E. Haibach; from memory).",
            low=1.0,
            high=100.0,
            typical=(5.0, 30.0),
        ),
    ] = 22.2
    omitted: Annotated[
        float,
        Quantity(
            "share",
            "Left out below",
            "Amplitudes below this share of the one at the knee do no damage; 0 % leaves out none.",
            low=0.0,
            high=1.0,
            typical=(0.0, 0.5),
        ),
    ] = 0.0
    ratio: Annotated[
        float,
        Quantity(
            "ratio",
            "Stress ratio R",
            "Least over greatest stress for which the line is given: -1 fully reversed, 0 pulsating.",
            low=-1.0,
            high=0.9,
            typical=(-1.0, 0.5),
        ),
    ] = -1.0
    mean_rule: Annotated[
        MeanRule,
        Label(
            "Mean stress",
            "None: only ranges count. Goodman: S_a/(1 - S_m/S_u). Mean stress sensitivity: a line of slope M "
            "in the Haigh diagram, one third as steep above R = 0, level above R = 0.5 (FKM guideline; from "
            "memory).",
        ),
    ] = "Goodman"
    ultimate: Annotated[
        float,
        Quantity(
            "stress",
            "Ultimate strength",
            "S_u of Goodman's line, of the same stress as the amplitude.",
            low=10e6,
            high=10e9,
            typical=(500e6, 2000e6),
        ),
    ] = 1100e6
    sensitivity: Annotated[
        float,
        Quantity(
            "ratio",
            "Mean stress sensitivity M",
            "Loss of amplitude per mean stress from R = -1 to R = 0.",
            low=0.0,
            high=1.0,
            typical=(0.0, 0.6),
        ),
    ] = 0.25
    stress_factor: Annotated[
        float,
        Quantity(
            "ratio",
            "Stress factor",
            "By which stress counts more than nominal: notch, surface and size as far as the line leaves "
            "them out.",
            low=0.1,
            high=10.0,
            typical=(1.0, 3.0),
        ),
    ] = 1.0
    damage_sum: Annotated[
        float,
        Quantity(
            "ratio",
            "Damage at failure",
            "Sum n/N at which the part fails: 1 after Miner; tests of mixed loads give 0.1 to 3, and 0.3 is "
            "often taken (from memory).",
            low=0.01,
            high=10.0,
            typical=(0.1, 1.0),
        ),
    ] = 1.0
    survival: Annotated[
        float,
        Quantity(
            "share",
            "Survival on the line",
            "Share of parts that live as long as the line says; 50 % is the median of the tests.",
            low=0.01,
            high=0.99999,
            typical=(0.5, 0.99),
        ),
    ] = 0.5
    scatter: Annotated[
        float,
        Quantity(
            "ratio",
            "Scatter of life",
            "Standard deviation of log10 of the life, lives taken as log-normal; 0.15 to 0.3 is common "
            "practice, with no source.",
            low=0.0,
            high=2.0,
            typical=(0.05, 0.5),
        ),
    ] = 0.2
