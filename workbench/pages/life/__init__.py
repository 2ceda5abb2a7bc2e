"""Life of the parts in steel over the road mix."""

from workbench.pages.life.view import LifeView

__all__ = ["LifeView"]
