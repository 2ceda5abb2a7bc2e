"""Published examples and numbers computed apart from the program, one module per subject."""
