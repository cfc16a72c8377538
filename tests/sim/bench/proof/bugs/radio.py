"""Controllers that take a word they must not take."""

from __future__ import annotations

from sim.controller.ports import RadioWord
from sim.controller.records import Transmitter
from sim.controller.reference import ReferenceController
from sim.controller.turn import Turn


def _says_so_only(turn: Turn, holder: str) -> str:
    turn.note("transmitter", holder, "deleted")
    return ""


class DeletedInNameOnly(ReferenceController):
    """Deleting a holder is noted, and the buttons stay in the memory."""

    breaks, within = "a transmitter that was deleted moves nothing", 10

    instead = (("sim.controller.transmitters:delete", _says_so_only),)


def _takes_every_word(turn: Turn, word: RadioWord, entry: Transmitter) -> bool:
    return True


class NoWindow(ReferenceController):
    """The counter of a word is not looked at."""

    breaks, within = "a copied radio word moves nothing", 10

    instead = (("sim.controller.transmitters:_is_good", _takes_every_word),)
