"""The page of the linkages: joints in two views and as numbers, and what the chain does over the travel."""

from workbench.pages.linkage.page import LinkagePage

__all__ = ["LinkagePage"]
