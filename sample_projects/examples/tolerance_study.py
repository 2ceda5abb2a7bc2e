"""How many cars as built meet the targets, and which tolerance keeps the others from it."""

from pathlib import Path

from models import api as corduroy
from models.studies import built_cars
from models.study import Tolerance, ToleranceDraw

SAMPLE = Path(__file__).parents[1] / "large_saloon.corduroy"

project = corduroy.open_project(SAMPLE)
study = ToleranceDraw(
    name="Springs and dampers",
    variant="joined torsion bars",
    tolerances=(
        Tolerance(place="left.coupling.bar_rate", kind="share", plus_minus="4 %"),
        Tolerance(place="front.damper.rebound", kind="share", plus_minus="12 %"),
        Tolerance(place="rear.damper.rebound", kind="share", plus_minus="12 %"),
    ),
    draws=200,
    exact_draws=100,
)
result = project.study(study)  # workers=4 computes in four processes
found = built_cars(result)
print(f"{study.name}: {found.whole.passed} of {found.whole.cars} cars meet all targets")
print(f"  {100 * found.whole.low:.1f} % to {100 * found.whole.high:.1f} % with 95 % confidence")
for target in found.targets:
    print(f"  {target.words:40} {100 * target.share:5.1f} %")
print("\nYield gained if a tolerance were exact:")
for cost in found.costs:
    print(f"  {cost.place.label:28} {100 * cost.gained:+.1f} %")
