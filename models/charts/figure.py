"""A chart on paper.  Importing this module imports matplotlib, so do it when a figure is wanted.

Drawn with matplotlib's objects: pyplot would keep the figure and pick a screen.
"""

from __future__ import annotations

import io
import warnings
from textwrap import fill
from typing import Any, Literal

import matplotlib as mpl
import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.ticker import FixedFormatter, FixedLocator
from matplotlib.transforms import ScaledTranslation

from models.charts.chart import Axis, Chart, Place, Role, Side
from models.charts.legend import LegendKey, legend
from models.charts.limits import Limits, extent, y_limits
from models.charts.span_rows import SpanRow, span_rows
from models.charts.ticks import Tick, log_ticks, round_ticks
from models.units import UnitChoice

__all__ = ["SIZE", "figure", "figure_bytes"]

#: Inches: the width of the text of an A4 page.
SIZE = (6.3, 3.9)
_DPI = 200
_NARROW = 4.0  # inches; up to here the legend is in small letters
_LETTERS_PER_INCH = 17.5  # of a legend
_LABEL_LETTERS_PER_INCH = 10  # of the height of the figure, in a line of the label of y
_KEY = 8  # letters for which a key of a legend takes the room beside its text
_NAME_WIDTH, _LINE = 12, 30  # letters of a line of a name in place of a number, along x and up y

# In grey print the candidate is dark and heavy, the baseline light and thin.
_COLOUR: dict[Role | None, str] = {
    "candidate": "#0072b2",
    "baseline": "#8d9196",
    "limit": "#c4c6c9",
    None: "#22262b",
}
_WIDTH: dict[Role | None, float] = {"candidate": 1.5, "baseline": 1.0, "other": 0.9, "limit": 0.7, None: 1.1}
# Lighter than the candidate, and apart from each other.
_OTHERS = ("#b07aa1", "#59a14f", "#b6992d", "#e08e79", "#4fa79e", "#9c755f")
_WEIGHT: dict[Side, float] = {"": 1.0, "left": 1.4, "right": 0.6}
# In grey print others are told apart by marks, so far apart as a share of the diagonal of the axes.
_MARKS, _APART = ("o", "s", "^", "D", "v", "x"), 0.15
_BOX = 4  # different x of a bar, which needs no marks
# Share of the x axis from which on the label of a mark stands on its left.
_LATE = 0.75
# How far out of the axes, as a share of their length, a mark may be and is still on their end.
_EDGE = 1e-6
# About what a letter of a label takes of the length of the x axis.
_LETTER = 0.01
_INK, _FAINT, _RULE, _PALE = "#22262b", "#666b72", "#d8d4c8", "#ece9e1"

_STYLE: dict[Any, Any] = {
    "font.family": "DejaVu Sans",  # comes with matplotlib, so a figure is the same everywhere
    "font.size": 8.0,
    "pdf.fonttype": 42,  # fonts as TrueType: text can be searched and edited
    "svg.fonttype": "none",  # text as text
    "svg.hashsalt": "corduroy",  # the same chart gives the same bytes
    "axes.unicode_minus": True,
    "text.parse_math": False,
    "path.simplify": False,
}
_METADATA: dict[str, dict[str, str | None]] = {
    "png": {"Software": "Corduroy"},
    "svg": {"Creator": "Corduroy", "Date": None},
    "pdf": {"Creator": "Corduroy", "Producer": None, "CreationDate": None},
}


def figure_bytes(
    chart: Chart,
    form: Literal["png", "svg", "pdf"],
    units: UnitChoice,
    heading: str = "",
    size: tuple[float, float] = SIZE,
) -> bytes:
    """File content of the figure of a size in inches; the same chart gives the same bytes."""
    buffer = io.BytesIO()
    with mpl.rc_context(_STYLE), warnings.catch_warnings():
        # Letters that the font has not are in the file all the same, and the reader's font may have them.
        warnings.filterwarnings("ignore", r"Glyph \d+ .* missing from font")
        figure(chart, units, heading, size).savefig(buffer, format=form, dpi=_DPI, metadata=_METADATA[form])
    return buffer.getvalue()


def figure(chart: Chart, units: UnitChoice, heading: str = "", size: tuple[float, float] = SIZE) -> Figure:
    """The figure, with lines in the units of display."""
    sheet = Figure(figsize=size, layout="constrained")
    axes = sheet.add_subplot()
    _draw_axes(axes, chart, units, size)
    x_scale, y_scale = chart.x.display(units)[0], chart.y.display(units)[0]
    _draw_marks(axes, chart, x_scale)
    _draw_spans(axes, chart, x_scale)
    for curve in chart.curves:
        line = _line(curve.role, curve.place, curve.side, curve.shade)
        if curve.form == "points":
            _as_points(line)
        line.set_data(curve.x / x_scale, curve.y / y_scale)
        if np.unique(curve.x).size <= _BOX and curve.form != "points":
            line.set_marker("")
        line.set_gid(_printable(curve.name))
        axes.add_line(line)
    _draw_notes(axes, chart, x_scale, y_scale)
    _draw_legend(sheet, legend(chart))
    if heading:
        axes.set_title(_printable(heading), loc="left", fontsize=7, color=_FAINT)
    return sheet


def _draw_marks(axes: Axes, chart: Chart, x_scale: float) -> None:
    for number, mark in enumerate(chart.marks):
        x = mark.x / x_scale
        along = axes.transAxes.inverted().transform(axes.transData.transform((x, 1.0)))[0]
        if not -_EDGE <= along <= 1.0 + _EDGE:
            continue
        axes.axvline(x, color=_FAINT, linewidth=0.6, linestyle=(0, (3, 2)), zorder=1.5)
        right = along > _LATE  # where there is room on the left only
        axes.annotate(
            _printable(mark.label),
            (x, 0.06 + 0.07 * (len(chart.marks) - 1 - number)),  # at the foot, each lower than before
            xycoords=("data", "axes fraction"),
            xytext=(-3 if right else 3, 0),
            textcoords="offset points",
            horizontalalignment="right" if right else "left",
            color=_FAINT,
            fontsize=7,
            bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.5},
        )


def _draw_notes(axes: Axes, chart: Chart, x_scale: float, y_scale: float) -> None:
    for note in chart.notes:
        axes.annotate(
            _printable(note.text),
            (note.x / x_scale, note.y / y_scale),
            horizontalalignment="center",
            verticalalignment="center",
            color=_INK,
            fontsize=6.5,
            zorder=3,
            bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.5},
        )


def _draw_spans(axes: Axes, chart: Chart, x_scale: float) -> None:
    """At the foot a row per label: the candidate's bars, the baseline's under them, and the text once."""
    rows = span_rows(chart.spans)
    if not rows:
        return
    column, side = _text_column(axes, rows, x_scale)
    for number, row in enumerate(rows):
        foot = 4.0 + 9.0 * (len(rows) - 1 - number)  # points above the axis
        for role, start, end in row.spans:
            rise = (foot + (3.6 if role == "candidate" else 0.8)) / 72
            bar = Line2D(
                [start / x_scale, end / x_scale],
                [0.0, 0.0],
                color=_COLOUR[role],
                linewidth=2.4 if role == "candidate" else 1.6,
                solid_capstyle="projecting",
                zorder=2.5,
                transform=axes.get_xaxis_transform()
                + ScaledTranslation(0.0, rise, axes.figure.dpi_scale_trans),
            )
            axes.add_line(bar)
        axes.annotate(
            row.label,
            (column, 0.0),
            xycoords=axes.get_xaxis_transform(),
            xytext=(6 if side == "left" else -6, foot - 1.0),
            textcoords="offset points",
            horizontalalignment=side,
            color=_FAINT,
            fontsize=7,
            zorder=3,
            bbox={"facecolor": (1, 1, 1, 0.75), "edgecolor": "none", "pad": 0.5},
        )


def _text_column(
    axes: Axes, rows: tuple[SpanRow, ...], x_scale: float
) -> tuple[float, Literal["left", "right"]]:
    """Where the texts of all rows stand, and which side of them: right of the bars, or left for more room."""
    low, high = axes.get_xlim()
    first = min(start for row in rows for _, start, _ in row.spans) / x_scale
    last = max(end for row in rows for _, _, end in row.spans) / x_scale
    length = max(len(row.label) for row in rows) * _LETTER * (high - low)
    if last + length <= high or high - last >= first - low:
        return min(last, high - length), "left"
    return max(first, low + length), "right"


def _draw_axes(axes: Axes, chart: Chart, units: UnitChoice, size: tuple[float, float]) -> None:
    x = extent(chart, "x", units)
    y = y_limits(chart.y, *extent(chart, "y", units), units)
    for along, axis, limits, count in (("x", chart.x, x, 9 * size[0] / SIZE[0]), ("y", chart.y, y, 7)):
        _draw_axis(axes, along, axis, limits, round(count))
    if chart.x.names:
        names = [fill(_printable(name), _NAME_WIDTH) for name in chart.x.names]
        axes.set_xticks(range(1, len(names) + 1), names)
        axes.set_xticks([], minor=True)
    if chart.y.names:
        axes.set_yticks(range(1, len(chart.y.names) + 1), [fill(_printable(n), _LINE) for n in chart.y.names])
        axes.set_yticks([], minor=True)
    axes.set_xlabel(chart.x.title(units), color=_INK)
    letters = round(size[1] * _LABEL_LETTERS_PER_INCH)
    label = chart.y.title(units).replace(" +)", "\u00a0+)")  # the sign stays with its word
    wrapped = fill(label, letters, break_long_words=False).replace("\u00a0", " ")
    axes.set_ylabel(wrapped, color=_INK)
    axes.tick_params(which="both", length=0, colors=_FAINT, labelcolor=_INK)
    axes.grid(which="major", color=_RULE, linewidth=0.5)
    axes.grid(which="minor", color=_PALE, linewidth=0.4)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        axes.spines[side].set_color(_FAINT)


def _draw_axis(axes: Axes, along: str, axis: Axis, limits: Limits, count: int) -> None:
    ticks = log_ticks(*limits, count) if axis.log else round_ticks(*limits, count)
    ends = [10.0**end for end in limits] if axis.log else list(limits)
    ruler = axes.xaxis if along == "x" else axes.yaxis
    if axis.log:
        (axes.set_xscale if along == "x" else axes.set_yscale)("log")
    (axes.set_xlim if along == "x" else axes.set_ylim)(ends[0], ends[1])
    for minor in (False, True):
        places, texts = _places([tick for tick in ticks if tick.minor == minor], axis.log)
        (ruler.set_minor_locator if minor else ruler.set_major_locator)(FixedLocator(places))
        (ruler.set_minor_formatter if minor else ruler.set_major_formatter)(FixedFormatter(texts))


def _places(ticks: list[Tick], log: bool) -> tuple[list[float], list[str]]:
    return [10.0**tick.place if log else tick.place for tick in ticks], [tick.text for tick in ticks]


def _line(role: Role | None, place: Place, side: Side, shade: int) -> Line2D:
    width = _WIDTH[role] * _WEIGHT[side]
    colour = _OTHERS[shade % len(_OTHERS)] if role == "other" else _COLOUR[role]
    line = Line2D([], [], color=colour, linewidth=width)
    if place == "rear":
        line.set_linestyle((0, (6.0 / width, 3.0 / width)))
    if role == "other":
        line.set(marker=_MARKS[shade % len(_MARKS)], markersize=3.0, markevery=_APART, markeredgewidth=0.7)
        line.set_markerfacecolor("white")
    return line


def _as_points(line: Line2D) -> None:
    line.set_linestyle("none")
    line.set(marker="o", markevery=None, markerfacecolor=line.get_color())
    line.set_markersize(2.4 * line.get_linewidth())
    line.set_markeredgewidth(0.0)


def _draw_legend(sheet: Figure, keys: tuple[LegendKey, ...]) -> None:
    lines = [_line(key.role, key.place, key.side, key.shade) for key in keys]
    for line, key in zip(lines, keys, strict=True):
        if key.form == "points":
            _as_points(line)
    size = 8 if sheet.get_figwidth() > _NARROW else 7
    room, needs = sheet.get_figwidth() * _LETTERS_PER_INCH * 8 / size, [len(key.text) + _KEY for key in keys]
    columns = len(keys) if sum(needs) < room else max(int(room / max(needs)), 1)
    # A label that begins with "_" would be left out, so the names are put in afterwards.
    box = sheet.legend(
        lines, ["."] * len(keys), loc="outside upper left", ncols=columns, frameon=False, fontsize=size
    )
    for text, key in zip(box.get_texts(), keys, strict=True):
        text.set_text(_printable(_shortened(key.text, room - _KEY)))


def _shortened(text: str, letters: float) -> str:
    """The beginning of a text that is longer than the room for it."""
    return text if len(text) <= letters else f"{text[: max(int(letters) - 1, 1)]}…"


def _printable(text: str) -> str:
    """Without control signs, which no SVG may hold."""
    return "".join(sign if sign.isprintable() else " " for sign in text)
