"""The compiled loops of the nonlinear transient; importing this module imports numba.

They are written for what the compiler makes of them:

- States and channels are rows at fixed distances in one scratch array, so that no loop has to check at run
  time whether what it writes overlaps what it reads.
- The loop over the elements writes nothing: its sums stay in registers, and table look-ups by gathering
  become possible.  What the linkages change is written to the incidence before.
- Indices are unsigned, as a signed one is looked at for counting from the end.
- The order of sums is free (``reassoc``, ``contract``), but numbers that are not finite keep their meaning:
  a look-up clips its place by comparisons that send a NaN to the first cell, and a run that has left the
  finite numbers stops at the next sample.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.ride.compiler import compiled, inlined
from models.ride.packed import (
    DAMPER_SCALE,
    DAMPER_SHIFT,
    DAMPER_TOP,
    FRICTION_FORCE,
    FRICTION_SLOPE,
    JOUNCE_AT,
    JOUNCE_GROWTH,
    JOUNCE_RATE,
    LANES,
    REBOUND_AT,
    REBOUND_GROWTH,
    REBOUND_RATE,
    ROW,
    SPRING_SCALE,
    SPRING_SHIFT,
    SPRING_STEP,
    SPRING_TOP,
    TYRE,
    TYRE_COMPLIANCE,
    TYRE_DAMPING,
    TYRE_LOAD,
    TYRE_RATE,
    Packed,
    Room,
)

__all__ = ["LOOPS", "integrate", "run"]

Array = NDArray[np.float64]

# Rows of the scratch array: state at the sample, at the stage, gathered for the next sample; then
# acceleration, channels and their rates.
Q, V, Q_STAGE, V_STAGE, Q_NEXT, V_NEXT, ACCELERATION, X, RATE = (ROW * row for row in range(9))
SCRATCH = ROW * 9

_X, _FOUR, _ONE, _TWO, _THREE = (np.uint64(number) for number in (X, 4, 1, 2, 3))


@inlined
def _clipped(place: float, top: float) -> float:
    above = place if place > 0.0 else 0.0
    return above if above < top else top


@inlined
def _positive(number: float) -> float:
    return number if number > 0.0 else 0.0


@inlined
def _stored_and_lost(car: Packed, e: int, deflection: float, rate: float) -> tuple[float, float]:
    """Force of springs and stops, and of damper and friction."""
    law = car.law
    u = law[SPRING_SCALE, e] * deflection + law[SPRING_SHIFT, e]
    cell = np.int32(_clipped(u, law[SPRING_TOP, e]))
    at = np.uint64(cell + car.start[0, e])
    force = car.table[at]
    stored = force + (car.table[at + _ONE] - force) * (u - cell)

    past = _positive(deflection - law[JOUNCE_AT, e])
    stored += past * (law[JOUNCE_RATE, e] + law[JOUNCE_GROWTH, e] * past)
    past = _positive(law[REBOUND_AT, e] - deflection)
    stored -= past * (law[REBOUND_RATE, e] + law[REBOUND_GROWTH, e] * past)

    u = law[DAMPER_SCALE, e] * rate + law[DAMPER_SHIFT, e]
    cell = np.int32(_clipped(u, law[DAMPER_TOP, e]))
    at = np.uint64(cell + car.start[1, e])
    force = car.table[at]
    lost = force + (car.table[at + _ONE] - force) * (u - cell)

    rubbing = law[FRICTION_SLOPE, e] * rate
    full = law[FRICTION_FORCE, e]
    rubbing = rubbing if rubbing < full else full
    return stored, lost + (rubbing if rubbing > -full else -full)


@inlined
def _linkage(car: Packed, number: int, s: float) -> tuple[float, float]:
    """Deflection and motion ratio of a linkage."""
    u = car.link_scale[0, number] * s + car.link_scale[1, number]
    last = car.link_scale[2, number]
    on_grid = _clipped(u, last + 1.0)
    cell = np.int32(_clipped(on_grid, last))
    inside = on_grid - cell
    at = np.uint64(4 * (cell + car.link_start[number]))
    c, cubic = car.link_cubic[at + _ONE], car.link_cubic
    slope = c + inside * (2.0 * cubic[at + _TWO] + 3.0 * inside * cubic[at + _THREE])
    g = cubic[at] + inside * (c + inside * (cubic[at + _TWO] + inside * cubic[at + _THREE]))
    return g + slope * (u - on_grid), slope * car.link_scale[0, number]


@compiled
def integrate(
    car: Packed,
    step: float,
    substeps: int,
    road: Array,
    force: Array,
    push: Array,
    start: Array,
    q: Array,
    v: Array,
    work: Array,
) -> int:
    """Fixed-step Runge-Kutta of fourth order over all samples.

    Road and forces are straight lines between the samples.  The works are integrated along with the states.

    Args:
        car: the car.
        step: time between samples, s.
        substeps: steps taken between two samples, 1 or more.
        road: (N, 4) heights, m.
        force: (N, ROW) generalised forces from outside, or (1, ROW) where there are none.
        push: the same as accelerations.
        start: (2, ROW) q and q̇ at the first sample.
        q, v: (N, dof) results at the samples.
        work: (N, 3) results: work of the road, work of the forces from outside, energy lost; J.

    Returns:
        Sample at which the state was no longer finite, or -1.
    """
    samples, dof, elements = road.shape[0], car.dof, car.incidence.shape[1]
    tyre, reading, answer = car.tyre, car.reading, car.answer
    pushed = 1 if force.shape[0] > 1 else 0
    by = np.copy(car.incidence)
    offset = np.zeros(elements)
    s = np.zeros(SCRATCH)
    for j in range(dof):
        s[Q + j] = start[0, j]
        s[V + j] = start[1, j]
    h = step / substeps
    from_road = from_outside = lost = 0.0
    for k in range(samples):
        size = 0.0
        for j in range(dof):
            q[k, j] = s[Q + j]
            v[k, j] = s[V + j]
            size += abs(s[Q + j]) + abs(s[V + j])
        work[k, 0] = from_road
        work[k, 1] = from_outside
        work[k, 2] = lost
        if not size < np.inf:
            return k
        ahead = k + 1
        if ahead == samples:
            break
        for substep in range(substeps):
            for j in range(dof):
                s[Q_STAGE + j] = s[Q_NEXT + j] = s[Q + j]
                s[V_STAGE + j] = s[V_NEXT + j] = s[V + j]
            for stage in range(4):
                part = (substep + 0.5 * ((stage + 1) // 2)) / substeps

                for group in range(dof // LANES):
                    # The masks tell the compiler that the places are not negative.
                    at_q = Q_STAGE + ((group * LANES) & (ROW - 1))
                    at_v = V_STAGE + ((group * LANES) & (ROW - 1))
                    q0, q1, q2, q3 = s[at_q], s[at_q + 1], s[at_q + 2], s[at_q + 3]
                    q4, q5, q6, q7 = s[at_q + 4], s[at_q + 5], s[at_q + 6], s[at_q + 7]
                    v0, v1, v2, v3 = s[at_v], s[at_v + 1], s[at_v + 2], s[at_v + 3]
                    v4, v5, v6, v7 = s[at_v + 4], s[at_v + 5], s[at_v + 6], s[at_v + 7]
                    row = (group * LANES * ROW) & (ROW * ROW - 1)
                    keep = 0.0 if group == 0 else 1.0
                    for c in range(car.channels):
                        h0, h1 = reading[row + c], reading[row + ROW + c]
                        h2, h3 = reading[row + 2 * ROW + c], reading[row + 3 * ROW + c]
                        h4, h5 = reading[row + 4 * ROW + c], reading[row + 5 * ROW + c]
                        h6, h7 = reading[row + 6 * ROW + c], reading[row + 7 * ROW + c]
                        s[X + c] = (
                            keep * s[X + c]
                            + (h0 * q0 + h1 * q1 + h2 * q2 + h3 * q3)
                            + (h4 * q4 + h5 * q5 + h6 * q6 + h7 * q7)
                        )
                        s[RATE + c] = (
                            keep * s[RATE + c]
                            + (h0 * v0 + h1 * v1 + h2 * v2 + h3 * v3)
                            + (h4 * v4 + h5 * v5 + h6 * v6 + h7 * v7)
                        )

                # A linkage is, for the moment, a straight line with an offset; an element may have several.
                for number in range(car.link_element.shape[0]):
                    offset[car.link_element[number]] = 0.0
                for number in range(car.link_element.shape[0]):
                    at = s[_X + car.link_coordinate[number]]
                    g, ratio = _linkage(car, number, at)
                    by[car.link_coordinate[number], car.link_element[number]] = ratio
                    offset[car.link_element[number]] += g - ratio * at

                x0, x1, x2, x3, x4, x5 = s[X], s[X + 1], s[X + 2], s[X + 3], s[X + 4], s[X + 5]
                r0, r1, r2 = s[RATE], s[RATE + 1], s[RATE + 2]
                r3, r4, r5 = s[RATE + 3], s[RATE + 4], s[RATE + 5]
                f0 = f1 = f2 = f3 = f4 = f5 = losing = 0.0
                for e in range(elements):
                    b0, b1, b2, b3, b4, b5 = by[0, e], by[1, e], by[2, e], by[3, e], by[4, e], by[5, e]
                    deflection = offset[e] + b0 * x0 + b1 * x1 + b2 * x2 + b3 * x3 + b4 * x4 + b5 * x5
                    rate = b0 * r0 + b1 * r1 + b2 * r2 + b3 * r3 + b4 * r4 + b5 * r5
                    elastic, lossy = _stored_and_lost(car, e, deflection, rate)
                    losing += lossy * rate
                    total = elastic + lossy
                    f0 += b0 * total
                    f1 += b1 * total
                    f2 += b2 * total
                    f3 += b3 * total
                    f4 += b4 * total
                    f5 += b5 * total

                lifting = 0.0
                for i in range(4):
                    climb = road[ahead, i] - road[k, i]
                    rising = climb / step
                    closing = rising - s[RATE + TYRE + i]
                    squeeze = road[k, i] + part * climb - s[X + TYRE + i]
                    elastic = tyre[TYRE_LOAD, i] + tyre[TYRE_RATE, i] * squeeze
                    total = _positive(elastic + tyre[TYRE_DAMPING, i] * closing)
                    losing += (total - _positive(elastic)) * closing
                    lifting += total * rising
                    s[X + TYRE + i] = total  # the height of the wheel has been used
                t0, t1, t2, t3 = s[X + TYRE], s[X + TYRE + 1], s[X + TYRE + 2], s[X + TYRE + 3]

                pushing = 0.0
                now, then = k * pushed, ahead * pushed
                for j in range(dof):
                    outside = force[now, j] + part * (force[then, j] - force[now, j])
                    pushing += outside * s[V_STAGE + j]
                    s[ACCELERATION + j] = push[now, j] + part * (push[then, j] - push[now, j])
                for j in range(dof):
                    s[ACCELERATION + j] += (
                        car.gravity[j]
                        + (answer[j] * f0 + answer[ROW + j] * f1 + answer[2 * ROW + j] * f2)
                        + (answer[3 * ROW + j] * f3 + answer[4 * ROW + j] * f4 + answer[5 * ROW + j] * f5)
                        + (answer[8 * ROW + j] * t0 + answer[9 * ROW + j] * t1)
                        + (answer[10 * ROW + j] * t2 + answer[11 * ROW + j] * t3)
                    )

                weight = h / 6 if stage == 0 or stage == 3 else h / 3
                on = h if stage == 2 else h / 2
                from_road += weight * lifting
                from_outside += weight * pushing
                lost += weight * losing
                for j in range(dof):
                    velocity, acceleration = s[V_STAGE + j], s[ACCELERATION + j]
                    s[Q_NEXT + j] += weight * velocity
                    s[V_NEXT + j] += weight * acceleration
                    s[Q_STAGE + j] = s[Q + j] + on * velocity
                    s[V_STAGE + j] = s[V + j] + on * acceleration
            for j in range(dof):
                s[Q + j] = s[Q_NEXT + j]
                s[V + j] = s[V_NEXT + j]
    return -1


@compiled
def run(
    moving: Packed,
    car: Packed,
    step: float,
    substeps: int,
    road: Array,
    force: Array,
    push: Array,
    start: Array,
    mass: Array,
    constant_force: Array,
    room: Room,
) -> int:
    """A whole run: the motion, and from it all histories into ``room``.

    One call, so that another thread may compute it without coming back for the interpreter.

    Args:
        moving: the car with elements put together, for its motion.
        car: the same with each element apart, for the histories.
        step, substeps, road, force, push, start: as of :func:`integrate`.
        mass: (n, n) of the degrees of freedom.
        constant_force: (n,) of which the potential counts as stored.
        room: for the results.

    Returns:
        Sample at which the state was no longer finite, or -1.
    """
    stopped = integrate(moving, step, substeps, road, force, push, start, room.q, room.rate, room.work)
    if stopped >= 0:
        return stopped
    _channels(car, room)
    _elements(car, room)
    _tyres(car, step, road, room)
    _accelerations(car, push, room)
    _rest_of_stored(mass, constant_force, room)
    return -1


@compiled
def _channels(car: Packed, room: Room) -> None:
    """Deflection coordinates and wheel heights over time."""
    q, v, x, rate = room.q, room.rate, room.x, room.x_rate
    count, samples = x.shape
    for c in range(count):
        for k in range(samples):
            x[c, k] = 0.0
            rate[c, k] = 0.0
        for j in range(car.dof):
            h = car.reading[ROW * j + c]
            if h != 0.0:
                for k in range(samples):
                    x[c, k] += h * q[k, j]
                    rate[c, k] += h * v[k, j]


@compiled
def _accelerations(car: Packed, push: Array, room: Room) -> None:
    """Accelerations over time, from the forces on the channels."""
    force, a = room.force, room.acceleration
    count, samples = force.shape
    pushed = 1 if push.shape[0] > 1 else 0
    for k in range(samples):
        for j in range(car.dof):
            a[k, j] = car.gravity[j] + push[k * pushed, j]
        for c in range(count):
            pull = force[c, k]
            for j in range(car.dof):
                a[k, j] += car.answer[ROW * c + j] * pull


@compiled
def _tyres(car: Packed, step: float, road: Array, room: Room) -> None:
    """Tyre forces and the energy in tyres; at a corner of the road its rate is the mean of both sides."""
    tyre, x, rate, force, stored = car.tyre, room.x, room.x_rate, room.force, room.stored
    last = road.shape[0] - 1
    for i in range(4):
        for k in range(last + 1):
            before, after = max(k - 1, 0), min(k + 1, last)
            rising = (road[after, i] - road[before, i]) / ((after - before) * step)
            elastic = tyre[TYRE_LOAD, i] + tyre[TYRE_RATE, i] * (road[k, i] - x[TYRE + i, k])
            total = elastic + tyre[TYRE_DAMPING, i] * (rising - rate[TYRE + i, k])
            force[TYRE + i, k] = _positive(total)
            stored[k] += tyre[TYRE_COMPLIANCE, i] * _positive(elastic) ** 2


@compiled
def _rest_of_stored(mass: Array, constant_force: Array, room: Room) -> None:
    """Add the energy of the motion, ½ q̇ᵀ M q̇, and the potential of the constant forces."""
    q, v, stored = room.q, room.rate, room.stored
    n = len(mass)
    for k in range(len(stored)):
        for i in range(n):
            momentum = 0.0
            for j in range(n):
                momentum += mass[i, j] * v[k, j]
            stored[k] += 0.5 * v[k, i] * momentum - constant_force[i] * q[k, i]


@compiled
def _elements(car: Packed, room: Room) -> None:
    """Histories of the elements from those of the coordinates, and the energy in springs and stops."""
    x, rate, pulled, stored = room.x, room.x_rate, room.force, room.stored
    deflection, deflection_rate, force = room.deflection, room.deflection_rate, room.element_force
    elements, samples = deflection.shape
    law, table = car.law, car.table
    for k in range(samples):
        stored[k] = 0.0
    for d in range(TYRE):
        for k in range(samples):
            pulled[d, k] = 0.0
    for e in range(elements):
        for k in range(samples):
            deflection[e, k] = 0.0
            deflection_rate[e, k] = 0.0
        for d in range(6):
            b = car.incidence[d, e]
            if b != 0.0:
                for k in range(samples):
                    deflection[e, k] += b * x[d, k]
                    deflection_rate[e, k] += b * rate[d, k]
        for number in range(car.link_element.shape[0]):
            if car.link_element[number] == e:
                d = car.link_coordinate[number]
                for k in range(samples):
                    g, ratio = _linkage(car, number, x[d, k])
                    deflection[e, k] += g
                    deflection_rate[e, k] += ratio * rate[d, k]
        # Part by part, as most elements have one or two of them.
        for k in range(samples):
            force[e, k] = 0.0
        if law[SPRING_SCALE, e] != 0.0:
            for k in range(samples):
                u = law[SPRING_SCALE, e] * deflection[e, k] + law[SPRING_SHIFT, e]
                cell = np.int32(_clipped(u, law[SPRING_TOP, e]))
                at = np.uint64(cell + car.start[0, e])
                u -= cell
                low = table[at]
                rise = u * (table[at + _ONE] - low)
                force[e, k] += low + rise
                stored[k] += car.energy[at] + law[SPRING_STEP, e] * u * (low + 0.5 * rise)
        if law[JOUNCE_RATE, e] != 0.0 or law[JOUNCE_GROWTH, e] != 0.0:
            for k in range(samples):
                past = _positive(deflection[e, k] - law[JOUNCE_AT, e])
                force[e, k] += past * (law[JOUNCE_RATE, e] + law[JOUNCE_GROWTH, e] * past)
                stored[k] += past * past * (law[JOUNCE_RATE, e] / 2 + law[JOUNCE_GROWTH, e] * past / 3)
        if law[REBOUND_RATE, e] != 0.0 or law[REBOUND_GROWTH, e] != 0.0:
            for k in range(samples):
                past = _positive(law[REBOUND_AT, e] - deflection[e, k])
                force[e, k] -= past * (law[REBOUND_RATE, e] + law[REBOUND_GROWTH, e] * past)
                stored[k] += past * past * (law[REBOUND_RATE, e] / 2 + law[REBOUND_GROWTH, e] * past / 3)
        if law[DAMPER_SCALE, e] != 0.0:
            for k in range(samples):
                u = law[DAMPER_SCALE, e] * deflection_rate[e, k] + law[DAMPER_SHIFT, e]
                cell = np.int32(_clipped(u, law[DAMPER_TOP, e]))
                at = np.uint64(cell + car.start[1, e])
                low = table[at]
                force[e, k] += low + (u - cell) * (table[at + _ONE] - low)
        if law[FRICTION_FORCE, e] != 0.0:
            full = law[FRICTION_FORCE, e]
            for k in range(samples):
                rubbing = law[FRICTION_SLOPE, e] * deflection_rate[e, k]
                rubbing = rubbing if rubbing < full else full
                force[e, k] += rubbing if rubbing > -full else -full
        for d in range(6):
            b = car.incidence[d, e]
            if b != 0.0:
                for k in range(samples):
                    pulled[d, k] += b * force[e, k]
        for number in range(car.link_element.shape[0]):
            if car.link_element[number] == e:
                d = car.link_coordinate[number]
                for k in range(samples):
                    _, ratio = _linkage(car, number, x[d, k])
                    pulled[d, k] += ratio * force[e, k]


#: What has to be compiled; it calls the others.
LOOPS: tuple[Any, ...] = (run,)
