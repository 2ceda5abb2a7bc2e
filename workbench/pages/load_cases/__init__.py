"""The page of the load cases: where the car stands in each of them."""

from workbench.pages.load_cases.page import LoadCasesPage

__all__ = ["LoadCasesPage"]
