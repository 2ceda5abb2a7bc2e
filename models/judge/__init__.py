"""What the results are judged by."""

from models.judge.figure import Figure
from models.judge.figures import key_figures

__all__ = ["Figure", "key_figures"]
