"""The drills: an instructor chooses one, and somebody sits down to work in it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from trainer.language import _
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Label, Note, Paragraph
from trainer.window.kit.split import Split
from trainer.window.kit.style import GO, GO_WASH, INK, SHEET, SMALL, SOFT, STOP
from trainer.window.kit.table import Column as TableColumn
from trainer.window.kit.table import Table

if TYPE_CHECKING:
    from trainer.window.doors import DrillCard
    from trainer.window.kit.style import Colour


class DrillPage(Split):
    """The list on the left, the marked one and its start on the right."""

    def __init__(
        self,
        cards: Sequence[DrillCard],
        on_start: Callable[[DrillCard], None],
        on_resume: Callable[[DrillCard], None],
    ) -> None:
        self.cards = cards
        self.on_start = on_start
        self.on_resume = on_resume
        self.card: DrillCard | None = None
        self.table = Table(
            _("drills"),
            [
                TableColumn("", width=28),
                TableColumn(_("drill"), 1.4),
                TableColumn(_("of the job"), 1.0),
                TableColumn(_("minutes"), width=80),
            ],
            on_mark=self._mark,
            on_take=self._take,
            row=34.0,
            least_rows=4,
            grow=1.0,
            empty=_("There are no drills."),
            colour=self._colour,
            keeps_mark=True,
        )
        self.table.keys_help = _("Arrows go through the list, Enter starts the drill or goes on with it.")
        self.table.show([_row(card) for card in cards])
        self.title = Label("", face=Face.BOLD, size=17)
        self.about = Paragraph("", size=13)
        self.begin = Button(_("Start the drill"), self._start, look="main", help=_("Time runs from then on"))
        self.resume = Button(
            _("Go on where it was left"),
            self._resume,
            look="main",
            help=_("Everything stands as it was left, and the instructor goes on"),
        )
        self.resume.visible = False
        listed = Column(Heading(_("Drills")), self.table, gap=8, grow=1.0, role="region", label=_("drills"))
        super().__init__(listed, self._side(), least=820, second_width=430)
        self.begin.enabled = False
        if cards:
            self.table.go_to(0)

    def _side(self) -> Column:
        told = _(
            "A drill has its own instructor: he changes things while somebody is at work, says a word, or holds "
            "time and asks. Seat the person first, then start; time runs from then on."
        )
        start = Column(
            self.title,
            self.about,
            self.resume,
            Row(Spacer(grow=1.0), self.begin),
            gap=10, pad=(18, 16), fill=SHEET, edge=INK, line=1.5, role="region", label=_("start"),
        )  # fmt: skip
        live = Paragraph(
            _("At the console, gudgeon drill FILE --person prints the graded result as well."),
            size=SMALL,
            colour=SOFT,
        )
        return Column(Heading(_("Start")), start, Note(told, GO, GO_WASH, sign="▶", size=13), live, gap=8)

    def _colour(self, n: int) -> Colour:
        return INK if self.cards[n].usable else STOP

    def _mark(self, n: int) -> None:
        self.card = self.cards[n]
        self.title.show(_(self.card.title))
        self.about.show(_(self.card.about), INK if self.card.usable else STOP)
        self.begin.enabled = self.card.usable
        self.resume.visible = self.card.unfinished
        self.begin.look = "plain" if self.card.unfinished else "main"
        self.begin.relabel(_("Start anew") if self.card.unfinished else _("Start the drill"))

    def _take(self, _n: int) -> None:
        if self.card is not None and self.card.unfinished:
            self._resume()
        else:
            self._start()

    def _resume(self) -> None:
        if self.card is not None:
            self.on_resume(self.card)

    def _start(self) -> None:
        if self.card is not None and self.card.usable:
            self.on_start(self.card)


def _row(card: DrillCard) -> tuple[str, ...]:
    """A drill that can't be used has a sign as well as a colour; one that was left has a sign and says so."""
    if not card.usable:
        return "⊘", _(card.title), _(card.job), ""
    if card.unfinished:
        return "▶", _("{drill} (unfinished)").format(drill=_(card.title)), _(card.job), f"{card.minutes:g}"
    return "", _(card.title), _(card.job), f"{card.minutes:g}"
