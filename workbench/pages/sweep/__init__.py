"""The page of the speeds: every figure of the random road against vehicle speed."""

from workbench.pages.sweep.page import SpeedsPage

__all__ = ["SpeedsPage"]
