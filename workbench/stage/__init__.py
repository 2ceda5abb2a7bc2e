"""The stage: two cars drive over one road, seen from the side."""

from workbench.stage.stage_view import StageView

__all__ = ["StageView"]
