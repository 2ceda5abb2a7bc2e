"""Time response of the linear car to a road and forces given at equal time steps.

Between two samples both are straight lines (first-order hold), and for such inputs the result at
the samples is exact: the state is carried over a step by the matrix exponential, there is no error
of integration.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isqrt

import numpy as np
from numpy.typing import NDArray

from models.assembly import RideModel
from models.ride.channels import channel_index, outputs

__all__ = ["TimeResponse", "road_inputs", "time_response"]

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class TimeResponse:
    """All channels over time.

    Attributes:
        t: (N,) time, s.
        y: (channels, N) in the order of :data:`models.ride.channels.CHANNELS`, SI.
    """

    t: Array
    y: Array

    def channel(self, key: str) -> Array:
        """(N,) one channel by its key."""
        row: Array = self.y[channel_index(key)]
        return row


def road_inputs(model: RideModel, heights: Array) -> Array:
    """(m, N) height of the road at each input from those under FL, FR, RL, RR (4, N), m.

    The half car, whose wheels of an axle move together, takes the mean of left and right.
    """
    inputs: Array = model.road.T @ heights / model.road.sum(axis=0)[:, None]
    return inputs


def time_response(model: RideModel, t: Array, w: Array, forces: Array | None = None) -> TimeResponse:
    """Response from rest on a flat road of height zero.

    A road that is not at zero at ``t[0]`` has jumped there.  Where the road has a corner its rate has
    two values; the tyre force, which feels it through the damping of the tyre, is given for their
    mean.

    Args:
        model: the car.
        t: (N,) s, N at least 2, equal steps.
        w: (m, N) height of the road at each input (:func:`road_inputs`), m.
        forces: (n, N) generalised forces from outside, straight lines between samples; N, N·m.

    Raises:
        ValueError: the steps of ``t`` are not equal, or ``w`` or ``forces`` has another shape.
    """
    step = (t[-1] - t[0]) / (len(t) - 1) if len(t) > 1 else 0.0
    if step <= 0 or np.abs(np.diff(t) - step).max() > 1e-6 * step:
        raise ValueError("t needs two or more samples at equal steps")
    if w.shape != (len(model.inputs), len(t)):
        raise ValueError(f"w has the shape {w.shape}, not {(len(model.inputs), len(t))}")
    a, b = _state_space(model)
    u = w
    if forces is not None:
        if forces.shape != (len(model.dof), len(t)):
            raise ValueError(f"forces has the shape {forces.shape}, not {(len(model.dof), len(t))}")
        b, u = np.hstack([b, _pushed(model)]), np.vstack([w, forces])
    phi, held, rising = _first_order_hold(a, b, step)
    # With x = ξ + rising u the step ξ' = Φ ξ + (held - rising + Φ rising) u needs no input ahead of it.
    drive = (held - rising + phi @ rising) @ u
    x = _propagate(phi, -rising @ u[:, 0], drive) + rising @ u
    return TimeResponse(t=t, y=_read(model, a, b, x, u, step))


def _state_space(model: RideModel) -> tuple[Array, Array]:
    """A (2n, 2n) and B (2n, m) of ẋ = A x + B w with x = (q, v), v = q̇ - M⁻¹ C_t w.

    The shifted velocity v takes ẇ out of the equations and stays finite over a jump of the road.
    """
    n, m = len(model.dof), len(model.inputs)
    parts = np.hstack([model.stiffness, model.damping, model.road_stiffness, model.road_damping])
    k, c, kt, ct = np.split(np.linalg.solve(model.mass, parts), [n, 2 * n, 2 * n + m], axis=1)
    a = np.block([[np.zeros((n, n)), np.eye(n)], [-k, -c]])
    b = np.vstack([ct, kt - c @ ct])
    return a, b


def _pushed(model: RideModel) -> Array:
    """(2n, n) B of generalised forces."""
    return np.vstack([np.zeros_like(model.mass), np.linalg.inv(model.mass)])


def _first_order_hold(a: Array, b: Array, step: float) -> tuple[Array, Array, Array]:
    """Φ, Γ, Γ' of x' = Φ x + Γ w + Γ' (w' - w) over one step, by one matrix exponential."""
    n, m = b.shape
    augmented = np.zeros((n + 2 * m, n + 2 * m))
    augmented[:n, :n] = a * step
    augmented[:n, n : n + m] = b * step
    augmented[n : n + m, n + m :] = np.eye(m)
    over = _exponential(augmented)
    return over[:n, :n], over[:n, n : n + m], over[:n, n + m :]


def _exponential(a: Array) -> Array:
    """Matrix exponential by scaling and squaring of its series, to about 1e-15 (1 + norm of ``a``).

    Not scipy's: scipy and numpy each bring a BLAS with threads of its own, which wait for work
    spinning, and with the two in turn a run took 8 ms in place of 1 on two cores.
    """
    halvings = max(0, int(np.ceil(np.log2(2 * max(np.abs(a).sum(axis=0).max(), 0.5)))))
    part = a / 2**halvings  # norm of 1/2 at most: term 15 is below 1e-16
    term = result = np.eye(len(a))
    for order in range(1, 16):
        term = term @ part / order
        result = result + term
    for _ in range(halvings):
        result = result @ result
    return result


def _propagate(phi: Array, start: Array, drive: Array) -> Array:
    """(n, N) states of x' = Φ x + drive, from ``start``; ``drive`` is (n, N).

    The run is cut into about √N blocks.  All blocks are stepped side by side from zero, then the state
    at the start of each follows from the block before, and its free motion is added: 2 √N small
    products in place of N.
    """
    n, samples = drive.shape
    width = isqrt(samples - 1) + 1
    blocks = -(-samples // width)
    padded = np.zeros((blocks * width, n))
    padded[:samples] = drive.T
    steps = padded.reshape(blocks, width, n).transpose(1, 0, 2)

    forced = np.zeros((width + 1, blocks, n))
    powers = np.empty((width + 1, n, n))  # of Φᵀ, as the states are rows here
    powers[0] = np.eye(n)
    for j in range(width):
        np.matmul(forced[j], phi.T, out=forced[j + 1])
        forced[j + 1] += steps[j]
        np.matmul(powers[j], phi.T, out=powers[j + 1])
    starts = np.empty((blocks, n))
    starts[0] = start
    for block in range(blocks - 1):
        starts[block + 1] = starts[block] @ powers[width] + forced[width, block]
    states = forced[:width] + starts @ powers[:width]
    return states.transpose(2, 1, 0).reshape(n, -1)[:, :samples]


def _read(model: RideModel, a: Array, b: Array, x: Array, u: Array, step: float) -> Array:
    """(channels, N) all channels from the states (2n, N) and the inputs (m or m + n, N), road first."""
    n, m = len(model.dof), len(model.inputs)
    rows = outputs(model)
    jump, on_input = b[:n], b[n:]  # q̇ = v + jump w and q̈ = v̇ + jump ẇ
    on_state = rows.acceleration @ a[n:]
    on_state[:, :n] += rows.position
    on_state[:, n:] += rows.velocity
    directly = rows.velocity @ jump + rows.acceleration @ on_input
    directly[:, :m] += rows.road
    y: Array = on_state @ x + directly @ u
    on_rate = rows.acceleration @ jump[:, :m] + rows.road_rate
    felt = np.flatnonzero(on_rate.any(axis=1))
    y[felt] += on_rate[felt] @ np.gradient(u[:m], step, axis=1)
    return y
