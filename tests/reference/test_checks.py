"""Published numbers, and laws that hold whatever the numbers are; stated in models.verification."""

from __future__ import annotations

import pytest

from models.verification import Check, run
from models.verification.catalogue import CHECKS
from tests.manual import assert_held


@pytest.mark.parametrize(
    "check", [check for check in CHECKS if check.group != "engine"], ids=lambda check: check.id
)
def test_check(check: Check) -> None:
    assert_held(run(check))
