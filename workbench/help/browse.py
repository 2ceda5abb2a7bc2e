"""Opens the handbook in the browser of the desktop."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices

from workbench.help.site import HOW_TO_BUILD, SITE, is_built

__all__ = ["show_help", "url_of"]


def url_of(place: str, site: Path = SITE) -> QUrl:
    """Address of a place on the disk."""
    page, _, anchor = place.partition("#")
    url = QUrl.fromLocalFile(str(site / page))
    if anchor:
        url.setFragment(anchor)
    return url


def show_help(place: str, site: Path = SITE) -> str:
    """Open the handbook at a place; gives in words why it could not be opened, else nothing."""
    if not is_built(site):
        return HOW_TO_BUILD
    url = url_of(place, site)
    if QDesktopServices.openUrl(url):
        return ""
    return f"No browser could be opened. The handbook is the file {url.toLocalFile()}"
