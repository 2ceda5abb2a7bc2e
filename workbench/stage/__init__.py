"""The stage: two cars drive over one road, seen from the side."""

from workbench.stage.stage_view import StageView
from workbench.stage.transport import Transport

__all__ = ["StageView", "Transport"]
