"""What every page of the folder is: a scrolled column that takes the newest look once a frame."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from sim.world.actions import CATALOGUE
from trainer.language import _
from trainer.window.kit.boxes import Column
from trainer.window.kit.button import Button
from trainer.window.kit.scroll import Scroll
from trainer.window.kit.widget import Widget
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


class Page(Scroll):
    """A page; subclasses fill `body` and keep it up to date in `show`."""

    title = ""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self.body = Column(gap=6)
        super().__init__(self.body, label=self.title)
        self._seen: dict[str, object] = {}

    def show(self, view: View) -> None:
        """Take the newest look; called once a frame while the page is open."""

    def undo(self) -> bool:
        """One step of bookwork back; False where there is none. What was done to the gate is never taken back."""
        return False

    def changed(self, name: str, value: object) -> bool:
        """Whether something looked at differs from the last time."""
        if name in self._seen and self._seen[name] == value:
            return False
        self._seen[name] = value
        return True

    def act(self, words: str, kind: str, help: str = "", **given: object) -> Button:
        """A button that does one action; without a `help` of its own it says what the catalogue does."""
        told = help or first_upper(_(CATALOGUE[kind].help))
        return Button(words, lambda: self._do(kind, given), help=told, acts=(kind,))

    def _do(self, kind: str, given: dict[str, object]) -> None:
        self.hands.do(kind, given)


class Section(Column):
    """A part of a page whose rows are built anew when what they stand for changes."""

    def __init__(self, build: Callable[[], list[Widget]], *heads: Widget, gap: float = 6.0) -> None:
        self.heads = heads
        self.build = build
        super().__init__(*heads, gap=gap)

    def rebuild(self) -> None:
        """Build the rows anew."""
        rows = self.build()
        self.fill_with([*self.heads, *rows] if rows else [])
