"""Dialogs: a question in the middle of the window that keeps the focus until it is answered."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import pygame

from trainer.language import _
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button, Look
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Note, Paragraph
from trainer.window.kit.scroll import Scroll
from trainer.window.kit.style import INK, SHEET, TITLE, WARN, WARN_WASH, Style
from trainer.window.kit.widget import Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

Answer = tuple[str, Look, Callable[[], None]]


class Dialog(Column):
    """A title, a body, and answers. Esc gives the last answer, which never does anything that matters."""

    def __init__(
        self, title: str, body: Sequence[Widget], answers: Sequence[Answer], *, width: float = 460.0
    ) -> None:
        self.wide = width
        self.answers = [Button(words, self._closing(act), look=look) for words, look, act in answers]
        self.escape = answers[-1][2]
        self.body = Scroll(Column(*body, gap=10), grow=1.0)
        super().__init__(
            Paragraph(title, size=TITLE, face=Face.BOLD),
            self.body,
            Row(Spacer(grow=1.0), *self.answers, gap=10),
            label=title,
            gap=14,
            pad=(22, 18),
            fill=SHEET,
            edge=INK,
            line=1.6,
            role="dialog",
        )
        self.keys_help = _("Tab goes from one to the next, Enter takes it, Esc gives the last answer.")

    def _closing(self, act: Callable[[], None]) -> Callable[[], None]:
        def do() -> None:
            root = self.root
            if root is not None:
                root.close_layer(self)
            act()

        return do

    def key(self, event: pygame.event.Event) -> bool:
        """Page up and down move the body, wherever the focus is: an answer lies outside of it."""
        return self.body.key(event)

    def fit(self, style: Style, screen: pygame.Rect) -> None:
        """Take the middle of the screen; called when the layer is laid out."""
        margin = style.px(16)
        width = min(style.px(self.wide), screen.width - 2 * margin)
        height = min(self.measure(style, width)[1], screen.height - 2 * margin)
        place = pygame.Rect(0, 0, width, height)
        place.center = (screen.centerx, screen.centery - (screen.height - height) // 8)
        self.place(style, place)

    def draw(self, pen: Pen) -> None:
        """A shade behind, then the sheet."""
        pen.wash(pen.surface.get_rect(), INK, 96)
        super().draw(pen)


def caution(text: str, do_it: Callable[[], None], not_now: Callable[[], None], words: tuple[str, str, str]) -> Dialog:
    """The question before something that would hurt someone; `words` are title, yes, no. The focus starts on no."""
    title, yes, no = words
    return Dialog(title, [Note(text, WARN, WARN_WASH, sign="⚠")], [(yes, "danger", do_it), (no, "plain", not_now)])
