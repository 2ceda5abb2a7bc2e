"""Corduroy in a notebook: projects, cars and their results with units.

>>> from models import api as corduroy
>>> project = corduroy.open_project("sample_projects/large_saloon.corduroy")
>>> car = project.car("joined torsion bars")
>>> car["front.spring.rate"]
<Quantity(1.2, 'newton / millimeter')>
>>> softer = car.copy("softer dampers")
>>> softer["front.damper.jounce"] = "1000 N·s/m"
>>> result = softer.analyse()
>>> result.figures["pitch_frequency"]
>>> result.time["pitch"].to("mrad")           # (N,) array with its unit, over result.time.t
>>> result.spectrum["heave_acceleration"]     # (F,) over result.spectrum.frequency
>>> project.compare().changes("rms_pitch")
>>> result.export("run.csv"), result.table("spectrum")     # files and plain columns for other tools
>>> project.save("mine.corduroy")
>>> project.review("mine.pdf", author="A. Engineer", paper="letter")

Values are pint quantities of one registry, :data:`registry`, in the units in which the program shows them;
``.to(...)`` gives any other, ``.m_as("m/s")`` the plain number or numpy array.  Values may be given as texts
("18 N/mm"), as quantities of any registry, or as plain numbers, which are SI.  Whatever is refused raises
:class:`InputError`, which says field, value, allowed range and unit; parts of the data models that you make
yourself, such as ``models.study.Sweep(...)``, raise the ValidationError of pydantic with the same words.

These classes only hold and convert: what is computed, is computed by the functions that the program itself
uses (:mod:`models.analysis`, :mod:`models.judge`, :mod:`models.studies`), and those results are within reach
as ``Result.analysis``, ``Project.data`` and so on, as plain numbers and arrays in SI.
"""

from models.api.comparison import Comparison
from models.api.project import Car, Project, new_project, open_project
from models.api.result import Histories, Result, Spectra
from models.cautions import CAUTIONS, HARDWARE_CAUTIONS
from models.errors import InputError
from models.project.schema import project_schema
from models.units import registry

__all__ = [
    "CAUTIONS",
    "HARDWARE_CAUTIONS",
    "Car",
    "Comparison",
    "Histories",
    "InputError",
    "Project",
    "Quantity",
    "Result",
    "Spectra",
    "new_project",
    "open_project",
    "project_schema",
    "registry",
]

#: Makes quantities: ``Quantity(18, "N/mm")``.
Quantity = registry.Quantity
