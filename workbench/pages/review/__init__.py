"""The design review: what it holds, how it is printed, and the files."""

from workbench.pages.review.page import ReviewPage

__all__ = ["ReviewPage"]
