"""Page of the natural modes and their damping."""

from workbench.pages.modes.page import ModesPage

__all__ = ["ModesPage"]
