"""What holds for all tests."""

from __future__ import annotations

from hypothesis import settings

# The first call of compiled code takes as long as it takes; speed is measured in tests/benchmarks.
settings.register_profile("corduroy", deadline=None)
settings.load_profile("corduroy")
