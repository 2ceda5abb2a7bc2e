"""What the results are judged by."""

from models.judge.figures import Figure, key_figures

__all__ = ["Figure", "key_figures"]
