"""The cautions, as the program shows them with its results."""

from __future__ import annotations

from models.cautions import CAUTIONS, HARDWARE_CAUTIONS
from workbench.help.reference.markdown import words

__all__ = ["cautions_piece"]


def cautions_piece() -> str:
    """Both lists under their heads."""
    parts = ["**Wherever results are shown**", _listed(CAUTIONS)]
    parts += ["**Wherever stress of springs and bars is shown**", _listed(HARDWARE_CAUTIONS)]
    return "\n\n".join(parts) + "\n"


def _listed(cautions: tuple[str, ...]) -> str:
    return "\n".join(f"- {words(caution)}" for caution in cautions)
