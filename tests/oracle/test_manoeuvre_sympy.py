"""Steady braking and cornering against free-body diagrams solved by sympy.

Here nothing is known of shares or supports: bodies, pins and forces are drawn, and sympy solves for them.
"""

from __future__ import annotations

from math import isclose

import numpy as np
import pytest
import sympy as sp

from models.assembly import mechanics
from models.ride.lean import roll_gravity
from models.ride.manoeuvres import support_angle
from models.ride.steady import ManoeuvreStatics, quasi_static
from models.statics import statics
from models.vehicle import (
    AS_DESIGNED,
    Axle,
    AxleGeometry,
    Body,
    IndependentWheels,
    LongitudinalForces,
    Spring,
    Tyre,
    Vehicle,
)
from tests.manual import near

G = 9.80665
MASS, A, B, HEIGHT = 1350.0, 1.2, 1.4, 0.58
UNSPRUNG, RADIUS, TRACK = (42.0, 51.0), (0.31, 0.33), (1.52, 1.46)


def vehicle(front: AxleGeometry, rear: AxleGeometry, brake_share: float, tyre_rate: float) -> Vehicle:
    """Car of the numbers above."""
    axles = [
        Axle(
            track=TRACK[end],
            wheels=IndependentWheels(unsprung_mass=UNSPRUNG[end]),
            spring=Spring(rate=rate),
            tyre=Tyre(rate=tyre_rate, radius=RADIUS[end]),
            geometry=geometry,
        )
        for end, (rate, geometry) in enumerate(((22e3, front), (27e3, rear)))
    ]
    return Vehicle(
        wheelbase=A + B,
        body=Body(mass=MASS, cg_to_front_axle=A, cg_height=HEIGHT),
        front=axles[0],
        rear=axles[1],
        forces=LongitudinalForces(front_brake_share=brake_share),
    )


def spring_changes(car: Vehicle, found: ManoeuvreStatics) -> np.ndarray:
    """(4,) change of the corner springs, N."""
    table = mechanics(car)
    change = found.stand.force - statics(table).force
    names = ("front left", "front right", "rear left", "rear right")
    rows = {element.name: number for number, element in enumerate(table.elements)}
    return np.array([change[rows[f"{name} spring"]] for name in names])


def swing_arms_in_braking(
    arm: tuple[float, float], pin_height: tuple[float, float], share: float, a: float
) -> dict[str, float]:
    """Tyre and spring forces of an axle, less those at rest, of a car on swing arms in the side view.

    Each wheel carrier, its brake locked to it, turns on a pin on the body: behind the front wheel and ahead
    of the rear one by ``arm``, at ``pin_height``.  The spring stands over the wheel.  Bodies in balance with
    their inertia at the deceleration ``a``: three equations each.
    """
    brake_front = sp.Float(share) * (MASS + 2 * sum(UNSPRUNG)) * a
    brake = (brake_front, (MASS + 2 * sum(UNSPRUNG)) * a - brake_front)
    unknown = sp.symbols("N_f N_r S_f S_r X_f X_r Z_f Z_r")
    normal, spring, pin_x, pin_z = unknown[:2], unknown[2:4], unknown[4:6], unknown[6:]

    equations = []
    # Along x (forward), along z, and about y at the CG.
    body = [sp.Float(MASS * a), -sp.Float(MASS * G), sp.Float(0)]
    for end, (place, inward) in enumerate(((A, -1.0), (-B, 1.0))):
        weight, inertia = 2 * UNSPRUNG[end] * G, 2 * UNSPRUNG[end] * a
        # The carrier: brake force backward on the ground, inertia forward at the hub, spring, pin.
        equations += [
            -brake[end] + inertia + pin_x[end],
            normal[end] - weight - spring[end] + pin_z[end],
            # About the pin, M_y = z F_x - x F_z with places counted from it; the wheel stands off inward.
            (0.0 - pin_height[end]) * -brake[end]
            + (RADIUS[end] - pin_height[end]) * inertia
            - (-inward * arm[end]) * (normal[end] - weight - spring[end]),
        ]
        pin_place = place + inward * arm[end]
        body[0] -= pin_x[end]
        body[1] += spring[end] - pin_z[end]
        body[2] += (pin_height[end] - HEIGHT) * -pin_x[end] - pin_place * -pin_z[end] - place * spring[end]
    equations += body[1:]  # along x the body is in balance once the carriers are
    (solution,) = sp.linsolve(equations, unknown)
    values = dict(zip(("N_f", "N_r", "S_f", "S_r"), map(float, solution[:4]), strict=True))
    at_rest = {
        "N_f": MASS * G * B / (A + B) + 2 * UNSPRUNG[0] * G,
        "N_r": MASS * G * A / (A + B) + 2 * UNSPRUNG[1] * G,
    }
    at_rest |= {"S_f": MASS * G * B / (A + B), "S_r": MASS * G * A / (A + B)}
    return {key: value - at_rest[key] for key, value in values.items()}


@pytest.mark.parametrize("share", [0.5, 0.7])
def test_braking_on_swing_arms(share: float) -> None:
    """Pins as high as the hubs: the inertia of the wheels passes through them, as the model has it."""
    arm = (1.6, 1.1)
    drawn = swing_arms_in_braking(arm, RADIUS, share, 6.0)
    slope = [height / length for height, length in zip(RADIUS, arm, strict=True)]
    whole = MASS + 2 * sum(UNSPRUNG)
    height = (MASS * HEIGHT + 2 * sum(m * r for m, r in zip(UNSPRUNG, RADIUS, strict=True))) / whole
    shares = (share, 1 - share)
    front, rear = (AxleGeometry(brake_support=shares[end] * slope[end] * (A + B) / height) for end in (0, 1))
    car = vehicle(front, rear, share, tyre_rate=200e3)
    found = quasi_static(car, AS_DESIGNED, -6.0, 0.0)
    springs = spring_changes(car, found)
    # Linear algebra in both, to rounding of loads of 1e4 N.
    for axle, key in ((0, "f"), (2, "r")):
        loads, pushes = found.load_change[axle : axle + 2].sum(), springs[axle : axle + 2].sum()
        near(f"change of the tyre loads {key}, N", loads, drawn[f"N_{key}"], within=1e-6)
        near(f"change of the springs {key}, N", pushes, drawn[f"S_{key}"], within=1e-6)
    near("tangent of the support angle", np.tan(support_angle(car, mechanics(car))), slope, relative=1e-12)


def test_pins_elsewhere_change_the_springs_only_by_the_inertia_of_the_wheels() -> None:
    """A pin above the hub on the same line: m_u a (e - r) / arm is what the model leaves out."""
    hub = swing_arms_in_braking((1.6, 1.1), RADIUS, 0.6, 6.0)
    above = swing_arms_in_braking((3.2, 2.2), (2 * RADIUS[0], 2 * RADIUS[1]), 0.6, 6.0)
    for end, key in enumerate("fr"):
        assert isclose(hub[f"N_{key}"], above[f"N_{key}"], abs_tol=1e-6)
        left_out = 2 * UNSPRUNG[end] * 6.0 * RADIUS[end] / (3.2, 2.2)[end]
        assert abs(above[f"S_{key}"] - hub[f"S_{key}"]) == pytest.approx(left_out)


def test_cornering_on_pins_at_the_roll_centres() -> None:
    """A body on two axles, each a beam on rigid wheels with a pin at its roll centre, to first order in roll.

    Unknown are the roll, the pin forces, the load that each axle moves, and the springs' moments.
    """
    centres, lateral = (0.06, 0.27), 3.5
    car = vehicle(*(AxleGeometry(roll_centre_height=height) for height in centres), 0.6, tyre_rate=1e9)
    rates = [rate * track**2 / 2 for rate, track in zip((22e3, 27e3), TRACK, strict=True)]

    phi, pin_f, pin_r, moved_f, moved_r = sp.symbols("phi P_f P_r D_f D_r")
    pins, moved = (pin_f, pin_r), (moved_f, moved_r)
    # The body turns about the line of the pins; its CG stands over it by d and goes to the right by d φ.
    axis = centres[0] + (centres[1] - centres[0]) * A / (A + B)
    arm = HEIGHT - axis
    inertia = MASS * lateral
    equations = [
        pin_f + pin_r - inertia,
        A * pin_f - B * pin_r,
        # Moments about the line of the pins: inertia to the right over d, weight to the right by d φ.
        inertia * arm + MASS * G * arm * phi - sum(rates) * phi,
    ]
    for end in (0, 1):
        # The beam about its middle on the ground: pin force, spring moment and inertia against the tyres.
        over = pins[end] * centres[end] + rates[end] * phi + 2 * UNSPRUNG[end] * lateral * RADIUS[end]
        equations.append(over - moved[end] * TRACK[end])
    (solution,) = sp.linsolve(equations, [phi, *pins, *moved])

    found = quasi_static(car, AS_DESIGNED, 0.0, lateral)
    # Tyres of 1e9 N/m are rigid to 3e-5 of the springs.
    near("roll, rad", found.roll, float(solution[0]), relative=1e-4)
    near("load transfer, N", found.lateral_transfer, [float(d) for d in solution[3:]], relative=1e-4)
    near("m g d, N·m/rad", roll_gravity(car, mechanics(car)), MASS * G * arm, relative=1e-6)
