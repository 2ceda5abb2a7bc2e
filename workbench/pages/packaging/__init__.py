"""The page of the packaging: travel and clearance, and the tolerance stack at trim."""

from workbench.pages.packaging.page import PackagingPage

__all__ = ["PackagingPage"]
