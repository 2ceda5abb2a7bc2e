"""How the numbers come about, on whose word, and how to make the document again."""

from __future__ import annotations

from collections.abc import Iterator

from models.report.bench import Bench
from models.report.document import Block, Fact, Facts, Note, Paragraph, Subheading
from models.report.words import row, table

__all__ = ["method"]

_ASSUMPTIONS = (
    "Axes and signs are those of ISO 8855: x forward, y left, z up; roll is positive with the left side up, "
    "pitch with the nose down. Wheel travel is positive in jounce.",
    "The body is rigid with heave, roll and pitch; each wheel moves vertically. Springs, dampers, stops, "
    "bars and friction act through their ratios at the wheel travels. Steering, tyre slip and the bending "
    "of the body are left out. Tyres touch the road in a point and cannot pull.",
    "Rates, modes, gains, spectra and RMS values are linear about the equilibrium of the load case; RMS "
    "values are taken from 0.1 to 50 Hz. The time response has the nonlinear laws unless it is called "
    "linear.",
    "Random roads are ISO 8608 surfaces with two coherent tracks of an isotropic surface; the rear wheels "
    "meet what the front wheels met, wheelbase over speed later.",
    "Vibration is weighted and added after ISO 2631-1 at the driver's seat, back and feet.",
    "Lives count cycles by the rainflow method of the forces in the nonlinear runs over the road mix, and "
    "add damage by Miner's rule on the S–N line as entered; the stress is nominal.",
)
_SOURCES = (
    ("ISO 8855", "Road vehicles: vehicle dynamics and road-holding ability, vocabulary.", "axes, signs"),
    ("ISO 8608", "Mechanical vibration: road surface profiles.", "road classes, spectra"),
    ("ISO 2631-1:1997", "Human exposure to whole-body vibration.", "weightings, totals, doses"),
    ("Dodds, Robson 1973", "The description of road surface roughness, J. Sound Vib. 31.", "coherent tracks"),
    ("ASTM E1049", "Cycle counting in fatigue analysis.", "rainflow"),
    ("Miner 1945", "Cumulative damage in fatigue, J. Appl. Mech. 12.", "adding damage"),
    ("Olley 1934", "Independent wheel suspension: its whys and wherefores.", "common practice, from memory"),
)


def method(bench: Bench) -> Iterator[Block]:
    """Assumptions, sources, and the inputs."""
    for sentence in _ASSUMPTIONS:
        yield Paragraph(sentence)
    yield table("Sources", ("Source", "Title", "Used for"), (), (row(*one) for one in _SOURCES))
    yield Note("The definition of each figure, with its formula, is its tooltip in the program.")
    yield Subheading("To make this document again")
    options = bench.options
    yield Paragraph(
        "The same project, options, results of studies and program version give the same document to the "
        "letter. The inputs hash on the cover is the SHA-256 of all of these; another hash means other "
        "inputs."
    )
    yield Facts(
        "",
        (
            Fact("Sections", ", ".join(options.sections)),
            Fact("Paper", options.paper),
            Fact("Units", options.units),
            Fact("Studies", ", ".join(options.studies) or "none"),
        ),
    )
