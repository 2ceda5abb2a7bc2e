"""The equations of the nonlinear car written a second time, in numpy, for solvers and engines outside.

Nothing of the packed arrays or the compiled loops is used: laws are looked up in tables (elements, points)
side by side, linkages by the Hermite polynomials of their end values, forces by matrices.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from models.ride.nonlinear_model import NonlinearModel

__all__ = ["IndependentCar"]

Array = NDArray[np.float64]


class _Tables:
    """Broken lines on uniform grids, all looked up at once."""

    def __init__(self, laws: list[tuple[float, float, Array]]) -> None:
        longest = max(len(values) for _, _, values in laws)
        self.low = np.array([low for low, _, _ in laws])
        self.step = np.array([step for _, step, _ in laws])
        self.cells = np.array([len(values) - 2 for _, _, values in laws])
        self.values = np.array([np.pad(values, (0, longest - len(values))) for _, _, values in laws])
        self.rows = np.arange(len(laws))

    def at(self, x: Array) -> Array:
        place = (x - self.low) / self.step
        cell = np.minimum(np.maximum(place, 0), self.cells).astype(np.intp)
        low = self.values[self.rows, cell]
        return np.asarray(low + (place - cell) * (self.values[self.rows, cell + 1] - low))


class IndependentCar:
    """Right-hand side ẏ = f(t, y), y = (q, q̇), of a model on a road given at equal steps."""

    def __init__(self, model: NonlinearModel, t: Array, w: Array) -> None:
        self.n = len(model.dof)
        self.step, self.samples, self.start = t[1] - t[0], w.T.copy(), t[0]
        self.slopes = np.diff(w).T / self.step
        self.inverse = np.linalg.inv(model.mass)
        self.coordinates, self.wheels = model.coordinates, model.wheels
        self.constant, self.tyres = model.constant_force, model.tyres
        elements = model.elements
        self.incidence = np.array([element.incidence for element in elements])
        nothing = (0.0, 1.0, np.zeros(2))
        self.springs = _Tables(
            [(law.x0, law.dx, law.values) if (law := e.spring) else nothing for e in elements]
        )
        self.dampers = _Tables(
            [(law.x0, law.dx, law.values) if (law := e.damper) else nothing for e in elements]
        )
        jounce, rebound = [e.jounce_stop for e in elements], [e.rebound_stop for e in elements]
        self.jounce = np.array([(s.gap, s.rate, s.progression) if s else (9.0, 0, 0) for s in jounce]).T
        self.rebound = np.array([(s.gap, s.rate, s.progression) if s else (9.0, 0, 0) for s in rebound]).T
        rubbing = [(e.friction.force, e.friction.width) if e.friction else (0.0, 1.0) for e in elements]
        self.friction, self.width = np.array(rubbing).T
        links = [(number, link) for number, e in enumerate(elements) for link in e.links]
        self.linked = np.array([number for number, _ in links], dtype=np.intp)
        self.moved_by = np.array([link.coordinate for _, link in links], dtype=np.intp)
        self.links = [link.table for _, link in links]
        self.link_rows = np.arange(len(links))
        self.link_low = np.array([table.x0 for table in self.links])
        self.link_step = np.array([table.dx for table in self.links])
        if links:
            self.g = np.array([table.deflections for table in self.links])
            self.ratio = np.array([table.ratios for table in self.links])

    def road(self, t: float) -> tuple[Array, Array]:
        """Height and its rate at a time."""
        place = (t - self.start) / self.step
        cell = min(max(int(place), 0), len(self.slopes) - 1)
        return self.samples[cell] + (place - cell) * self.step * self.slopes[cell], self.slopes[cell]

    def pull(self, x: Array, rate: Array) -> Array:
        """Force of all elements on the deflection coordinates."""
        lever = self.incidence
        deflection = lever @ x
        if len(self.links):
            lever = lever.copy()
            place = (x[self.moved_by] - self.link_low) / self.link_step
            cell = np.clip(place.astype(np.intp), 0, self.g.shape[1] - 2)
            u, rows, h = place - cell, self.link_rows, self.link_step
            g0, g1 = self.g[rows, cell], self.g[rows, cell + 1]
            m0, m1 = h * self.ratio[rows, cell], h * self.ratio[rows, cell + 1]
            one = 1 - u
            deflection[self.linked] += (
                (1 + 2 * u) * one**2 * g0 + u * one**2 * m0 + u * u * (3 - 2 * u) * g1 - u * u * one * m1
            )
            lever[self.linked, self.moved_by] = (
                6 * u * one * (g1 - g0) + one * (1 - 3 * u) * m0 + u * (3 * u - 2) * m1
            ) / h
        turning = lever @ rate
        force = self.springs.at(deflection) + self.dampers.at(turning)
        past = np.maximum(deflection - self.jounce[0], 0)
        force += past * (self.jounce[1] + self.jounce[2] * past)
        past = np.maximum(-self.rebound[0] - deflection, 0)
        force -= past * (self.rebound[1] + self.rebound[2] * past)
        force += self.friction * np.minimum(np.maximum(turning / self.width, -1), 1)
        return np.asarray(force @ lever)

    def tyre_force(self, t: float, height: Array, rate: Array) -> Array:
        """Whole forces of the tyres at heights and rates of the wheels."""
        w, slope = self.road(t)
        tyres = self.tyres
        force = tyres.static_load + tyres.rate * (w - height) + tyres.damping * (slope - rate)
        return np.maximum(force, 0)

    def __call__(self, t: float, y: Array) -> Array:
        q, v = y[: self.n], y[self.n :]
        pull = self.pull(self.coordinates @ q, self.coordinates @ v)
        force = self.tyre_force(t, self.wheels @ q, self.wheels @ v) @ self.wheels
        return np.concatenate([v, self.inverse @ (self.constant + force - pull @ self.coordinates)])
