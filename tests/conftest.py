"""What holds for all tests."""

from __future__ import annotations

import os
import sys

# As in the program, and before numpy is imported: BLAS pools only wait for each other on matrices this small.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Qt aborts the process where it finds no screen.
if sys.platform == "linux" and not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from hypothesis import HealthCheck, settings

# No deadline, and no fault found in slow data: the first call of compiled code takes as long as it takes,
# and a busy machine is slow; speed is measured in tests/benchmarks.
settings.register_profile(
    "corduroy",
    deadline=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
# The same examples each time: a change is judged by itself and not by the luck of the draw.
settings.register_profile("ci", settings.get_profile("corduroy"), derandomize=True, database=None)
settings.load_profile("ci" if os.environ.get("CI") else "corduroy")

pytest_plugins = ["tests.manual"]
