"""The words of the window: what buttons of actions say, how times and spans are written. Every sentence it shows goes
through `_` of `trainer.language`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from sim.units import clock_text
from trainer.language import _

ACTIONS: Final[Mapping[str, str]] = {
    "state user group": "Write it down",
    "survey hazard": "Write it down",
    "note": "Write",
    "change note": "Write it anew",
    "strike note": "Strike out",
    "conclude": "Conclude",
    "take back conclusion": "Take back",
    "ask for a hint": "Ask for a hint",
    "predict": "Say what you expect",
    "cordon": "Put up barriers",
    "remove cordon": "Take barriers away",
    "isolate": "Isolate and lock",
    "restore": "Restore the supply",
    "remove battery link": "Pull the battery link",
    "fit battery link": "Fit the battery link",
    "release drive": "Release the drive",
    "engage drive": "Engage the drive",
    "push leaf": "Push by hand",
    "learn travel": "Start travel learning",
    "acknowledge": "Acknowledge",
    "set clock": "Set the clock",
    "reset sheet": "Back to defaults",
    "seal sheet": "Seal the sheet",
    "unseal sheet": "Unseal",
    "enrol transmitter": "Enrol",
    "delete transmitter": "Delete",
    "swap motor leads": "Swap motor leads",
    "unplug": "Unplug",
    "plug in": "Plug in",
    "bridge": "Bridge",
    "remove bridge": "Remove bridge",
    "place body": "Place",
    "remove body": "Take away",
    "hold in hinge gap": "Hold it there",
    "take out of hinge gap": "Take it out",
    "cover beam": "Cover",
    "uncover beam": "Uncover",
    "press edge": "Press",
    "release edge": "Let go",
    "measure": "Measure",
    "place instrument": "Leave it in place",
    "read instrument": "Read",
    "lift instrument": "Take it off",
    "repeat this reading": "Read it again",
    "prove tester": "Prove the tester",
    "test dead": "Test",
    "place probes": "Place the probes",
    "read meter": "Read",
    "lift probes": "Lift the probes",
    "place force gauge": "Set the gauge up",
    "read force gauge": "Store the reading",
    "remove force gauge": "Take the gauge away",
    "hand over": "Hand over",
    "make safe": "Make safe, not repaired",
    "wait until": "Wait until",
    "set": "Write",
    "press": "Press",
    "release": "Let go",
    "jog press": "Jog",
    "jog release": "Let go",
    "press transmitter": "Press",
    "release transmitter": "Let go",
    "wait": "Wait",
}
"""What the button of an action says."""


def action_words(kind: str) -> str:
    """What the button of an action says; the kind itself for one that has no words of its own yet."""
    return _(ACTIONS[kind]) if kind in ACTIONS else first_upper(_(kind))


def first_upper(text: str) -> str:
    """The text with a capital at its beginning, the rest as it is."""
    return text[:1].upper() + text[1:]


def clock(now: int) -> str:
    """The simulated time as the top bar shows it: hours, minutes, seconds, tenths."""
    return clock_text(now)[:-1]


def moment(now: int) -> str:
    """An instant in a list: minutes and seconds (hours before them when there are any)."""
    text = clock_text(now)[:-3]
    if not text.startswith("0:"):
        return text
    return text[3:] if text[2] == "0" else text[2:]


def short_duration(seconds: float) -> str:
    """A span for people: seconds below two minutes, else minutes."""
    return f"{seconds:g} s" if seconds < 120 else f"{seconds / 60:g} min"


def first_sentence(text: str) -> str:
    """The beginning of a text up to its first full stop."""
    end = min((at for mark in ".!?" if (at := text.find(mark)) >= 0), default=len(text) - 1)
    return text[: end + 1].strip()
