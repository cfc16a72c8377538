"""The time strip with its controls: how much is in sight, what is shown, and going on from there."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pygame

from sim.units import SECOND, Us
from trainer.language import _
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.choice import RadioRow
from trainer.window.kit.dialog import Dialog
from trainer.window.kit.label import Label, Note, Paragraph
from trainer.window.kit.style import SOFT, WARN, WARN_WASH, Style
from trainer.window.kit.widget import Widget
from trainer.window.strip.timestrip import TimeStrip
from trainer.window.words import moment

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands

SPANS = {"1 min": 60.0, "5 min": 300.0, "30 min": 1800.0, "all": 0.0}

ONE_ROW = 900.0
"""From this width on [logical px] everything stands in one row."""

NEAR_S = 1e-3
"""What is shown is still what was played, to this much [s]."""


class TimePanel(Column):
    """Strip and controls."""

    def __init__(self, hands: Hands, on_debrief: Callable[[], None]) -> None:
        self.hands = hands
        self.strip = TimeStrip(self._look, hands.view)
        self.spans = RadioRow(
            _("time in sight"),
            list(SPANS),
            "1 min",
            self._span,
            size=11,
            words=_,
            help=_("How much time the strip shows"),
        )
        about = _(
            "The past shows yard, supply, plugs and probes as they were; settings and papers as they stand now."
        )
        self.told = Label("", colour=SOFT, size=12, grow=1.0, name=_("instant shown"), help=about)
        self.play = Button(
            _("Play"), self.toggle_play, help=_("Runs through what was recorded, from the instant shown")
        )
        self.back = Button(
            _("Back to now"), lambda: self._look(None), help=_("Shows the gate as it is now (End or Esc)")
        )
        told = _("Everything stands again as it stood then; you are asked before.")
        self.go_on = Button(_("Go on from here"), self._ask, look="main", help=told)
        told = _("Nothing is lost by looking: the result stands.")
        self.debrief = Button(_("To the debrief"), on_debrief, look="main", help=told)
        self.play.visible = self.debrief.visible = self.back.visible = self.go_on.visible = False
        self._plays: tuple[float, float, float] | None = None
        """While the past is played: wall time and instant [s] at the last step, and where it ends [s]."""
        name = Label(_("Time"), size=12, colour=SOFT)
        self.parts: list[Widget] = [name, self.spans, Spacer(4), self.told]
        self.knobs: list[Widget] = [self.play, self.back, self.go_on, self.debrief]
        self.captions: Widget | None = None
        self.bar, self.second = Row(gap=10), Row(gap=10)
        super().__init__(self.bar, self.second, self.strip, gap=4, role="region", label=_("time"))
        self.strip.grow = 1.0
        self.second.visible = False
        self._fill()

    def take(self, captions: Widget | None) -> None:
        """Show captions of what is heard at the end of the row, or leave the row to the controls alone."""
        self.captions = captions
        self._fill()

    def _fill(self) -> None:
        """All in one row; where it is too short for that, what can be pressed while looking back in a second one."""
        two = self.second.visible
        last = [] if self.captions is None else [self.captions]
        self.second.fill_with(self.knobs if two else [])
        self.bar.fill_with([*self.parts, *([] if two else self.knobs), *last])

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """One row or two, by the width there is and by whether the past is looked at."""
        two = rect.width / style.scale < ONE_ROW and any(knob.visible for knob in self.knobs)
        if two != self.second.visible:
            self.second.visible = two
            self._fill()
        super().place(style, rect)

    def show(self, view: View) -> None:
        """Take the newest look."""
        self.strip.show(view)
        shown = view.strip.shown_s
        self._play_on(shown)
        past = shown is not None
        self.back.visible = self.play.visible = past
        self.play.relabel(_("Play") if self._plays is None else _("Hold"))
        self.go_on.visible = past and view.mode == "practice"
        self.debrief.visible = view.debrief is not None
        if shown is None:
            told = _("Drag along the strip to look back.")
        elif view.mode == "practice":
            told = _("Looking at {when}. Nothing has changed yet.").format(when=moment(round(shown * SECOND)))
        else:
            told = _("Looking at {when}. In an assessed attempt the past can only be looked at.").format(
                when=moment(round(shown * SECOND))
            )
        self.told.show(told, WARN if past else SOFT)

    def watch(self, from_s: float, to_s: float) -> None:
        """Play what was recorded from one instant to another [s since arrival]; it stands still at the end of it."""
        end = self.hands.view.strip.end_s
        from_s, to_s = max(0.0, from_s), min(to_s, end)
        self._look(Us(round(from_s * SECOND)))
        self._plays = (self._wall_s(), from_s, to_s)

    def toggle_play(self) -> None:
        """Play on from the instant shown to the end of the recording, or stand still there."""
        shown = self.strip.strip.shown_s
        if self._plays is not None:
            self._plays = None
        elif shown is not None:
            self._plays = (self._wall_s(), shown, self.strip.strip.end_s)

    def _play_on(self, shown: float | None) -> None:
        """One step of what is played, by the wall's clock; a look elsewhere ends it."""
        if self._plays is None:
            return
        wall_s, at_s, to_s = self._plays
        if shown is None or abs(shown - at_s) > NEAR_S:
            self._plays = None
            return
        now_s = self._wall_s()
        next_s = min(at_s + now_s - wall_s, to_s)
        self._plays = (now_s, next_s, to_s) if next_s < to_s else None
        self._look(Us(round(next_s * SECOND)))

    def _wall_s(self) -> float:
        return self.hands.root.now

    def _span(self, name: str) -> None:
        self.strip.set_span(SPANS[name])

    def _look(self, when: Us | None) -> None:
        self.hands.session.look_at(when)

    def _ask(self) -> None:
        shown = self.strip.strip.shown_s
        root = self.top().root
        if shown is None or root is None:
            return
        when = Us(round(shown * SECOND))
        body = [
            Note(
                _("What came after {when} is left behind. It stays in the journal, and the debrief shows it.").format(
                    when=moment(when)
                ),
                WARN,
                WARN_WASH,
                sign="↶",
            ),
            Paragraph(_("Everything stands again as it stood then.")),
        ]
        root.open_dialog(
            Dialog(
                _("Go on from {when}?").format(when=moment(when)),
                body,
                [
                    (_("Go on from there"), "main", lambda: self._go_on(when)),
                    (_("Keep looking"), "plain", lambda: None),
                ],
            )
        )

    def _go_on(self, when: Us) -> None:
        self.hands.told(self.hands.session.go_on_from(when))
