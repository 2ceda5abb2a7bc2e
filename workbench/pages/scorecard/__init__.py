"""The page of the scorecard: all figures of all variants against targets and baseline."""

from workbench.pages.scorecard.page import ScorecardPage

__all__ = ["ScorecardPage"]
