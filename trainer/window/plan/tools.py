"""The buttons at the plan's edge: nearer, farther, the whole yard, a close-up. Their signs are drawn by the pen."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Literal

import pygame

from trainer.language import _
from trainer.window.kit.boxes import Box
from trainer.window.kit.button import Button
from trainer.window.kit.lists import open_list
from trainer.window.kit.style import SHEET, TARGET, Style
from trainer.window.kit.widget import Size

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen
    from trainer.window.kit.style import Colour

Sign = Literal["nearer", "farther", "whole", "close-up"]


class SignButton(Button):
    """A square button with a sign in place of words."""

    def __init__(self, label: str, sign: Sign, on_press: Callable[[], None], help: str) -> None:
        super().__init__(label, on_press, help=help)
        self.sign: Sign = sign

    def wish(self, style: Style, width: int) -> Size:
        """One target each way."""
        return style.px(TARGET), style.px(TARGET)

    def draw(self, pen: Pen) -> None:
        """Box and sign."""
        ground, ink, edge = self.colours(pen)
        pen.box(self.rect, ground, edge, 3, 1.2)
        draw_sign(pen, self.sign, self.rect.center, ink)
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect)


def draw_sign(pen: Pen, sign: Sign, centre: tuple[int, int], ink: Colour) -> None:
    """A plus, a minus, four corners, or a lens."""
    x, y = centre
    reach = pen.style.px(7)
    if sign in ("nearer", "farther"):
        pen.line((x - reach, y), (x + reach, y), ink, 2)
        if sign == "nearer":
            pen.line((x, y - reach), (x, y + reach), ink, 2)
    elif sign == "whole":
        side = pen.style.px(4)
        for across in (-1, 1):
            for along in (-1, 1):
                at = (x + across * reach, y + along * reach)
                pen.line(at, (at[0] - across * side, at[1]), ink, 2)
                pen.line(at, (at[0], at[1] - along * side), ink, 2)
    else:
        lens = (x - pen.style.px(2), y - pen.style.px(2))
        pen.dot(lens, 6, SHEET, ink)
        pen.line((lens[0] + pen.style.px(4), lens[1] + pen.style.px(4)), (x + reach, y + reach), ink, 3)


class PlanTools(Box):
    """The signs under one another, or in a row where the plan is small."""

    def __init__(
        self,
        zoom: Callable[[float], None],
        fit: Callable[[], None],
        closeups: Callable[[], list[str]],
        look: Callable[[str], None],
    ) -> None:
        self.lens = SignButton(
            _("Close-up"),
            "close-up",
            lambda: open_list(self.lens, closeups(), None, look),
            _("Look closely at a hinge, a drive, the meeting edge or a leaf"),
        )
        super().__init__(
            SignButton(_("Nearer"), "nearer", lambda: zoom(1.25), _("Nearer (+, or the wheel)")),
            SignButton(_("Farther"), "farther", lambda: zoom(0.8), _("Farther (−, or the wheel)")),
            SignButton(_("The whole yard"), "whole", fit, _("The whole yard (Home)")),
            self.lens,
            gap=4,
            label=_("plan tools"),
        )

    def settle(self, style: Style, area: pygame.Rect, head: int, small: bool) -> None:
        """At the left upper corner of the plan, `head` [px] below its edge, under the word that stands there."""
        side, step = style.px(TARGET), style.px(TARGET + self.gap)
        left, top = area.left + style.px(10), area.top + head + style.px(10 if small else 30)
        for n, child in enumerate(self.children):
            child.place(style, pygame.Rect(left + n * step * small, top + n * step * (not small), side, side))
        self.place(style, self.children[0].rect.union(self.children[-1].rect))


def tools_height(style: Style, small: bool) -> int:
    """How far below the plan's edge the word beside the signs has to stand [px]."""
    return style.px(TARGET + 10) if small else 0
