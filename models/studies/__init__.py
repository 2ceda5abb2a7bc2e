"""Studies: a car judged with many values of its parameters."""
