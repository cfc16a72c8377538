"""The caption strip: what could be heard in the last seconds, in words; what came before is its help."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.kit.style import SMALL, SOFT, Style
from trainer.window.kit.widget import Size, Value, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

STAYS_S: Final = 5.0
"""How long a caption stays [s of wall time]. CP."""

MOST: Final = 3
REMEMBERED: Final = 10
HIGH: Final = 18.0


class CaptionStrip(Widget):
    """One line."""

    role = "captions"

    def __init__(self, grow: float = 1.0) -> None:
        super().__init__(_("sounds"), grow=grow)
        self._fresh: deque[tuple[float, str]] = deque(maxlen=MOST)
        self._heard: deque[str] = deque(maxlen=REMEMBERED)

    @property
    def value(self) -> Value:
        """What is written now."""
        return " · ".join(words for _at, words in self._fresh)

    def hear(self, captions: Sequence[str], now_s: float) -> None:
        """Write what is new at a wall time [s], and let go what is old; called once a frame."""
        for words in captions:
            self._fresh.append((now_s, words))
            self._heard.append(words)
        if captions:
            self.help = _("Heard, newest last: {sounds}.").format(sounds="; ".join(self._heard))
        while self._fresh and now_s - self._fresh[0][0] >= STAYS_S:
            self._fresh.popleft()

    def wish(self, style: Style, width: int) -> Size:
        """A line of small text and the mark before it."""
        return style.px(220), style.px(HIGH)

    def draw(self, pen: Pen) -> None:
        """A small loudspeaker, then the words."""
        if not self._fresh:
            return
        px, y = pen.style.px, self.rect.centery
        x = self.rect.left + px(3)
        horn = [(x, y - px(2)), (x + px(3), y - px(2)), (x + px(7), y - px(6)), (x + px(7), y + px(6))]
        pen.shape([*horn, (x + px(3), y + px(2)), (x, y + px(2))], SOFT, None)
        pen.lines([(x + px(10), y - px(4)), (x + px(12), y), (x + px(10), y + px(4))], SOFT, 1.2)
        words = pygame.Rect(x + px(18), self.rect.top, self.rect.right - x - px(18), self.rect.height)
        pen.text_in(str(self.value), words, SMALL, SOFT)
