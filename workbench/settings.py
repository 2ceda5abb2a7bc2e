"""What the program remembers of its user: theme, units, recent files, window layout."""

from __future__ import annotations

from pathlib import Path

from platformdirs import user_config_path, user_state_path
from PySide6.QtCore import QByteArray, QObject, QSettings, Signal

from models.units import KINDS, METRIC, UnitChoice

__all__ = ["Settings", "state_folder"]

_RECENT_KEPT = 10


def state_folder() -> Path:
    """Folder of autosaves; it may not be there yet."""
    return Path(user_state_path("corduroy", appauthor=False))


def _settings_file() -> str:
    # Qt makes the folder when it first writes; where it cannot, choices last as long as the session.
    return str(user_config_path("corduroy", appauthor=False) / "settings.ini")


class Settings(QObject):
    """Persistent choices; each change is announced once."""

    units_changed = Signal()
    theme_changed = Signal()
    recent_changed = Signal()

    def __init__(self, file: str | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._store = QSettings(file or _settings_file(), QSettings.Format.IniFormat)
        self._theme_of_session = ""
        kept = {name: str(self._store.value(f"units/{name}", METRIC[name])) for name in KINDS}
        self._units = {
            name: unit if unit in KINDS[name].units else METRIC[name] for name, unit in kept.items()
        }

    @property
    def units(self) -> UnitChoice:
        """Unit of display per kind of quantity."""
        return self._units

    def choose_unit(self, kind: str, unit: str) -> None:
        """Show one kind of quantity in another unit."""
        self.choose_units({kind: unit})

    def choose_units(self, units: UnitChoice) -> None:
        """Show the named kinds of quantity in the given units."""
        if any(self._units[kind] != unit for kind, unit in units.items()):
            self._units = {**self._units, **units}
            for kind, unit in units.items():
                self._store.setValue(f"units/{kind}", unit)
            self.units_changed.emit()

    @property
    def theme(self) -> str:
        """``"system"``, ``"light"`` or ``"dark"``."""
        name = self._theme_of_session or str(self._store.value("theme", "system"))
        return name if name in ("system", "light", "dark") else "system"

    @theme.setter
    def theme(self, name: str) -> None:
        if name != self.theme:
            self._theme_of_session = ""
            self._store.setValue("theme", name)
            self.theme_changed.emit()

    def override_theme(self, name: str) -> None:
        """Use a theme in this session only."""
        self._theme_of_session = name
        self.theme_changed.emit()

    @property
    def recent(self) -> list[Path]:
        """Files opened or saved of late, newest first."""
        value = self._store.value("recent", [])
        texts = [value] if isinstance(value, str) else value if isinstance(value, list) else []
        return [Path(str(text)) for text in texts if text]

    def add_recent(self, path: Path) -> None:
        """Put a file at the head of the list."""
        self._set_recent([path, *(other for other in self.recent if other != path)])

    def forget_recent(self, path: Path) -> None:
        """Take a file that is no longer there off the list."""
        self._set_recent([other for other in self.recent if other != path])

    def _set_recent(self, paths: list[Path]) -> None:
        self._store.setValue("recent", [str(path) for path in paths[:_RECENT_KEPT]])
        self.recent_changed.emit()

    def layout(self, name: str) -> QByteArray | None:
        """Saved state of a window or splitter."""
        value = self._store.value(f"layout/{name}")
        return value if isinstance(value, QByteArray) else None

    def keep_layout(self, name: str, state: QByteArray) -> None:
        """Save the state of a window or splitter."""
        self._store.setValue(f"layout/{name}", state)

    @property
    def page(self) -> str:
        """Title of the page that was on show last; empty at the first start."""
        return str(self._store.value("page", ""))

    @page.setter
    def page(self, title: str) -> None:
        self._store.setValue("page", title)

    def choices(self, name: str, default: list[str]) -> list[str]:
        """Saved list of choices (which plots are shown)."""
        value = self._store.value(f"choices/{name}")
        return [str(item) for item in value] if isinstance(value, list) else default

    def keep_choices(self, name: str, items: list[str]) -> None:
        """Save a list of choices."""
        self._store.setValue(f"choices/{name}", items)

    def sync(self) -> None:
        """Write to disk now."""
        self._store.sync()
