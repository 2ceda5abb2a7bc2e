"""The colours of the program as variables of the pages, light and dark as the desktop is."""

from __future__ import annotations

from workbench.theme import DARK, LIGHT, Theme

__all__ = ["colours"]


def colours() -> str:
    """Style sheet of variables."""
    dark = f"@media (prefers-color-scheme: dark) {{\n{_variables(DARK)}\n}}"
    return f"{_variables(LIGHT)}\n{dark}\n@media print {{\n{_variables(LIGHT)}\n}}\n"


def _variables(theme: Theme) -> str:
    names = ("paper", "panel", "raised", "ink", "faint", "rule", "mark")
    rules = [f"--{name}: {getattr(theme, name)};" for name in names]
    rules += [
        f"--link: {theme.candidate};",
        f"--target: color-mix(in srgb, {theme.candidate} 16%, {theme.paper});",
    ]
    return ":root { " + " ".join(rules) + " }"
