"""The car and its physics, free of any screen.

Layers, lowest first: units, fields -> vehicle, roads -> assembly -> ride -> judge -> charts,
with the project file beside the vehicle.  Imports only go down.

Inside the package every number is in SI units; units appear in text only at the edges
(files, editor, tables, charts) through :mod:`models.units`.  Axes follow ISO 8855: x forward,
y left, z up; corners are ordered FL, FR, RL, RR; wheel travel is positive in jounce.
"""
