"""Compiled loops on machines that let nothing be kept."""

from __future__ import annotations

import pytest
from numba.core.caching import CacheImpl

from models.ride import nonlinear
from models.ride.compiler import compiled


def doubled(x: float) -> float:
    return 2.0 * x


def test_code_is_kept_on_disk() -> None:
    assert compiled(doubled).stats.cache_path  # type: ignore[attr-defined]


def test_a_machine_without_a_folder_to_write_to_compiles_at_each_start(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(CacheImpl, "_locator_classes", [])
    loop = compiled(doubled)
    assert loop(21.0) == 42.0
    monkeypatch.setattr("models.ride.kernel.LOOPS", (compiled(doubled),))
    assert nonlinear.needs_compiling()
    monkeypatch.setattr("models.ride.kernel.LOOPS", (loop,))
    assert not nonlinear.needs_compiling()
