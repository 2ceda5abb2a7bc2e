"""Times that are held against a limit."""

import os

__all__ = ["on_time"]

#: How many times the limit may be taken on a machine that others use too: slower than by company alone.
_IN_COMPANY = 20


def on_time(what: str, taken: float, limit: float) -> None:
    """Print a time and hold it against its limit (both in s).

    In CI (the variable ``CI`` is set) the machine may be busy: there only what is slow beyond all company
    fails, and speed is judged by ratios to others timed in the same run.
    """
    print(f"\n{what}: {1e3 * taken:.3g} ms, limit {1e3 * limit:.3g} ms")
    assert taken <= limit * (_IN_COMPANY if os.environ.get("CI") else 1), f"{what} takes too long"
