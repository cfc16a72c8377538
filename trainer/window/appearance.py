"""What a person chose about the window, put to work: size of text, motion, language; written once it has settled."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final

from trainer.window.kit.looks import LOOKS
from trainer.window.kit.root import Root
from trainer.window.languages import take
from trainer.window.preferences import TEXT_SCALES, Keeper, Preferences

SETTLED_S: Final = 0.4
"""Preferences are written when nothing was changed in them for so long [s]."""


class Appearance:
    """Preferences of one window. `prefer` changes them, and what they concern changes at once."""

    def __init__(self, root: Root, keeper: Keeper, on_language: Callable[[], None]) -> None:
        """`on_language` is called when another language is spoken: the screens have to be made again."""
        self.root = root
        self.keeper = keeper
        self.on_language = on_language
        self._settled_s = 0.0
        self._apply()
        self._speak()
        if keeper.trouble:
            root.toast(keeper.trouble, bad=True)

    @property
    def now(self) -> Preferences:
        """What is preferred."""
        return self.keeper.now

    def prefer(self, **changes: Any) -> None:
        """Change preferences by name: they hold at once and are kept for the next start."""
        before = self.now
        self.keeper.take(replace(before, **changes))
        self._settled_s = 0.0
        self._apply()
        if self.now.language != before.language:
            self._speak()
            self.on_language()

    def text_by(self, step: float) -> None:
        """Larger or smaller text, from 100 to 200 %."""
        least, most = TEXT_SCALES
        self.prefer(text_scale=round(max(least, min(self.now.text_scale + step, most)), 2))

    def fit(self, size: tuple[int, int]) -> None:
        """The window has another size [px]; everything grows with a large one."""
        width, height = size
        self.root.resize(size, self.now.text_scale * max(1.0, min(width / 1920, height / 1080)))

    def advance(self, wall_s: float) -> None:
        """Write them once they have settled: a slider that is drawn changes them at every frame."""
        self._settled_s += wall_s
        if self.keeper.unwritten and self._settled_s >= SETTLED_S:
            self._say(self.keeper.write())

    def _apply(self) -> None:
        self.root.calm = self.now.calm
        self.root.dress(LOOKS[self.now.contrast, self.now.colours])
        self.fit(self.root.screen.size)

    def _speak(self) -> None:
        self._say(take(self.now.language))

    def _say(self, trouble: str) -> None:
        if trouble:
            self.root.toast(trouble, bad=True)
