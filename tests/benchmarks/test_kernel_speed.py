"""Speed of the nonlinear transient against its peers, all timed in one run on one core.

The car is the one of 24 elements and 7 degrees of freedom of the tests, on a bump that drives it into its
stops and off the road.  Times are the best of several, as the machine may be shared; asserted are ratios.
"""

from __future__ import annotations

import ctypes
import shutil
import subprocess
import time
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

import mujoco
import numba
import numpy as np
import pytest
from mujoco import rollout
from numpy.typing import NDArray
from pytest_benchmark.fixture import BenchmarkFixture
from scipy.integrate import solve_ivp

from models.ride import kernel
from models.ride.nonlinear import simulate, warm_up
from models.ride.packed import ROW, Packed, pack
from models.roads import OneMinusCosine, RoughSurface, wheel_heights
from models.verification.engines.independent_car import IndependentCar
from models.verification.engines.mujoco_car import compiled_car, driven, slides, stepped
from models.verification.engines.nonlinear_cars import every_law

Array = NDArray[np.float64]
RightHandSide = Callable[[float, Array], Array]

CAR = every_law(seat=False)
STEP = 1e-3


def bump(t: Array) -> Array:
    """(4, N) bump that drives into the stops and off the road."""
    event = OneMinusCosine(height=0.1, length=1.6, start=0.5)
    w = wheel_heights(event, RoughSurface(), 14.0, 2.8, 1.5, t)
    return w * np.array([1.0, 0.6, 1.0, 0.6])[:, None]


T = STEP * np.arange(1501)
W = bump(T)
LONG = STEP * np.arange(10001)


def best(run: Callable[[], object], times: int) -> float:
    """Shortest of several times, s."""
    taken = []
    for _ in range(times):
        begin = time.perf_counter()
        run()
        taken.append(time.perf_counter() - begin)
    return min(taken)


@pytest.fixture(scope="module")
def exact() -> Array:
    """(N, n) result with steps of 1/64 ms."""
    return simulate(CAR, T, W, substeps=64).q


@pytest.fixture(scope="module")
def ours() -> float:
    """Time of a run of 1.5 s with all its results, s."""
    warm_up()
    return best(lambda: simulate(CAR, T, W), 50)


def error(q: Array, exact: Array) -> float:
    """Largest error relative to peak."""
    return float(np.abs(q - exact).max() / np.abs(exact).max())


def fastest(f: RightHandSide, exact: Array, target: float) -> tuple[str, Callable[[RightHandSide], Array]]:
    """Name of the fastest of scipy's solvers at the loosest tolerance that reaches the error, and its run."""
    tried = []
    for method in ("RK45", "DOP853", "LSODA"):
        for tolerance in 10.0 ** -np.arange(3, 10):

            def solve(f: RightHandSide, method: str = method, tolerance: float = tolerance) -> Array:
                span, rest = (T[0], T[-1]), np.zeros(14)
                return (
                    solve_ivp(f, span, rest, method, T, rtol=tolerance, atol=tolerance, max_step=0.01).y[:7].T
                )

            begin = time.perf_counter()
            reached = error(solve(f), exact) <= target
            if reached:
                tried.append((time.perf_counter() - begin, f"{method}, tolerance {tolerance:.0e}", solve))
                break
    _, label, solve = min(tried, key=lambda item: item[0])
    return label, solve


class SmoothRoad(IndependentCar):
    """The car on the road of :func:`bump` itself instead of on its samples."""

    def road(self, t: float) -> tuple[Array, Array]:
        half = np.array([0.05, 0.03, 0.05, 0.03])
        place = (14.0 * t - 0.5 - np.array([0.0, 0.0, 2.8, 2.8])) / 1.6
        turn = 2 * np.pi * np.clip(place, 0, 1)
        return half * (1 - np.cos(turn)), half * np.sin(turn) * (2 * np.pi * 14.0 / 1.6)


def report(name: str, rows: list[tuple[str, float]], ours: float) -> None:
    """Print times and ratios."""
    print(f"\n{name}")
    for label, seconds in [("ours", ours), *rows]:
        print(f"  {label:<58} {1e3 * seconds:10.3f} ms {seconds / ours:8.2f} ×")


def test_ten_seconds_at_one_millisecond(benchmark: BenchmarkFixture) -> None:
    """10,000 steps of 24 elements, 8 on linkages, all histories and the energies."""
    warm_up()
    w = bump(LONG)
    result = benchmark(simulate, CAR, LONG, w)
    assert result.lift_off.any()
    assert result.stop_contact.any()


def test_adaptive_solver_at_equal_error(benchmark: BenchmarkFixture, exact: Array, ours: float) -> None:
    """At least a hundred times as fast as scipy's solvers with a right-hand side in numpy.

    Solver and tolerance are the fastest of those tried that err by no more than our run.  They are found with
    the compiled right-hand side, which is reported too, and so is the solver on the smooth road itself: the
    corners that a sampled road has cost an adaptive solver steps, while ours then also carries the error of
    sampling.
    """
    compiled, in_numpy = compiled_right_hand_side(), IndependentCar(CAR, T, W)
    q = simulate(CAR, T, W).q
    sampled_at, solve = fastest(compiled, exact, error(q, exact))
    numpy_time = best(lambda: solve(in_numpy), 2)
    smooth, finely = SmoothRoad(CAR, T, W), STEP / 16 * np.arange(16 * (len(T) - 1) + 1)
    exact_there = simulate(CAR, finely, bump(finely), substeps=4).q[::16]
    smooth_at, solve_smooth = fastest(smooth, exact_there, error(q, exact_there))
    errors = f"{error(q, exact):.1e} of peak ({error(q, exact_there):.1e} on the smooth road)"
    report(
        f"scipy at an error of {errors}, 1.5 s",
        [
            (f"{sampled_at}, numpy", numpy_time),
            (f"{sampled_at}, compiled right-hand side", best(lambda: solve(compiled), 3)),
            (f"{smooth_at}, numpy, smooth road", best(lambda: solve_smooth(smooth), 2)),
        ],
        ours,
    )
    benchmark.pedantic(simulate, (CAR, T, W), rounds=20)
    assert numpy_time / ours >= 100


def test_mujoco_step_by_step_at_equal_error(benchmark: BenchmarkFixture, exact: Array, ours: float) -> None:
    """At least ten times as fast as MuJoCo with the same laws, both with fourth-order steps of 1 ms.

    The error of MuJoCo is then the greater one, as it is given the rate of the road that follows at the end
    of each step: the ratio is the least there is at equal error.

    The laws are asked in Python at each stage, as MuJoCo has no tables.  The car of :func:`native_car`, whose
    laws MuJoCo has itself, is stepped from Python too.
    """
    engine = compiled_car(CAR, STEP)
    with driven(IndependentCar(CAR, T, W)):
        theirs = error(stepped(engine, len(T) - 1), exact)
        asked = best(lambda: stepped(engine, len(T) - 1), 2)
    native, control = native_car(STEP), native_control()

    def run() -> None:
        data = mujoco.MjData(native)
        for row in control[0]:
            data.ctrl[:] = row
            mujoco.mj_step(native, data)

    alone = best(run, 5)
    mine = error(simulate(CAR, T, W).q, exact)
    report(
        f"MuJoCo from Python, 1.5 s; errors of peak: ours {mine:.1e}, MuJoCo {theirs:.1e}",
        [("same laws, asked in Python", asked), ("its own laws, without linkages and friction", alone)],
        ours,
    )
    benchmark.pedantic(simulate, (CAR, T, W), rounds=20)
    assert mine < theirs < 10 * mine
    assert asked / ours >= 10


def test_mujoco_rollout(benchmark: BenchmarkFixture, ours: float) -> None:
    """At least three times as fast as MuJoCo's compiled rollout of a simpler car, on one core each.

    That car (:func:`native_car`) has no linkages, tables or friction, its road stands still over each step,
    and only its states are kept: all of it in favour of MuJoCo.
    """
    native, control = native_car(STEP), np.repeat(native_control(), 4, axis=0)
    data = mujoco.MjData(native)
    state = np.zeros((4, mujoco.mj_stateSize(native, mujoco.mjtState.mjSTATE_FULLPHYSICS)))
    histories = rollout.rollout(native, data, state, control)[0]
    assert np.isfinite(histories).all()
    # The simpler car must be doing the same job: its front left wheel climbs as high within a quarter.
    q = simulate(CAR, T, W).q
    assert np.abs(histories[0, :, 1 + 3]).max() == pytest.approx(np.abs(q[:, 3]).max(), rel=0.25)
    taken = best(lambda: rollout.rollout(native, data, state, control), 5) / 4
    report("MuJoCo's rollout, 1.5 s, a run of a batch of 4", [("rollout", taken)], ours)
    benchmark.pedantic(simulate, (CAR, T, W), rounds=20)
    assert taken / ours >= 3


def test_the_same_loop_in_c(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """No more than 1.3 times the time of the same loop in C, compiled for this processor."""
    compiler = shutil.which("gcc")
    if compiler is None:
        pytest.skip("no gcc here to compile the same loop in C")
    in_c = c_loop(compiler, tmp_path)
    car, road = pack(CAR), np.array(bump(LONG).T, order="C")
    nothing, start = np.zeros((1, ROW)), np.zeros((2, ROW))
    results = [np.zeros((len(LONG), width)) for width in (car.dof, car.dof, 3)]

    def loop() -> int:
        return kernel.integrate(car, STEP, 1, road, nothing, nothing, start, *results)

    loop()
    expected = [result.copy() for result in results]
    call = c_call(in_c, car, road, start, results)
    call()
    for mine, theirs in zip(expected, results, strict=True):
        np.testing.assert_allclose(theirs, mine, rtol=0, atol=1e-8 * np.abs(mine).max())
    compiled, own = [], []
    for _ in range(10):  # by turns, so that both meet the same company on the machine
        own.append(best(loop, 5))
        compiled.append(best(call, 5))
    report("the loop alone, 10 s", [("C, gcc -O3 -march=native -ffast-math", min(compiled))], min(own))
    benchmark.pedantic(loop, rounds=20)
    assert min(own) / min(compiled) <= 1.3


def c_loop(compiler: str, folder: Path) -> ctypes.CDLL:
    """The loop in C, compiled."""
    library = folder / "kernel.so"
    source = Path(__file__).with_name("kernel.c")
    flags = ["-O3", "-march=native", "-ffast-math", "-shared", "-fPIC"]
    subprocess.run([compiler, *flags, "-o", str(library), str(source)], check=True, timeout=60)
    return ctypes.CDLL(str(library))


def c_call(
    library: ctypes.CDLL, car: Packed, road: Array, start: Array, results: list[Array]
) -> Callable[[], None]:
    """A call of the loop in C with the arrays of a car."""
    incidence, offset = car.incidence.copy(), np.zeros(car.incidence.shape[1])
    numbers = (car.dof, car.incidence.shape[1], len(car.link_element), len(road), 1)
    arrays = (
        *(car.reading, car.answer, car.gravity, car.law, car.table, car.tyre, car.link_scale, car.link_cubic),
        *(car.start, car.link_start, car.link_coordinate, car.link_element),
        *(incidence, offset, road, start, *results),
    )

    class Car(ctypes.Structure):
        _fields_ = [
            *((f"n{i}", ctypes.c_int64) for i in range(len(numbers))),
            ("step", ctypes.c_double),
            *((f"a{i}", ctypes.c_void_p) for i in range(len(arrays))),
        ]

    packed = Car(*numbers, STEP, *(array.ctypes.data for array in arrays))
    library.integrate.argtypes = [ctypes.POINTER(Car)]

    def call() -> None:
        np.copyto(incidence, car.incidence)
        library.integrate(ctypes.byref(packed))

    return call


def native_car(step: float) -> mujoco.MjModel:
    """The car as far as MuJoCo has the laws itself.

    Springs as polynomials and stops as springs with a slack, all on tendons with the motion ratio of design
    trim; dampers linear, with the mean rate at rest; tyres as position servos, limited so that they cannot
    pull.  Left out: linkages, the digressive dampers' shape, friction, and what cancels at rest (weight and
    preload).
    """
    root, tendons = slides(CAR, step)
    root.find("option").set("gravity", "0 0 0")
    for element in CAR.elements:
        lever = element.incidence.copy()
        for link in element.links:
            lever[link.coordinate] = link.table.ratio(0.0)
        row = lever @ CAR.coordinates
        x = np.linspace(-0.05, 0.05, 101)
        force = element.spring.value(x) - element.spring.value(0.0)
        cubic = np.linalg.lstsq(np.column_stack([x, x**3]), force, rcond=None)[0]
        rate = float((element.damper.value(0.05) - element.damper.value(-0.05)) / 0.1)
        laws = [{"stiffness": f"{cubic[0]} 0 {cubic[1]}", "damping": repr(rate), "springlength": "0 0"}]
        if stop := element.jounce_stop:
            laws.append({"stiffness": f"{stop.rate} {stop.progression} 0", "springlength": f"-9 {stop.gap}"})
        if stop := element.rebound_stop:
            laws.append({"stiffness": repr(stop.rate), "springlength": f"{-stop.gap} 9"})
        for law in laws:
            line = ElementTree.SubElement(tendons, "fixed", law)
            for name, part in zip(CAR.dof, row, strict=True):
                if part:
                    ElementTree.SubElement(line, "joint", joint=name, coef=repr(float(part)))
    servos = ElementTree.SubElement(root, "actuator")
    tyres = CAR.tyres
    for i, name in enumerate(CAR.dof[3:]):
        k, c, load = tyres.rate[i], tyres.damping[i], tyres.static_load[i]
        kind = {"joint": name, "biastype": "affine", "gainprm": repr(float(k)), "biasprm": f"0 {-k} {-c}"}
        limit = {"forcelimited": "true", "forcerange": f"{-load} 1e9"}
        ElementTree.SubElement(servos, "general", kind | limit)
    return mujoco.MjModel.from_xml_string(ElementTree.tostring(root, encoding="unicode"))


def native_control() -> Array:
    """(1, N - 1, 4) road in the middle of each step, with its rate through the damping of the tyre."""
    tyres = CAR.tyres
    return ((W[:, 1:] + W[:, :-1]) / 2 + (tyres.damping / tyres.rate)[:, None] * np.diff(W) / STEP).T[None]


def compiled_right_hand_side() -> Callable[[float, Array], Array]:
    """The equations compiled by numba in plain loops, without energies, for the solver of scipy."""
    car, count = pack(CAR), len(CAR.elements)
    coordinates, wheels, inverse = CAR.coordinates, CAR.wheels, np.linalg.inv(CAR.mass)
    constant, road, slopes = CAR.constant_force, W.T.copy(), np.diff(W).T / STEP
    tyres, incidence = car.tyre, car.incidence
    forces, linkage = kernel._stored_and_lost, kernel._linkage
    link_element = car.link_element.astype(np.int64)
    link_coordinate = car.link_coordinate.astype(np.int64)

    @numba.njit(fastmath=True)
    def evaluate(car: Packed, t: float, y: Array) -> Array:
        q, v = y[:7], y[7:]
        k = min(max(int(t / STEP), 0), len(slopes) - 1)
        x, rate = np.zeros(6), np.zeros(6)
        for d in range(4):
            for j in range(7):
                x[d] += coordinates[d, j] * q[j]
                rate[d] += coordinates[d, j] * v[j]
        by, offset, pull = incidence.copy(), np.zeros(count), np.zeros(6)
        for number in range(len(link_element)):
            e, d = link_element[number], link_coordinate[number]
            g, ratio = linkage(car, number, x[d])
            by[d, e] = ratio
            offset[e] = g - ratio * x[d]
        for e in range(count):
            bent, turning = offset[e], 0.0
            for d in range(4):
                bent += by[d, e] * x[d]
                turning += by[d, e] * rate[d]
            stored, lost = forces(car, e, bent, turning)
            for d in range(4):
                pull[d] += by[d, e] * (stored + lost)
        force = constant.copy()
        for i in range(4):
            height, speed = 0.0, 0.0
            for j in range(7):
                height += wheels[i, j] * q[j]
                speed += wheels[i, j] * v[j]
            squeeze = road[k, i] + (t - k * STEP) * slopes[k, i] - height
            tyre = tyres[2, i] + tyres[0, i] * squeeze + tyres[1, i] * (slopes[k, i] - speed)
            for j in range(7):
                force[j] += wheels[i, j] * max(tyre, 0.0) - coordinates[i, j] * pull[i]
        result = np.empty(14)
        result[:7] = v
        for i in range(7):
            result[7 + i] = 0.0
            for j in range(7):
                result[7 + i] += inverse[i, j] * force[j]
        return result

    return lambda t, y: evaluate(car, t, y)
