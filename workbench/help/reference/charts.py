"""Every chart, from the table of charts; and the families of charts of the pages."""

from __future__ import annotations

from models.charts import CHART_CHOICES
from models.charts.build import ChartChoice
from models.ride.channels import CHANNELS, channel_index
from workbench.help.anchors import chart_anchor
from workbench.help.reference.markdown import entry, page, words

__all__ = ["FAMILIES", "charts_page"]

_LEAD = """Colour means variant: blue is the candidate, graphite the baseline, fainter colours are further
variants. The line means the place: solid at the body and in front, dashed at the rear; heavier on the left,
lighter on the right. Where left and right are alike one of them is drawn. The menu ⋯ of a chart exports it
as PNG, SVG, PDF or, with its numbers and units, as CSV."""

_DOMAINS: dict[str, tuple[str, str]] = {
    "time": ("Over time", "Response to the event and the manoeuvre of the run. {ref}`Theory <theory-time>`"),
    "psd": (
        "Spectra",
        "One-sided power spectral density on the random surface at the speed of the run. "
        "{ref}`Theory <theory-random>`",
    ),
    "gain": (
        "Gains",
        "Amplitude per amplitude of a road that is alike in both tracks and travels under the car. "
        "{ref}`Theory <theory-response>`",
    ),
    "difference": ("Differences", "Candidate less baseline, at each time."),
    "ratio": ("Ratios", "Candidate over baseline, at each frequency; 1 is as the baseline."),
}

#: Family of charts of the pages -> name, what it shows, and label of the theory.
FAMILIES: dict[str, tuple[str, str, str]] = {
    "law": (
        "Laws of the parts",
        "Force over travel, or over speed, of the springs, dampers, stops, tyres and bars at the wheel, with "
        "marks where the car stands and where the stops touch. What is drawn is the law that the run uses.",
        "theory-elements",
    ),
    "law-cushion": (
        "Laws of the seat cushion",
        "Force over deflection of the cushion, and over its speed.",
        "theory-body",
    ),
    "levelling": (
        "Levelling over an event",
        "Heights of both axles, wind-up of the trim springs and motor current over the event; and how often "
        "the motor would start on rough roads over the delay that is set.",
        "theory-levelling",
    ),
    "fatigue": (
        "Life",
        "Cycles per distance that exceed a stress range; damage per road of the mix; the S–N line with the "
        "cycles of the target life.",
        "theory-fatigue",
    ),
    "linkage": (
        "Linkage over wheel travel",
        "Bar angle, motion ratio, its slope, link forces and toggle margins over the travel of the wheel.",
        "theory-linkage",
    ),
    "packaging": (
        "Packaging",
        "Wheel travel of load cases and run between the stops; clearance along the car.",
        "theory-packaging",
    ),
    "road": (
        "Roads",
        "Heights of the two tracks along the road, their spectrum with the class of ISO 8608 that fits it, "
        "or the posts of a sine sweep over time.",
        "theory-roads",
    ),
    "speed": (
        "Figures over speed",
        "One figure against vehicle speed; the wheelbase filters differently at each.",
        "theory-random",
    ),
    "stabiliser": (
        "Stress along a stabiliser bar",
        "Bending, torsion and von Mises stress along the centre line of the bar, from its middle to its end.",
        "theory-stabiliser-bars",
    ),
    "stack": (
        "Tolerance stack at trim",
        "Spread of height and pitch of the drawn cars, and which tolerance moves them.",
        "theory-trim-tolerance",
    ),
    "steel-size": (
        "Sizes that fit",
        "Stress, or life, over mass of all standard sizes that give the rate that is wanted.",
        "theory-sizing",
    ),
    "study": (
        "Studies",
        "Figures over parameters, maps, bars of sensitivities and Sobol indices, spread of cars as built, "
        "yield, fronts of a search.",
        "theory-studies",
    ),
}


def charts_page() -> str:
    """Charts of the ride by domain, then the families of the pages."""
    parts = [_LEAD]
    for domain, (title, meaning) in _DOMAINS.items():
        parts += [f"## {title}", meaning]
        parts += [_choice(key, choice) for key, choice in CHART_CHOICES.items() if choice.domain == domain]
    parts.append("## Charts of the pages")
    for family, (name, meaning, theory) in FAMILIES.items():
        said = f"{words(meaning)} {{ref}}`Theory <{theory}>`"
        parts.append(entry(chart_anchor(family), name, [said]))
    return page("Charts", *parts)


def _choice(key: str, choice: ChartChoice) -> str:
    channels = dict.fromkeys(_without_corner(CHANNELS[channel_index(name)].label) for name in choice.channels)
    told = [words(", ".join(channels))]
    if choice.sign:
        told.append(words(choice.sign))
    if choice.whole:
        told.append("whole force, static share included")
    if choice.weighting:
        told.append(f"weighted by {choice.weighting} (ISO 2631-1)")
    return entry(chart_anchor(key), choice.title, ["; ".join(told) + "."])


def _without_corner(label: str) -> str:
    first, _, last = label.rpartition(" ")
    return f"{first} at each wheel" if last in ("FL", "FR", "RL", "RR") else label
