"""Figures as SVG and PNG with the same bytes each time, in the look of the sheet."""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from html import escape
from typing import Any, Final

from trainer.reports import typeface
from trainer.reports.typeface import INK, RULE, SHEET, SOFT

Draw = Callable[[Any], None]
"""Draws on an empty matplotlib figure."""

_STYLE: Final[dict[str, Any]] = {
    "font.family": [typeface.FAMILY, "DejaVu Sans"],
    "font.size": 8.5,
    "text.color": INK,
    "text.parse_math": False,  # a label is what it says: a person may have typed a dollar sign
    "axes.edgecolor": INK,
    "axes.labelcolor": SOFT,
    "axes.facecolor": SHEET,
    "axes.linewidth": 0.9,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.axisbelow": True,
    "figure.facecolor": SHEET,
    "grid.color": RULE,
    "grid.linewidth": 0.5,
    "hatch.linewidth": 0.6,
    "lines.linewidth": 1.5,
    "lines.solid_capstyle": "butt",
    "xtick.color": INK,
    "ytick.color": INK,
    "savefig.facecolor": SHEET,
}


@cache
def _ready() -> None:
    """Make the shipped fonts known to the drawing library, under names of our own."""
    from matplotlib import font_manager

    for name, path in typeface.font_files().items():
        family, weight, _ = typeface.FACES[name]
        font_manager.fontManager.ttflist.append(font_manager.FontEntry(str(path), name=family, weight=weight))


@contextmanager
def on_sheet(draw: Draw, size_in: tuple[float, float], style: Mapping[str, Any] = _STYLE) -> Iterator[Any]:
    """A drawn figure in the look of the sheet; what is done with it belongs inside, where that look holds."""
    import matplotlib
    from matplotlib.figure import Figure  # the figure alone: no window system, no state shared between drawings

    _ready()
    context: Any = dict(style)
    with matplotlib.rc_context(context):
        figure = Figure(figsize=size_in)
        draw(figure)
        yield figure


def _saved(draw: Draw, size_in: tuple[float, float], kind: str, style: dict[str, Any], **options: Any) -> bytes:
    """One figure drawn and saved."""
    file = io.BytesIO()
    with on_sheet(draw, size_in, {**_STYLE, **style}) as figure:
        figure.savefig(file, format=kind, **options)
    return file.getvalue()


def svg(name: str, title: str, draw: Draw, size_in: tuple[float, float], *, inline: bool = False) -> str:
    """A drawing as SVG text. `title` is read out to whoever can't see it.

    `inline`: for a page that carries the fonts: words stay words, and ids are made the page's own by `name`.
    Otherwise letters are drawn as outlines and the text is a whole file.
    """
    style = {"svg.hashsalt": name, "svg.fonttype": "none" if inline else "path"}
    unsigned = {"Date": None, "Creator": None, "Format": None, "Type": None}
    text = _saved(draw, size_in, "svg", style, metadata=unsigned).decode("utf-8")
    head, body = text.split("<svg", 1)
    tag, rest = body.split(">", 1)
    labelled = f'<svg role="img" aria-label="{escape(title)}"{tag}>\n <title>{escape(title)}</title>{rest}'
    if not inline:
        return head + labelled
    return re.sub(r'<g id="([\w.]+_\d+)"', rf'<g id="{name}-\1"', labelled)


def png(draw: Draw, size_in: tuple[float, float], dots_per_inch: int = 160) -> bytes:
    """A drawing as PNG."""
    return _saved(draw, size_in, "png", {}, dpi=dots_per_inch, metadata={"Software": None})
