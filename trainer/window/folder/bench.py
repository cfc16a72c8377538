"""What is in hand: an instrument, its function, and the two places chosen for its leads. Of the window alone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from trainer.window.words import _

TOOLS: Final = ("multimeter", "two-pole tester", "force gauge", "spring scale")
PROBING: Final = ("multimeter", "two-pole tester")


@dataclass
class Bench:
    """Shared by the pages Cabinet and Instruments."""

    tool: str = "two-pole tester"
    function: str = "volts dc"
    red: str = ""
    black: str = ""

    def put(self, terminal: str, lead: str = "") -> None:
        """A lead goes to a terminal: the one named, else red first, then black, then red again."""
        if not lead:
            lead = "red" if not self.red or (self.red and self.black) else "black"
            if lead == "red":
                self.black = ""
        if lead == "red":
            self.red = terminal
        else:
            self.black = terminal

    @property
    def ready(self) -> bool:
        """Both leads have a place."""
        return bool(self.red and self.black)

    def told(self) -> str:
        """The leads in words."""
        return _("red: {red} · black: {black}").format(red=self.red or "…", black=self.black or "…")
