"""Open a sample, drive all its variants, and print what a ride engineer looks at first."""

from pathlib import Path

from models import api as corduroy

SAMPLE = Path(__file__).parents[1] / "large_saloon.corduroy"

project = corduroy.open_project(SAMPLE)
print(f"{project['name']} at {project['run.speed']:.3~P}")
for name, result in project.analyse().items():
    pitch, time = result.time["pitch"], result.time.t
    peak = abs(pitch).argmax()
    print(f"\n{name}")
    print(f"  pitch frequency    {result.figures['pitch_frequency']:.2f~P}")
    print(f"  RMS heave          {result.spectrum.rms['heave_acceleration']:.3f~P}")
    print(f"  RMS pitch          {result.spectrum.rms['pitch'].to('mrad'):.2f~P}")
    print(f"  peak pitch         {pitch[peak]:.3f~P} after {time[peak]:.2f~P}")
print(f"\n{' '.join(corduroy.CAUTIONS)}")
