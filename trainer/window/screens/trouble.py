"""The calm panel: a screen could not be drawn; the journal is safe, and this is what can be done."""

from __future__ import annotations

from collections.abc import Callable

from trainer.language import _
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Label, Paragraph
from trainer.window.kit.scroll import Scroll
from trainer.window.kit.style import INK, SHEET, SOFT


class Trouble(Column):
    """What happened in a sentence, what to do, and the details for whoever mends it."""

    def __init__(
        self, error: BaseException, details: str, again: Callable[[], None], desk: Callable[[], None]
    ) -> None:
        said = f"{type(error).__name__}: {_(str(error))}" if str(error) else type(error).__name__
        told = Column(
            Paragraph(_("Nothing is lost: everything done up to now is in the journal, and the job can be resumed.")),
            Paragraph(_("Time is held. Try again; if it comes back, go to the front desk and resume from there.")),
            Heading(_("For whoever mends it")),
            Paragraph(said, size=13),
            Paragraph(details, size=11, face=Face.MONO, colour=SOFT),
            gap=12,
        )
        panel = Column(
            Label(_("This screen could not be drawn"), face=Face.BOLD, size=20),
            Scroll(told, grow=1.0),
            Row(
                Button(_("Try again"), again, look="main", help=_("Draws the screen anew")),
                Button(_("To the front desk"), desk, help=_("To the list of jobs")),
                Spacer(grow=1.0),
                gap=10,
            ),
            gap=12, pad=(26, 22), fill=SHEET, edge=INK, line=1.6, grow=1.0,
        )  # fmt: skip
        super().__init__(panel, pad=(40, 30), role="screen", label=_("trouble"))
