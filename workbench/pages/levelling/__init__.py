"""The page of the levelling: an event of loading, driving and unloading; the count of false actuations."""

from workbench.pages.levelling.page import LevellingPage

__all__ = ["LevellingPage"]
