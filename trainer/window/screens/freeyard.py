"""The free yard: choose a gate and what ails it, and open it. Nothing is asked there, and nothing is graded."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Final

from sim.errors import GudgeonError
from trainer.language import _
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.choice import Dropdown, RadioRow
from trainer.window.kit.entry import Entry, NumberEntry
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Label, Note, Paragraph
from trainer.window.kit.split import Split
from trainer.window.kit.style import GO, GO_WASH, INK, SHEET, SMALL, SOFT, STOP, STOP_WASH
from trainer.window.kit.table import Column as TableColumn
from trainer.window.kit.table import Table
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.window.doors import Desk, FaultCard, SiteCard
    from trainer.window.kit.widget import Widget

Start = Callable[[str, Sequence[tuple[str, float]], bool, int], None]
"""Opens a yard: site file, faults with how grave, commissioned or not, draw."""

GRAVITY: Final = {"mild": 0.0, "half": 0.5, "grave": 1.0}
FOUND: Final = ("commissioned", "out of its box")
MOST: Final = 8
"""Faults that one gate may have at once."""


class FaultList(Column):
    """The faults that fit the gate, found by a word; each can be put on the gate or taken off again.

    Each fault is tried on a gate before it is offered, one a frame, so that the window goes on meanwhile.
    """

    def __init__(self, desk: Desk, on_change: Callable[[], None]) -> None:
        self.desk = desk
        self.on_change = on_change
        self.fitting: list[FaultCard] = []
        self.listed: list[FaultCard] = []
        self.chosen: dict[str, float] = {}
        """Name and how grave, in the order in which they were put on."""
        self._coming: Iterator[FaultCard] | None = None
        self.words = Entry(
            _("find a fault"), "", lambda _text: None, empty=_("Find by a word"), width=220, most=60,
            on_change=lambda _text: self._narrow(), help=_("Looks in the faults and in what the customer says"),
        )  # fmt: skip
        self.count = Label("", size=SMALL, colour=SOFT, grow=1.0)
        self.table = Table(
            _("faults"),
            [
                TableColumn("", width=28),
                TableColumn(_("fault"), 1.2),
                TableColumn(_("family"), 0.72),
                TableColumn(_("what the customer says"), 1.3),
            ],
            on_mark=self._mark,
            on_take=self.toggle,
            row=32.0,
            least_rows=6,
            grow=1.0,
            keeps_mark=True,
        )
        self.table.keys_help = _("Arrows go through the list, Enter puts a fault on the gate or takes it off.")
        self.told = Paragraph("", size=13, grow=1.0)
        self.put = Button(_("Put it on the gate"), self._press, help=_("Enter in the list, or a second click"))
        self.trouble = Note("", STOP, STOP_WASH, sign="⊘", size=13)
        self.trouble.visible = False
        super().__init__(
            Heading(_("Faults that fit this gate")),
            Row(self.words, self.count, gap=12),
            self.trouble,
            self.table,
            Row(self.told, self.put, gap=12),
            gap=8,
            grow=1.0,
            role="region",
            label=_("faults"),
        )

    def look_at(self, site: str) -> None:
        """Another gate: its faults come in one by one."""
        self.fitting = []
        self.trouble.visible = False
        self._coming = self.desk.faults(site)
        self._narrow()

    def take_one(self) -> None:
        """The next fault that fits; once all are in, those that were chosen and don't fit go."""
        if self._coming is None:
            return
        try:
            self._add(next(self._coming))
            return
        except StopIteration:
            self._coming = None
            fits = {card.name for card in self.fitting}
            gone = [name for name in self.chosen if name not in fits]
            for name in gone:
                del self.chosen[name]
            if gone:
                self.on_change()
        except GudgeonError as error:
            self._coming = None
            self.trouble.show(_(str(error)))
            self.trouble.visible = True
        self._narrow()

    def _add(self, card: FaultCard) -> None:
        """One more that fits: those listed before stay as they are."""
        self.fitting.append(card)
        if self._found([card]):
            self.listed.append(card)
            self.table.show([*self.table.rows, self._row(card)])
            if len(self.listed) == 1:
                self.table.mark = 0
                self._mark(0)
        self._count()

    def _found(self, cards: Sequence[FaultCard]) -> list[FaultCard]:
        """Those of the cards that the words looked for are in."""
        words = self.words.text.lower().split()
        return [
            card
            for card in cards
            if all(word in f"{_(card.name)} {_(card.family)} {_(card.customer)}".lower() for word in words)
        ]

    def _narrow(self) -> None:
        marked = self.listed[self.table.mark].name if 0 <= self.table.mark < len(self.listed) else ""
        self.listed = self._found(self.fitting)
        self.table.show([self._row(card) for card in self.listed])
        names = [card.name for card in self.listed]
        self.table.mark = names.index(marked) if marked in names else min(0, len(names) - 1)
        self._mark(self.table.mark)
        self._count()

    def _count(self) -> None:
        told = _("{listed} of {all} faults").format(listed=len(self.listed), all=len(self.fitting))
        self.count.show(_("Trying each on this gate: {count} fit so far").format(count=len(self.fitting))
                        if self._coming is not None else told)  # fmt: skip

    def _row(self, card: FaultCard) -> tuple[str, ...]:
        sign = "✓" if card.name in self.chosen else ""
        return sign, first_upper(_(card.name)), first_upper(_(card.family)), _(card.customer)

    def _mark(self, n: int) -> None:
        there = 0 <= n < len(self.listed)
        self.put.enabled = there
        if not there:
            self.told.show("")
            return
        card = self.listed[n]
        self.told.show(f"{first_upper(_(card.name))}: “{_(card.customer)}”")
        self.put.relabel(_("Take it off the gate") if card.name in self.chosen else _("Put it on the gate"))

    def _press(self) -> None:
        self.toggle(self.table.mark)

    def toggle(self, n: int) -> None:
        """Put a fault on the gate, or take it off again."""
        name = self.listed[n].name
        root = self.top().root
        if name in self.chosen:
            self.take_off(name)
        elif len(self.chosen) < MOST:
            self.chosen[name] = GRAVITY["grave"]
            self.on_change()
            self._narrow()
        elif root is not None:
            root.toast(_("One gate has at most {most} faults here: take one off first.").format(most=MOST), bad=True)

    def take_off(self, name: str) -> None:
        """Take a fault off the gate."""
        self.chosen.pop(name, None)
        self.on_change()
        self._narrow()


class FreeYardPage(Split):
    """What ails the gate on the left, which gate it is and how it is found on the right."""

    def __init__(self, desk: Desk, on_start: Start, on_resume: Callable[[], None]) -> None:
        self.desk = desk
        self.on_start = on_start
        self.cards = [card for card in desk.sites() if card.usable]
        self.card: SiteCard | None = None
        self.faults = FaultList(desk, self._show_chosen)
        self.site = Dropdown(
            _("site"),
            [card.name for card in self.cards],
            "",
            self._choose,
            grow=1.0,
            words=_,
            help=_("Which gate stands in the yard"),
        )
        self.setting = Paragraph("", size=13, colour=SOFT)
        self.file = Entry(
            _("site file"),
            "",
            self._read,
            empty=_("or the path of a site file"),
            grow=1.0,
            most=400,
            help=_("A gate of your own, written as a site file"),
        )
        self.found = RadioRow(
            _("how it is found"),
            FOUND,
            FOUND[0],
            lambda _found: None,
            words=_capital,
            help=_("How the gate stands when you arrive"),
        )
        self.chosen = Column(gap=6, role="group", label=_("faults on this gate"))
        drawn = _("Decides noise and chance: with the same number they are the same again")
        self.seed = NumberEntry(_("draw"), "0", lambda _t: self.start(), least=0, most=999999, width=110, help=drawn)
        self.begin = Button(_("Open the yard"), self.start, look="main", help=_("Begins with nothing done yet"))
        super().__init__(self.faults, self._side(on_resume), least=900, second_width=430)
        if self.cards:
            self._choose(self.cards[0].name)
            self.site.chosen = self.cards[0].name
        self._show_chosen()

    def _side(self, on_resume: Callable[[], None]) -> Column:
        left = self.desk.yard_left()
        going_on = Column(
            Note(_("You left a free yard at {place}.").format(place=_(left)), GO, GO_WASH, sign="▶", size=13),
            Button(_("Go on where it was left"), on_resume, look="main", help=_("Everything stands as you left it")),
            gap=8,
        )
        going_on.visible = bool(left)
        read = Button(_("Read"), lambda: self._read(self.file.text), help=_("Reads the site file"))
        panel = Column(
            Row(Label(_("Gate"), width=64), self.site),
            self.setting,
            Row(Label("", width=64), self.file, read),
            Row(Label(_("Found"), width=64), self.found, Spacer(grow=1.0)),
            Heading(_("What ails it")),
            self.chosen,
            Spacer(2),
            Row(Label(_("Draw"), width=64), self.seed, Spacer(grow=1.0), self.begin),
            Paragraph(
                _("Nothing is asked and nothing is graded. The draw decides noise and chance."), size=12, colour=SOFT
            ),
            gap=10, pad=(18, 16), fill=SHEET, edge=INK, line=1.5, role="region", label=_("yard"),
        )  # fmt: skip
        return Column(going_on, Heading(_("Free yard")), panel, gap=8)

    def _choose(self, name: str) -> None:
        self._take(next(card for card in self.cards if card.name == name))

    def _take(self, card: SiteCard) -> None:
        self.card = card
        self.setting.show(_(card.setting))
        self.faults.look_at(card.path)

    def _read(self, file: str) -> None:
        """Take the site in a file of one's own."""
        if not file.strip():
            return
        try:
            card = self.desk.site(file.strip())
        except GudgeonError as error:
            root = self.top().root
            if root is not None:
                root.toast(_(str(error)), bad=True)
            return
        self.cards = [*(each for each in self.cards if each.name != card.name), card]
        self.site.choices = [each.name for each in self.cards]
        self.site.chosen = card.name
        self._take(card)

    def _show_chosen(self) -> None:
        rows: list[Widget] = [self._chosen_row(name) for name in self.faults.chosen]
        self.chosen.fill_with(rows or [Paragraph(_("Nothing: it is sound."), size=13, colour=SOFT)])

    def _chosen_row(self, name: str) -> Widget:
        def grade(word: str) -> None:
            self.faults.chosen[name] = GRAVITY[word]

        now = next(word for word, share in GRAVITY.items() if share == self.faults.chosen[name])
        return Column(
            Paragraph(first_upper(_(name)), size=13, face=Face.BOLD),
            Row(
                RadioRow(
                    _("how grave: {fault}").format(fault=_(name)),
                    list(GRAVITY),
                    now,
                    grade,
                    words=_capital,
                    help=_("How bad the fault is"),
                ),
                Spacer(grow=1.0),
                Button(
                    _("Take off"), lambda: self.faults.take_off(name), help=_("The gate is without this fault again")
                ),
                gap=8,
            ),
            gap=4,
        )

    def pass_time(self, wall_s: float) -> None:
        """A frame goes by: one fault more comes in."""
        self.faults.take_one()

    def start(self) -> None:
        """Open the yard."""
        number = self.seed.number()
        if self.card is not None and number is not None and not self.seed.trouble():
            given = tuple(self.faults.chosen.items())
            self.on_start(self.card.path, given, self.found.chosen == FOUND[0], int(number))


def _capital(word: str) -> str:
    return first_upper(_(word))
