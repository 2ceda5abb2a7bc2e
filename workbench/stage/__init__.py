"""The stage: two cars drive over one road, seen from the side."""

from workbench.stage.stage_view import StageView
from workbench.stage.transport import Transport
from workbench.stage.view_options import ViewOptions

__all__ = ["StageView", "Transport", "ViewOptions"]
