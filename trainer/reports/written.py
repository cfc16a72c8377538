"""Both reports, the print of the debrief and their pictures, written to a folder."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from sim.said import said
from trainer.language import _
from trainer.reports import force_plot, trace_plot
from trainer.reports.commissioning import NEXT_VISIT, commissioning_html, record_of
from trainer.reports.debrief import debrief_html
from trainer.reports.drawing import png, svg
from trainer.reports.force_record import points
from trainer.reports.page import Heading
from trainer.session.view import View

DEBRIEF: Final = "debrief.html"
PRINT: Final = "debrief.pdf"
RECORD: Final = "commissioning-record.html"

Form = Literal["page", "print"]
"""HTML for a browser, or PDF."""


@dataclass(frozen=True, slots=True)
class Written:
    """Where everything is."""

    debrief: Path | None
    """None where nothing was graded."""
    printed: Path | None
    """The debrief as PDF; None where nothing was graded."""
    record: Path
    pictures: tuple[Path, ...]


def write_reports(
    view: View, folder: Path, *, when: str = "", who: str = "", next_visit: str = NEXT_VISIT
) -> Written:
    """Write debrief, commissioning record and pictures of one look at a session; the folder is made if need be.

    `when` is the date as it is to be printed, `who` the name of whoever did the job. Raises OSError if the folder
    can't be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    heading = Heading.of(view, when, who)
    debrief = printed = None
    if view.debrief is not None:
        debrief = folder / DEBRIEF
        debrief.write_bytes(_content(view, "page", when, who))
        printed = folder / PRINT
        printed.write_bytes(_content(view, "print", when, who))
    record = folder / RECORD
    record.write_text(commissioning_html(heading, record_of(view, next_visit)), encoding="utf-8")
    return Written(debrief, printed, record, _pictures(view, folder))


def write_debrief(view: View, folder: Path, form: Form, *, when: str = "", who: str = "") -> Path:
    """Write the debrief alone, as a page or as a print, under a name that says the job and is not taken yet.

    The folder is made if need be. Raises ValueError for a session that was not graded, OSError if it can't be done.
    """
    content, ending = _content(view, form, when, who), {"page": "html", "print": "pdf"}[form]
    folder.mkdir(parents=True, exist_ok=True)
    job = "".join(letter if letter.isalnum() or letter in " -" else " " for letter in _(view.job))[:80]
    stem = _(said("debrief {job}", job=job)).strip()
    path, number = folder / f"{stem}.{ending}", 1
    while path.exists():
        number += 1
        path = folder / f"{stem} {number}.{ending}"
    path.write_bytes(content)
    return path


def _content(view: View, form: Form, when: str, who: str) -> bytes:
    if view.debrief is None:
        raise ValueError("this session was not graded: there is no debrief to write")
    heading = Heading.of(view, when, who)
    if form == "page":
        return debrief_html(heading, view.debrief, view.curves, view.strip).encode("utf-8")
    # imported here: whoever writes a page needs no PDF
    from trainer.reports.debrief_pdf import debrief_pdf

    return debrief_pdf(heading, view.debrief, view.curves, view.strip)


def _pictures(view: View, folder: Path) -> tuple[Path, ...]:
    """Trace and force curves as files of their own, SVG and PNG."""
    drawings = [
        (f"force-{n}", point.drawn_as, force_plot.force_drawing(point.curves, point.rules),
         force_plot.SIZE_IN)
        for n, point in enumerate(points(view.curves), start=1)
    ]  # fmt: skip
    if trace_plot.has_trace(view.strip):
        drawings.append(("trace", trace_plot.TRACE, trace_plot.trace_drawing(view.strip), trace_plot.SIZE_IN))
    paths = []
    for name, title, draw, size in drawings:
        (folder / f"{name}.svg").write_text(svg(name, _(title), draw, size), encoding="utf-8")
        (folder / f"{name}.png").write_bytes(png(draw, size))
        paths += [folder / f"{name}.svg", folder / f"{name}.png"]
    return tuple(paths)
