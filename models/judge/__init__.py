"""What the results are judged by."""

from models.judge.figure import GROUPS, Figure
from models.judge.figures import key_figures

__all__ = ["GROUPS", "Figure", "key_figures"]
