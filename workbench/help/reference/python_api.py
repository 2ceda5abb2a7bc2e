"""The Python interface, from the docstrings."""

from __future__ import annotations

from importlib.util import find_spec

from workbench.help.reference.markdown import page, section

__all__ = ["python_page"]

_LEAD = """Everything that the window shows can be had in Python: `models` knows no screen. A project is
frozen data that is validated when it is made; results are plain functions of it, in SI, as numpy arrays and
floats.

```text
from models.analysis import analyse
from models.judge import key_figures
from models.project import load

project = load("sample_projects/large_saloon.corduroy")
variant = project.variant(project.candidate)
analysis = analyse(variant.vehicle, project.run, project.load)
for figure in key_figures(analysis):
    print(figure.key, figure.value)
```"""

#: Modules that are told of -> title; those that this version does not have are left out.
_MODULES = {
    "models.api": "In short",
    "models.project": "Projects and variants",
    "models.analysis": "Results of one car in one run",
    "models.judge": "Key figures",
    "models.fields": "Fields with unit, range and meaning",
    "models.units": "Units",
    "models.errors": "Errors",
}


def python_page() -> str:
    """One section per module."""
    return page("Python interface", _LEAD, *(_module(name) for name in _MODULES if find_spec(name)))


def _module(name: str) -> str:
    directive = f"```{{eval-rst}}\n.. automodule:: {name}\n   :members:\n   :imported-members:\n```"
    return section(f"python-{name.replace('.', '-')}", _MODULES[name], f"`{name}`", directive)
