"""The same cars on better and worse roads, faster and slower; spectra as numpy arrays."""

from pathlib import Path

import numpy as np

from models import api as corduroy

SAMPLE = Path(__file__).parents[1] / "large_saloon.corduroy"
ROADS = {"class A": "16 cm³", "class B": "64 cm³", "class C": "256 cm³"}  # ISO 8608, geometric means

project = corduroy.open_project(SAMPLE)
print("RMS pitch, mrad          " + "".join(f"{road:>12}" for road in ROADS))
for speed in ("50 km/h", "80 km/h", "120 km/h"):
    for name, car in project.cars.items():
        row = []
        for roughness in ROADS.values():
            changes = {"run.speed": speed, "run.surface.roughness": roughness, "run.laws": "linear"}
            row.append(car.analyse(changes).spectrum.rms["pitch"].m_as("mrad"))
        print(f"{speed:9} {name[:14]:14} " + "".join(f"{value:12.3f}" for value in row))

spectrum = project.car().analyse().spectrum
f, psd = spectrum.frequency.magnitude, spectrum["seat_acceleration"].m_as("(m/s**2)**2/Hz")
below = f <= 3.0
share = np.trapezoid(psd[below], f[below]) / np.trapezoid(psd, f)
print(f"\n{share:.0%} of the mean square of the seat acceleration lies below 3 Hz")
