"""Studies: what many cars say about which setting is best, how sure, and at what price."""

from workbench.pages.studies.page import StudiesPage

__all__ = ["StudiesPage"]
