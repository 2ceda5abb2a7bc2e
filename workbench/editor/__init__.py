"""Parameter editor: rows made from what the fields of the data models say of themselves."""

from workbench.editor.editor import ParameterEditor
from workbench.editor.part_form import PartForm
from workbench.editor.target import EditTarget

__all__ = ["EditTarget", "ParameterEditor", "PartForm"]
