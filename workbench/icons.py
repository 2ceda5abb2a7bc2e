"""Our own icons, drawn in the colour of the theme."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QByteArray, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from workbench.resources import folder

__all__ = ["app_icon", "icon"]

#: Sizes in pixels, for plain and for dense screens.
_SIZES = (16, 20, 24, 32, 48, 64)
_APP_SIZES = (16, 24, 32, 48, 64, 128, 256)
#: Strength of an icon that cannot be used.
_DISABLED_ALPHA = 0.4


@lru_cache(maxsize=256)
def icon(name: str, colour: str) -> QIcon:
    """Icon ``name`` in one colour, paler when disabled.

    Raises:
        FileNotFoundError: no icon of that name.
    """
    text = (folder("icons") / f"{name}.svg").read_text(encoding="utf-8")
    pale = QColor(colour)
    pale.setAlphaF(_DISABLED_ALPHA)
    drawn = QIcon()
    for mode, shade in ((QIcon.Mode.Normal, QColor(colour)), (QIcon.Mode.Disabled, pale)):
        # An SVG colour has no alpha of its own: draw opaque, then through the alpha of the shade.
        renderer = QSvgRenderer(QByteArray(text.replace("currentColor", shade.name()).encode()))
        for size in _SIZES:
            drawn.addPixmap(_pixmap(renderer, size, shade.alphaF()), mode)
    return drawn


@lru_cache(maxsize=1)
def app_icon() -> QIcon:
    """The program's own mark."""
    renderer = QSvgRenderer(str(folder("icons") / "corduroy.svg"))
    drawn = QIcon()
    for size in _APP_SIZES:
        drawn.addPixmap(_pixmap(renderer, size, 1.0))
    return drawn


def _pixmap(renderer: QSvgRenderer, size: int, alpha: float) -> QPixmap:
    pixmap = QPixmap(QSize(size, size))
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setOpacity(alpha)
    renderer.render(painter)
    painter.end()
    return pixmap
