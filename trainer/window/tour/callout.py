"""The callout of the tour: a slip with a few sentences, a line to what it is about, and a frame round that."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.kit.boxes import Column, Flow, Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Label, Paragraph
from trainer.window.kit.over import Floating
from trainer.window.kit.style import INK, SHEET, SMALL, SOFT, WIRE
from trainer.window.tour.seat import seat_for
from trainer.window.tour.stops import STOPS, TourStop

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen
    from trainer.window.kit.style import Style

WIDE: Final = 330.0
GAP: Final = 14.0
"""Between the callout and what it points at [logical px]."""


class Callout(Floating):
    """Walks through the stops. It traps nothing: focus, keys and mouse reach the screen as before."""

    def __init__(
        self,
        on_stop: Callable[[TourStop], None],
        where: Callable[[TourStop], pygame.Rect],
        keep_free: Callable[[], Sequence[pygame.Rect]],
        on_end: Callable[[], None],
    ) -> None:
        """`on_stop` shows the part of the screen that a stop is on; `where` answers its place; `keep_free` what must
        never be covered; `on_end` is called once, when the tour is over or skipped."""
        self.on_stop = on_stop
        self.where = where
        self.keep_free = keep_free
        self.on_end = on_end
        self.number = 0
        self.target = pygame.Rect(0, 0, 0, 0)
        self.title = Paragraph(face=Face.BOLD, size=16)
        self.text = Paragraph(size=13)
        self.count = Label(size=SMALL, colour=SOFT, name=_("stop of the tour"))
        self.back = Button(_("Back"), lambda: self.go(self.number - 1), help=_("The stop before (Left)"))
        self.next = Button(_("Next"), self._on, look="main", help=_("The next stop (Right)"))
        self.skip = Button(_("Skip the tour"), self.on_end, look="quiet", help=_("It stays under More (Esc)"))
        super().__init__(
            Column(self.title, self.text, gap=5),
            Row(self.count, Spacer(grow=1.0), Flow(self.skip, self.back, self.next, gap=6)),
            gap=10,
            pad=(14, 12),
            fill=SHEET,
            edge=WIRE,
            line=2,
            radius=4,
            role="region",
            label=_("tour"),
        )
        self.go(0)

    @property
    def stop(self) -> TourStop:
        """Where the tour is."""
        return STOPS[self.number]

    def go(self, number: int) -> None:
        """To a stop by its number, from 0; nothing happens outside of the tour."""
        if not 0 <= number < len(STOPS):
            return
        self.number = number
        self.title.show(_(self.stop.title))
        self.text.show(_(self.stop.text))
        self.count.show(_("{n} of {all}").format(n=number + 1, all=len(STOPS)))
        last = number == len(STOPS) - 1
        self.next.relabel(_("Done") if last else _("Next"))
        self.skip.visible = not last
        self.back.visible = number > 0
        self.on_stop(self.stop)
        self.stale()

    def _on(self) -> None:
        if self.number == len(STOPS) - 1:
            self.on_end()
        else:
            self.go(self.number + 1)

    def key(self, event: pygame.event.Event) -> bool:
        """Right and left go on and back, Esc ends the tour. Esc is handed on, since it also lets go of everything."""
        if event.key == pygame.K_RIGHT:
            self._on()
        elif event.key == pygame.K_LEFT:
            self.go(self.number - 1)
        else:
            if event.key == pygame.K_ESCAPE:
                self.on_end()
            return False
        return True

    def press(self, point: tuple[int, int], button: int) -> bool:
        """A press on the slip is not one on what lies under it."""
        return True

    # -- where it is

    def settle(self, style: Style, screen: pygame.Rect) -> None:
        """Beside what it points at."""
        gap = style.px(GAP)
        wide = min(style.px(WIDE), screen.width - 2 * gap)
        high = min(self.measure(style, wide)[1], screen.height - 2 * gap)
        self.target = self.where(self.stop).clip(screen)
        self.place(style, seat_for((wide, high), self.target, screen, self.keep_free(), gap))

    def draw(self, pen: Pen) -> None:
        """Frame, line, slip. Nothing is darkened."""
        if self.target.width and self.target.height:
            frame = self.target.inflate(pen.style.px(8), pen.style.px(8)).clip(pen.surface.get_rect())
            pen.box(frame, None, WIRE, 4, 3)
            start, end = _joint(self.rect, frame)
            if start != end:
                pen.line(start, end, WIRE, 3)
                pen.dot(end, 5, WIRE, SHEET)
        pen.wash(self.rect.move(pen.style.px(2), pen.style.px(3)), INK, 50)
        super().draw(pen)


def _joint(slip: pygame.Rect, frame: pygame.Rect) -> tuple[tuple[int, int], tuple[int, int]]:
    """The shortest line from a slip to a frame: level or plumb where they lie beside one another."""
    if slip.colliderect(frame):
        return slip.center, slip.center
    left, right = max(slip.left, frame.left), min(slip.right, frame.right)
    top, bottom = max(slip.top, frame.top), min(slip.bottom, frame.bottom)
    x = ((left + right) // 2,) * 2 if left <= right else _ends(slip.left, slip.right, frame.left, frame.right)
    y = ((top + bottom) // 2,) * 2 if top <= bottom else _ends(slip.top, slip.bottom, frame.top, frame.bottom)
    return (x[0], y[0]), (x[1], y[1])


def _ends(low: int, high: int, other_low: int, other_high: int) -> tuple[int, int]:
    return (high, other_low) if high < other_low else (low, other_high)
