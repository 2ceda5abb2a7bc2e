"""JSON schema of the project file, for editors and for programs that write one.

It says which fields there are, what they mean, in which units and ranges, and that every one must stand.
What ties one field to another, whether a unit measures the right thing and whether a text with a unit is in
its range only the program itself checks (``corduroy check``).
"""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from models.project.file import FORMAT, FORMAT_VERSION, may_be_left_out
from models.project.project import Project

__all__ = ["project_schema"]

_DESCRIPTION = (
    "A number is a text with its unit, such as '26 N/mm'; without one it is in SI. All fields must stand. "
    "Ranges of texts, units of the right dimension and what ties fields together are checked by 'corduroy "
    "check'."
)


def project_schema() -> dict[str, Any]:
    """Schema after the draft of 2020-12."""
    content = Project.model_json_schema(schema_generator=_FileSchema, mode="serialization")
    head = {"format": {"const": FORMAT}, "version": {"const": FORMAT_VERSION}}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **content,
        "title": "Corduroy project",
        "description": "A number is a text with its unit, such as '26 N/mm'; without one it is in SI. "
        + __doc__,
        "properties": {**head, **content["properties"]},
        "required": [*head, *content["required"]],
    }


class _FileSchema(GenerateJsonSchema):
    """Every field must stand in a file, but those that older ones have not; so none has a default."""

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        found = super().model_schema(schema)
        part = schema["cls"]
        found["required"] = [name for name in part.model_fields if not may_be_left_out(part, name)]
        return found

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])
