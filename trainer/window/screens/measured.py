"""The debrief's page of measurements: what each showed, what it was worth against the best there was then, and how
likely the cause of each repair was. What worth comes from may have to be worked out: then the page waits for it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.kit.boxes import Column, Row
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Label, Paragraph
from trainer.window.kit.style import SMALL, SOFT, Style
from trainer.window.kit.widget import Size, Value, Widget
from trainer.window.screens.recap import TIME, Watch, watch_button
from trainer.window.words import first_upper, moment

if TYPE_CHECKING:
    from trainer.session.lookback import MeasuredView
    from trainer.session.worth import MadeRow, RepairRow, WorthView
    from trainer.window.kit.pen import Pen

ASK_EVERY_S: Final = 1.0
"""How often it is asked whether worth is known [s of wall time]."""

BAR: Final = 84.0
"""Width of a bar [logical px]."""

Ask = Callable[[], "WorthView | None"]


class ShareBar(Widget):
    """How much of a whole, as a bar; the words stand beside it."""

    role = "share"

    def __init__(self, got: float, of: float) -> None:
        super().__init__("", width=BAR)
        self.share = share_of(got, of)

    @property
    def value(self) -> Value:
        """In whole percent."""
        return f"{100.0 * self.share:.0f} %"

    def wish(self, style: Style, width: int) -> Size:
        """As high as a line of small text."""
        return min(style.px(BAR), width), style.px(18)

    def draw(self, pen: Pen) -> None:
        """The whole with its edge, and the share in it."""
        px = pen.style.px
        bar = pygame.Rect(self.rect.left, self.rect.top + px(5), self.rect.width, px(8))
        pen.share(bar, self.share)


def share_of(got: float, of: float) -> float:
    """How much of a whole, 0 to 1; of nothing there is none."""
    return min(max(got / of, 0.0), 1.0) if of > 0.0 else 0.0


class Measurements(Column):
    """Each reading with what it showed; worth and repairs under it once they are known."""

    def __init__(self, measured: Sequence[MeasuredView], worth: WorthView | None, ask: Ask, on_watch: Watch) -> None:
        """`ask` tells worth, or how it stands with it; asked only while the page is looked at."""
        self._measured = measured
        self._ask = ask
        self._on_watch = on_watch
        self._told = worth
        self._since_s = ASK_EVERY_S
        super().__init__(*self._rows(), gap=4, label=_("measurements"))

    def pass_time(self, wall_s: float) -> None:
        """Ask again now and then, until there is an answer that stays."""
        if not self.visible or (self._told is not None and self._told.standing != "being worked out"):
            return
        self._since_s += wall_s
        if self._since_s >= ASK_EVERY_S:
            self._since_s = 0.0
            told = self._ask()
            if told != self._told:
                self._told = told
                self.fill_with(self._rows())

    def _rows(self) -> list[Widget]:
        told = self._told
        if told is None or told.standing != "there":
            rows = [self._row(one, None) for one in self._measured]
            why = told.why if told is not None else ""
            return [*([_small(_(why))] if why else []), *(rows or [Paragraph(_("Nothing was measured."))])]
        # imported here: the first frame needs none of it
        from trainer.session.worth import MEANING, beside

        rows = [self._row(*each) for each in beside(self._measured, told.made)]
        repairs = [self._repair(each) for each in told.repaired]
        return [
            _small(_(MEANING)),
            *(rows or [Paragraph(_("Nothing was measured."))]),
            *([Heading(_("Repairs")), *repairs] if repairs else []),
        ]

    def _row(self, one: MeasuredView, made: MadeRow | None) -> Widget:
        row = Row(
            Label(moment(one.at), width=TIME, size=SMALL, colour=SOFT),
            Paragraph(first_upper(_(one.what)), size=13, grow=1.4),
            Paragraph(_(one.shown), size=13, face=Face.BOLD, grow=1.0),
            watch_button(one.at, self._on_watch),
            gap=10,
            role="measurement" if one.shown else "look",
            label=one.what,
        )
        if made is None:
            return row
        return Column(row, _worth(ShareBar(made.expected_bit, made.best_bit), made.words), gap=2, pad=(0, 3))

    def _repair(self, one: RepairRow) -> Widget:
        row = Row(
            Label(moment(one.at), width=TIME, size=SMALL, colour=SOFT),
            Paragraph(first_upper(_(one.what)), size=13, grow=1.0),
            watch_button(one.at, self._on_watch),
            gap=10,
            role="repair",
            label=one.what,
        )
        return Column(row, _worth(ShareBar(one.belief_pct, 100.0), one.words), gap=2, pad=(0, 3))


def _worth(bar: ShareBar, words: str) -> Row:
    """A bar, and what it says in words."""
    return Row(
        Label("", width=TIME), bar, Paragraph(first_upper(_(words)), size=SMALL, grow=1.0), gap=10, role="worth"
    )


def _small(words: str) -> Paragraph:
    return Paragraph(words, size=SMALL, colour=SOFT)
