"""The top bar: where and what, the customer's words, the clock and its pace, the supply."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from sim.units import SECOND
from sim.world.actions import CATALOGUE
from trainer.language import _
from trainer.window.kit.boxes import Box, Column, Flow, Row
from trainer.window.kit.button import Button
from trainer.window.kit.choice import RadioRow
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Label, Paragraph
from trainer.window.kit.lists import MenuButton
from trainer.window.kit.style import GO, INK, LARGE, SHEET, SMALL, SOFT, STOP, WARN
from trainer.window.kit.widget import Widget
from trainer.window.words import clock, first_sentence, first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands
    from trainer.window.kit.pen import Pen

PACES: Final = {"¼×": 0.25, "1×": 1.0, "4×": 4.0, "16×": 16.0}
WAITS: Final = next(a.choices for a in CATALOGUE["wait until"].arguments if a.name == "what")


class TopBar(Column):
    """One row, or two where the window is narrow for the size of its text."""

    def __init__(
        self, hands: Hands, more: dict[str, Callable[[], None]], to_cabinet: Callable[[], None], turns: RadioRow
    ) -> None:
        self.hands = hands
        self.more_acts = more
        self.place_name = Label("", face=Face.BOLD, size=16, alone=True)
        self.job = Label("", colour=SOFT, size=SMALL, alone=True)
        self.words = Paragraph("", face=Face.ITALIC, size=SMALL, colour=SOFT, most=2, grow=1.0)
        self.clock = Label("", size=LARGE, anchor="right", width=124, name=_("clock"))
        self.achieved = Label("", size=10, anchor="right", width=124, colour=SOFT, name=_("pace"))
        self.pause = Button(_("Pause"), self.toggle_pause, width=74, help=_("Hold or go on (F9)"))
        self.pace = RadioRow(
            _("pace"), list(PACES), "1×", self._set_pace, help=_("How fast time passes (keys 1 to 4)")
        )
        self.wait = MenuButton(
            _("Wait until…"),
            [first_upper(_(what)) for what in WAITS],
            self._wait,
            help=_("Lets time pass, fast, until it happens"),
            acts=("wait until",),
        )
        self.supply = Button("", to_cabinet, help=_("Opens the cabinet's page"), width=132)
        self.more = MenuButton(
            _("More"), list(more), self._more, help=_("Help, settings, and how to end or leave the job")
        )
        self.titles = Column(self.place_name, self.job, gap=1)
        self.times = Column(self.clock, self.achieved, gap=0, width=124)
        self.turns = turns
        """Which part of the screen is shown, where they take turns."""
        self.narrow: bool | None = None
        super().__init__(gap=6, pad=(16, 7), fill=SHEET, role="region", label=_("top bar"))
        self.arrange(False, False)

    def arrange(self, narrow: bool, turns: bool) -> None:
        """Put the parts in one row, or in as many as they need."""
        self.narrow = narrow
        self.titles.grow = 1.0 if narrow else 0.0
        pacing: list[Widget] = [self.pause, self.pace, self.wait]
        sides: list[Widget] = [self.supply, self.more]
        switch: list[Widget] = [self.turns] if turns else []
        if narrow:
            rows: list[Box] = [Row(self.titles, self.times, *sides, gap=12), Flow(*switch, *pacing)]
        else:
            rows = [
                Row(self.titles, self.words, self.times, *pacing, *sides, gap=11),
                *([Row(*switch)] if turns else []),
            ]
        self.fill_with(rows)

    def draw(self, pen: Pen) -> None:
        """The bar and the line under it."""
        super().draw(pen)
        y = self.rect.bottom - 1
        pen.line((self.rect.left, y), (self.rect.right, y), INK, 1.5)

    def show(self, view: View) -> None:
        """Take the newest look."""
        self.place_name.show(_(view.place))
        seed = _(", draw {seed}").format(seed=view.seed) if view.seed else ""
        kind = f"{_(view.grade)} · {_(view.mode)}" if view.graded else _("nothing is graded")
        self.job.show(f"{_(view.job)} · {kind}{seed}")
        self.words.show(f"“{first_sentence(_(view.brief))}”" if view.graded else "")
        past = view.strip.shown_s
        shown = view.now if past is None else round(past * SECOND)
        self.clock.show(clock(shown), INK if past is None else WARN)
        if past is not None:
            told = _("looking back")
        elif view.busy:
            told = first_upper(_(view.busy))
        elif view.paused:
            told = _("held")
        elif view.achieved_pace < view.pace * 0.9:
            told = _("runs at {pace:.2g}×").format(pace=view.achieved_pace)
        else:
            told = ""
        self.achieved.show(told)
        self.achieved.visible = bool(told)
        self.pause.relabel(_("Go on") if view.paused else _("Pause"))
        self.pause.look = "on" if view.paused else "plain"
        self.pace.chosen = next((words for words, pace in PACES.items() if pace == view.pace), "")
        self._show_supply(view)

    def _show_supply(self, view: View) -> None:
        if view.mains_on and view.battery_linked:
            words, colour = _("⚡ Supply on"), STOP
        elif view.mains_on:
            words, colour = _("⚡ Mains only"), STOP
        elif view.battery_linked:
            words, colour = _("⚡ Battery only"), WARN
        else:
            words, colour = _("Isolated"), GO
        self.supply.relabel(words)
        self.supply.tint = colour

    def toggle_pause(self) -> None:
        """Hold time, or let it go on."""
        self.hands.session.pause(not self.hands.view.paused)

    def set_pace(self, n: int) -> None:
        """The pace by its place in the row."""
        self.pace.choose(list(PACES)[n])

    def _set_pace(self, words: str) -> None:
        self.hands.session.set_pace(PACES[words])

    def _wait(self, words: str) -> None:
        what = next(what for what in WAITS if first_upper(_(what)) == words)
        self.hands.do("wait until", {"what": what})

    def _more(self, words: str) -> None:
        self.more_acts[words]()
