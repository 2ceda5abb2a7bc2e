"""Measures as the program runs: one BLAS thread (see workbench/__main__.py), set before numpy is loaded."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
