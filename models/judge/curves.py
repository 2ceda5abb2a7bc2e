"""From a key figure to the chart of the curve that it comes from."""

from __future__ import annotations

__all__ = ["CURVES", "curve_of"]

_TRAVEL, _TYRE = "time-travel", "psd-tyre-force"

#: Key of a figure -> key of a chart of :data:`models.charts.CHART_CHOICES`; rates and loads have no curve.
CURVES: dict[str, str] = {
    "rms_pitch": "psd-pitch",
    "rms_pitch_velocity": "psd-pitch",
    "rms_pitch_acceleration": "psd-pitch-acceleration",
    "pitch_share": "psd-pitch-acceleration",
    "peak_pitch": "time-pitch",
    "rms_horizon_movement": "psd-horizon",
    "rms_roll": "psd-roll",
    "rms_roll_acceleration": "psd-roll-acceleration",
    "rms_heave_acceleration": "psd-heave-acceleration",
    "rms_seat_acceleration": "psd-seat-acceleration",
    "rms_weighted_seat_acceleration": "psd-weighted-seat-acceleration",
    "rms_weighted_head_acceleration": "psd-pitch-acceleration",
    "rms_seat_vibration_total": "psd-weighted-seat-acceleration",
    "rms_vibration_total": "psd-weighted-seat-acceleration",
    "motion_sickness_dose": "psd-seat-acceleration",
    "peak_heave_acceleration": "time-heave-acceleration",
    "event_vibration_dose": "time-weighted-seat-acceleration",
    "event_crest_factor": "time-weighted-seat-acceleration",
    "event_transient_value": "time-weighted-seat-acceleration",
    "rms_travel_front": "psd-travel",
    "rms_travel_rear": "psd-travel",
    "peak_travel_front": _TRAVEL,
    "peak_travel_rear": _TRAVEL,
    "jounce_margin_front": _TRAVEL,
    "jounce_margin_rear": _TRAVEL,
    "rebound_margin_front": _TRAVEL,
    "rebound_margin_rear": _TRAVEL,
    "dynamic_tyre_load_front": _TYRE,
    "dynamic_tyre_load_rear": _TYRE,
    "road_holding": _TYRE,
    "bounce_frequency": "gain-heave-acceleration",
    "bounce_damping": "gain-heave-acceleration",
    "pitch_frequency": "gain-pitch",
    "pitch_damping": "gain-pitch",
    "roll_frequency": "psd-roll",
    "roll_damping": "psd-roll",
    "wheel_mode_damping": "gain-tyre-force",
    "minimum_tyre_load": "time-tyre-load",
    "peak_roll": "time-roll",
    "held_pitch": "time-pitch",
    "held_roll": "time-roll",
    "rms_frame_torsion": "psd-frame-torsion",
    "peak_frame_torsion": "time-frame-torsion",
    "rms_frame_bending": "psd-frame-bending",
    "peak_frame_bending": "time-frame-bending",
}


def curve_of(metric: str) -> str | None:
    """Key of the chart behind a figure; None for a figure that is no reading of a curve."""
    return CURVES.get(metric)
