"""The page of the comparison: what differs between two variants, and what it does."""

from workbench.pages.compare.page import ComparePage

__all__ = ["ComparePage"]
