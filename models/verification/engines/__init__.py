"""The same results from engines that know nothing of this program, one module per engine.

A module says at its head what the engine is told.  Engines that need not be installed are imported where they
are used.
"""
