"""Sections of the review, each a function of the bench that gives its blocks."""
