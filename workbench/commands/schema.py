"""``corduroy schema``: the JSON schema of the project file."""

from __future__ import annotations

import argparse
import json

from models.project.schema import project_schema
from workbench.commands.command import Answer, Command

__all__ = ["COMMAND"]


def _add_options(command: argparse.ArgumentParser) -> None:
    """It takes none."""


def _run(options: argparse.Namespace) -> Answer:
    return Answer(json.dumps(project_schema(), indent=2, ensure_ascii=False))


COMMAND = Command(
    help="print the JSON schema of the project file",
    description="Print the JSON schema (2020-12) of the project file, with the meaning, the range and the "
    "unit of each field, for editors and for programs that write projects.",
    example="> project.schema.json",
    add_options=_add_options,
    run=_run,
    cautions=(),
)
