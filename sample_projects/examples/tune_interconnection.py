"""What a stiffer interconnection bar does to bounce and pitch, and a variant with the one that is chosen."""

from pathlib import Path

from models import api as corduroy

SAMPLE = Path(__file__).parents[1] / "large_saloon.corduroy"
BAR = "left.coupling.bar_rate"

project = corduroy.open_project(SAMPLE)
car = project.car("joined torsion bars")
note = car.numbers[BAR]
print(f"{note.label}: {car[BAR]:~P} ({note.range_text()} is allowed)")
print("\n   N·m/rad   bounce, Hz   pitch, Hz   coupling")
for rate in corduroy.Quantity([800, 1000, 1240, 1500, 1800], "N·m/rad"):
    figures = car.analyse({BAR: rate}).figures
    bounce, pitch = (figures[f"{mode}_frequency"].m_as("Hz") for mode in ("bounce", "pitch"))
    coupling = figures["coupling_fraction_left"].m_as("")
    print(f"{rate.magnitude:10.0f} {bounce:12.3f} {pitch:11.3f} {coupling:10.2f}")

stiffer = car.copy("stiffer bar")
stiffer[BAR] = "1500 N·m/rad"
try:
    stiffer[BAR] = "1500 N/mm"
except corduroy.InputError as error:
    print(f"\nRefused: {error}")
project["candidate"] = stiffer.name
comparison = project.compare(stiffer.name)
print(f"\n{stiffer.name} against {comparison.baseline}:")
for key in ("rms_pitch", "rms_heave_acceleration"):
    print(f"  {key:24} {comparison.changes(key)[stiffer.name]:+.4f~P}")
# project.save("with_stiffer_bar.corduroy") would keep it.
