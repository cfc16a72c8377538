"""Writing the report out of the debrief: asked for a folder and a form, it says where the file is."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from trainer.language import _
from trainer.window.kit.dialog import Dialog
from trainer.window.kit.entry import Entry
from trainer.window.kit.label import Paragraph
from trainer.window.kit.style import SMALL, SOFT

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.kit.root import Root

Form = Literal["page", "print"]

Tell = Callable[[str, bool], None]
"""(what to say, whether it is bad news); may be called from behind the screen."""


def ask_for_report(root: Root, view: View, folder: Path, tell: Tell) -> None:
    """Ask where to and in which form; then write it behind the screen: drawing takes longer than a frame may."""
    where = Entry(_("folder"), str(folder), lambda text: None)

    def write(form: Form) -> None:
        target = Path(where.text.strip() or ".").expanduser()
        threading.Thread(target=_write, args=(view, target, form, tell), name="report").start()

    body = [
        Paragraph(_("The report tells result, findings, measurements, force curves and the expert's way.")),
        Paragraph(_("Folder it is written into"), size=SMALL, colour=SOFT),
        where,
    ]
    answers: list[tuple[str, Literal["main", "plain"], Callable[[], None]]] = [
        (_("Page for a browser (HTML)"), "plain", lambda: write("page")),
        (_("Print (PDF)"), "main", lambda: write("print")),
        (_("Not now"), "plain", lambda: None),
    ]
    root.open_dialog(Dialog(_("Write the report"), body, answers, width=560.0))


def _write(view: View, folder: Path, form: Form, tell: Tell) -> None:
    from datetime import date

    from trainer.reports import write_debrief

    try:
        path = write_debrief(view, folder, form, when=f"{date.today():%d %B %Y}".lstrip("0"))
    except OSError as error:
        tell(
            _("The report was not written: {error}. Choose a folder that you may write into.").format(error=error),
            True,
        )
    else:
        tell(_("The report is in {path}").format(path=path.resolve()), False)
