"""The page of the parts in steel: sizes to rate and stress, and from a wanted rate to sizes."""

from workbench.pages.steel.page import SteelPage

__all__ = ["SteelPage"]
