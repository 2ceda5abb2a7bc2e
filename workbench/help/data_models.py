"""Sphinx extension: data models without the signature that their fields make, which no reader can use.

Their fields stand on the pages of parameters.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel
from sphinx.application import Sphinx

__all__ = ["setup"]


def setup(app: Sphinx) -> dict[str, Any]:
    """Listen to autodoc."""
    app.connect("autodoc-process-signature", _signature)
    app.connect("autodoc-skip-member", _skip)
    return {"parallel_read_safe": True, "parallel_write_safe": True}


def _signature(
    _app: Sphinx, _what: str, _name: str, thing: object, _options: object, signature: str, returned: str
) -> tuple[str, str] | None:
    if isinstance(thing, type) and issubclass(thing, BaseModel):
        return "", returned
    return signature, returned


def _skip(_app: Sphinx, _what: str, name: str, _thing: object, skip: bool, _options: object) -> bool | None:
    return True if name == "model_config" else None
