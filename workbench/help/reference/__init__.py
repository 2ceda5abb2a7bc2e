"""Pages of the handbook that are written from the program itself, and so never lag behind it."""

from __future__ import annotations

from workbench.help.anchors import PARAMETER_PAGES
from workbench.help.reference.cautions import cautions_piece
from workbench.help.reference.charts import charts_page
from workbench.help.reference.commands import commands_page
from workbench.help.reference.figures import figures_page
from workbench.help.reference.keyboard import keyboard_piece
from workbench.help.reference.parameters import parameters_page
from workbench.help.reference.python_api import python_page
from workbench.help.reference.verification import verification_page

__all__ = ["written_pages"]


def written_pages(checked: bool = True) -> dict[str, str]:
    """Name of a source file -> its Markdown; those with a leading underscore are pieces of other pages.

    Args:
        checked: run the checks of the verification manual, and tell what came of them.
    """
    return {
        **{f"{page}.md": parameters_page(page) for page in PARAMETER_PAGES},
        "figures.md": figures_page(),
        "charts.md": charts_page(),
        "commands.md": commands_page(),
        "python.md": python_page(),
        "verification.md": verification_page(checked),
        "_cautions.md": cautions_piece(),
        "_keyboard.md": keyboard_piece(),
    }
