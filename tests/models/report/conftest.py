"""A sample project and its whole review, computed once."""

from __future__ import annotations

from pathlib import Path

import pytest

from models.fields import replaced
from models.project import Project, ReviewOptions, load
from models.report import Document, review

SALOON = Path(__file__).parents[3] / "sample_projects" / "large_saloon.corduroy"

#: Sections that take no time.
QUICK = ("job", "differences", "rates", "method")


@pytest.fixture(scope="session")
def saloon() -> Project:
    return load(SALOON)


@pytest.fixture(scope="session")
def options() -> ReviewOptions:
    return ReviewOptions(author="R. Example", date="2026-11-25", revision="First issue.")


@pytest.fixture(scope="session")
def whole(saloon: Project, options: ReviewOptions) -> Document:
    return review(saloon, options=options)


@pytest.fixture(scope="session")
def quick(options: ReviewOptions) -> ReviewOptions:
    return replaced(options, ("sections",), QUICK)
