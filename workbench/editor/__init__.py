"""Parameter editor: rows made from what the fields of the data models say of themselves."""

from workbench.editor.editor import ParameterEditor
from workbench.editor.part_form import PartForm
from workbench.editor.part_holder import PartHolder
from workbench.editor.target import EditTarget
from workbench.editor.value_edit import commit_input

__all__ = ["EditTarget", "ParameterEditor", "PartForm", "PartHolder", "commit_input"]
