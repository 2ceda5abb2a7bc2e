"""``corduroy new OUT``: a project to begin with."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from models.errors import InputError
from models.fields import replaced
from models.project import Project, dumps, load, new_project, save
from workbench.commands.command import Answer, Command
from workbench.commands.options import STDIN, add_json_option
from workbench.resources import sample_projects

__all__ = ["COMMAND"]


def _add_options(command: argparse.ArgumentParser) -> None:
    samples = ", ".join(path.stem for path in sample_projects())
    command.add_argument("out", type=Path, metavar="OUT", help="file to write; - prints the project")
    command.add_argument(
        "--from",
        dest="sample",
        metavar="SAMPLE",
        help=f"sample ({samples}) or file; else a plain car",
    )
    command.add_argument("--name", metavar="NAME", help="name of the project")
    command.add_argument("--force", action="store_true", help="overwrite what is there, kept as NAME.bak")
    add_json_option(command)


def _run(options: argparse.Namespace) -> Answer:
    project = new_project() if options.sample is None else _sample(options.sample)
    if options.name is not None:
        project = replaced(project, ("name",), options.name)
    if options.out == STDIN:
        return Answer(dumps(project).rstrip("\n"))
    if os.path.lexists(options.out) and not options.force:
        raise InputError.of("out", options.out, f"{options.out} is there already; --force overwrites it")
    save(project, options.out)
    if options.json:
        return Answer({"file": str(options.out), "project": project.name, "variants": list(project.names)})
    return Answer(f"{options.out}: {project.name}, {', '.join(project.names)}")


def _sample(name: str) -> Project:
    known = {path.stem: path for path in sample_projects()}
    path = known.get(name, Path(name))
    if name not in known and not path.exists():
        raise InputError.of("from", name, f"'{name}' is no sample and no file (samples: {', '.join(known)})")
    return load(path)


COMMAND = Command(
    help="make a project file",
    description="Make a project file of a sample, of another project, or of a plain car.",
    example="my_car.corduroy --from small_hatchback --name 'My car'\n"
    "  corduroy new large_saloon.corduroy --from large_saloon",
    add_options=_add_options,
    run=_run,
)
