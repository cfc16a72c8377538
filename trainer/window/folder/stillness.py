"""Why it is not moving: every input as the controller reads it and what it waits for, never the cause."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pygame

from trainer.language import _
from trainer.window.folder.page import Page, Section
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Item, Note
from trainer.window.kit.style import GO, GO_WASH, INK, RULE, SMALL, SOFT, STOP, STOP_WASH, Style
from trainer.window.kit.widget import Size, Value, Widget
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from sim.controller.ports import InputLine
    from trainer.session.view import View
    from trainer.window.hands import Hands
    from trainer.window.kit.pen import Pen


def message_of(view: View) -> str:
    """What the controller's panel says; a dark panel says nothing, so that the window does."""
    if not view.board_on:
        return _("The panel is dark: the controller has no power.")
    return first_upper(_(view.panel.message or view.panel.state))


class StillPage(Page):
    """What the controller itself can say."""

    title = "Why still"

    def __init__(self, hands: Hands) -> None:
        super().__init__(hands)
        self.state = Note("", GO, GO_WASH)
        self.waits = Section(self._waits, Heading(_("It waits for")))
        self.inputs = Section(self._inputs, Heading(_("Inputs as the controller reads them")))
        self.body.fill_with([Heading(_("Why it is not moving")), self.state, self.waits, self.inputs])

    def show(self, view: View) -> None:
        """The panel is a pure look, so that it can be compared whole."""
        panel = view.panel
        blocked = any(line.blocks for line in panel.inputs) or not view.board_on
        self.state.recolour(*((STOP, STOP_WASH, "⊘") if blocked else (GO, GO_WASH, "✓")))
        self.state.show(message_of(view))
        if self.changed("waits", panel.waits_for):
            self.waits.rebuild()
        if self.changed("inputs", panel.inputs):
            self.inputs.rebuild()

    def _waits(self) -> list[Widget]:
        return [Item(first_upper(_(text)), "→", SOFT) for text in self.hands.view.panel.waits_for]

    def _inputs(self) -> list[Widget]:
        return [InputRow(line) for line in self.hands.view.panel.inputs]


class InputRow(Widget):
    """One input: its name, what is read there, and what that means to the controller."""

    role = "input"

    def __init__(self, line: InputLine) -> None:
        super().__init__(line.name)
        self.line = line

    @property
    def value(self) -> Value:
        """Reading and meaning."""
        return f"{_(self.line.reads)} · {_(self.line.meaning)}"

    def wish(self, style: Style, width: int) -> Size:
        """Two lines."""
        return width, style.px(42)

    def draw(self, pen: Pen) -> None:
        """Name and reading above, meaning below; what blocks has a sign as well as a colour."""
        px, line = pen.style.px, self.line
        if line.blocks:
            pen.fill(self.rect, STOP_WASH)
        first, second = self.rect.top + px(13), self.rect.top + px(30)
        left = self.rect.left + px(22)
        pen.text(
            "⊘" if line.blocks else "·", (self.rect.left + px(10), first), 14, STOP if line.blocks else SOFT,
            Face.BOLD, "centre",
        )  # fmt: skip
        half = self.rect.width // 2
        pen.text_in(
            first_upper(_(line.name)), pygame.Rect(left, self.rect.top, half - px(22), px(26)), 13, INK, Face.BOLD
        )
        reads = pygame.Rect(left + half - px(22), self.rect.top, self.rect.right - left - half + px(14), px(26))
        pen.text_in(_(line.reads), reads, 13, INK, anchor="right")
        pen.text(_(line.meaning), (left, second), SMALL, STOP if line.blocks else SOFT)
        pen.line((self.rect.left, self.rect.bottom - 1), (self.rect.right, self.rect.bottom - 1), RULE)
