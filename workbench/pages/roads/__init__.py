"""The page of the roads: what is driven over, and how rough it is."""

from workbench.pages.roads.page import RoadsPage

__all__ = ["RoadsPage"]
