"""The stage: two cars drive over one road, seen from the side."""

from workbench.stage.film_dialog import FilmDialog
from workbench.stage.stage_view import StageView
from workbench.stage.transport import Transport
from workbench.stage.view_options import ViewOptions
from workbench.stage.view_tools import ViewTools

__all__ = ["FilmDialog", "StageView", "Transport", "ViewOptions", "ViewTools"]
