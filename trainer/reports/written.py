"""Both reports, the print of the debrief and their pictures, written to a folder."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Final

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
        debrief.write_text(debrief_html(heading, view.debrief, view.curves, view.strip), encoding="utf-8")
        printed = write_print(view, folder, when=when, who=who)
    record = folder / RECORD
    record.write_text(commissioning_html(heading, record_of(view, next_visit)), encoding="utf-8")
    return Written(debrief, printed, record, _pictures(view, folder))


def write_print(view: View, folder: Path, *, when: str = "", who: str = "") -> Path:
    """Write the debrief as PDF. Raises ValueError for a session that was not graded, OSError if it can't be done."""
    # imported here: whoever writes a force plan or a chart of states needs no PDF
    from trainer.reports.debrief_pdf import debrief_pdf

    if view.debrief is None:
        raise ValueError("this session was not graded: there is no debrief to print")
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / PRINT
    path.write_bytes(debrief_pdf(Heading.of(view, when, who), view.debrief, view.curves, view.strip))
    return path


def _pictures(view: View, folder: Path) -> tuple[Path, ...]:
    """Trace and force curves as files of their own, SVG and PNG."""
    drawings = [
        (f"force-{n}", f"Force against time: {point.title}", force_plot.force_drawing(point.curves, point.rules),
         force_plot.SIZE_IN)
        for n, point in enumerate(points(view.curves), start=1)
    ]  # fmt: skip
    if trace_plot.has_trace(view.strip):
        title = "Leaf angles, motor currents, guards and commands over the whole job"
        drawings.append(("trace", title, trace_plot.trace_drawing(view.strip), trace_plot.SIZE_IN))
    paths = []
    for name, title, draw, size in drawings:
        (folder / f"{name}.svg").write_text(svg(name, title, draw, size), encoding="utf-8")
        (folder / f"{name}.png").write_bytes(png(draw, size))
        paths += [folder / f"{name}.svg", folder / f"{name}.png"]
    return tuple(paths)
