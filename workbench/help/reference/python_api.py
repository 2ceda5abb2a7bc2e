"""The Python interface, from the docstrings."""

from __future__ import annotations

from workbench.help.reference.markdown import page, section

__all__ = ["python_page"]

_LEAD = """Everything that the window shows can be had in Python, with no screen, in a notebook or a script:
numbers with their units (quantities of pint), histories and spectra as arrays of numpy. Scripts that run as
they stand are in `sample_projects/examples`.

```text
from models import api as corduroy

project = corduroy.open_project("sample_projects/large_saloon.corduroy")
car = project.car()
before = car.analyse()
car["front.spring.rate"] = "18 N/mm"
after = car.analyse()
for key in ("pitch_share", "bounce_frequency"):
    print(key, before.figures[key], after.figures[key])
```

Below that interface, a project is frozen data that is validated when it is made, and results are plain
functions of it, in SI."""

#: Modules that are told of -> title.
_MODULES = {
    "models.api": "In short",
    "models.project": "Projects and variants",
    "models.analysis": "Results of one car in one run",
    "models.judge": "Key figures",
    "models.fields": "Fields with unit, range and meaning",
    "models.units": "Units",
}


def python_page() -> str:
    """One section per module."""
    return page("Python interface", _LEAD, *map(_module, _MODULES))


def _module(name: str) -> str:
    directive = f"```{{eval-rst}}\n.. automodule:: {name}\n   :members:\n   :imported-members:\n```"
    return section(f"python-{name.replace('.', '-')}", _MODULES[name], f"`{name}`", directive)
